"""The words that a design may use, as far as they help to say what is wrong with a text.

The grammar knows no kinds and no settings. Whoever does hands them in, and they are asked only when something is wrong.
"""

import re
from collections.abc import Callable, Container, Mapping
from typing import NamedTuple


class Vocabulary(NamedTuple):
    """kinds: every word that may begin a statement. settings: for each of them the settings it takes. steps: those of the
    kinds that may begin a statement in the block of another, and nowhere else.

    Either may look things up only when asked. A valid text asks now and then for the settings of one of its own kinds.
    """

    kinds: Container[str]
    settings: Mapping[str, frozenset[str]]
    steps: Container[str] = ()


Known = Vocabulary | Callable[[], Vocabulary] | None
"""How a vocabulary is handed in: ready, to be made when it is first asked for, or not at all."""

_ASSEMBLY = re.compile(r"^[ \t]*assembly[ \t]+([\w-]+)", re.M)


class Lookup:
    """Questions to a vocabulary that may not be there; the assemblies of the text are kinds too."""

    def __init__(self, known: Known, text: str = ""):
        self._known = known
        self._text = text
        self._assemblies: frozenset[str] | None = None
        self._every: frozenset[str] | None = None

    def __bool__(self) -> bool:
        return self._known is not None

    @property
    def _words(self) -> Vocabulary:
        if not isinstance(self._known, Vocabulary):
            self._known = self._known() if self._known else Vocabulary(frozenset(), {})
        return self._known

    def is_kind(self, word: str) -> bool:
        """Whether a statement may begin with this word."""
        if self._assemblies is None:
            self._assemblies = frozenset(_ASSEMBLY.findall(self._text))
        return word in self._assemblies or word.lower() in self._words.kinds

    def is_step(self, word: str) -> bool:
        """Whether a statement of this word stands in a block of steps."""
        return word.lower() in self._words.steps

    def settings(self, kind: str) -> frozenset[str]:
        """The settings of a kind; of one that is not known, an assembly perhaps, every setting there is."""
        found = self._words.settings.get(kind.lower())
        if found is not None:
            return found
        if self._every is None:
            self._every = frozenset().union(*self._words.settings.values())
        return self._every

    def is_setting(self, word: str, kind: str) -> bool:
        """Whether a kind takes a setting of this name."""
        return bool(self._known) and word.lower() in self.settings(kind)
