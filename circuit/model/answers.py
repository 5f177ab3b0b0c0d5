"""What has been worked out of one circuit in this process, kept with it so that nothing is asked twice."""

from collections.abc import Callable, Hashable
from typing import TypeVar

Kept = TypeVar("Kept")


class Answers:
    """Questions to answers. A circuit that is changed begins with none."""

    def __init__(self) -> None:
        self._found: dict[Hashable, object] = {}

    @property
    def questions(self) -> tuple[Hashable, ...]:
        """What was asked, in the order in which it was answered."""
        return tuple(self._found)

    def once(self, question: Hashable, work: Callable[[], Kept]) -> Kept:
        """What `work` gives, or gave when the question was asked before; what it raises is not kept."""
        if question not in self._found:
            self._found[question] = work()
        found: Kept = self._found[question]  # type: ignore[assignment]
        return found
