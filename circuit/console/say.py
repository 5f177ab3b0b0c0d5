"""How commands speak: exit statuses, colour, complaints, and what keeps a design from being read."""

import os
import sys

TYPE_CHECKING = False  # as typing has it, which `--help` does not wait for
if TYPE_CHECKING:
    from circuit.report.terminal import Paint

CLEAN, FINDINGS, UNREADABLE, OUR_FAULT = 0, 1, 2, 3


def wants_colour(wish: str = "auto") -> bool:
    """Whether to colour: as the terminal wants it, or `always` or `never`."""
    if wish != "auto":
        return wish == "always"
    return sys.stdout.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb"


def paint(wish: str = "auto") -> "Paint":
    """Colour, where the terminal wants it."""
    from circuit.report.terminal import Paint

    return Paint(wants_colour(wish))


def say(words: str) -> None:
    """One line on the error stream."""
    print(f"airwright: {words}", file=sys.stderr)


class Telling:
    """Says on the error stream what is being done, once all of it takes longer than `patience`, s.

    A context manager; called with what is done next.
    """

    def __init__(self, patience: float = 2.0) -> None:
        from threading import Timer

        self._doing = ""
        self._waits = True
        self._timer = Timer(patience, self._begin)
        self._timer.daemon = True

    def __enter__(self) -> "Telling":
        self._timer.start()
        return self

    def __exit__(self, *trouble: object) -> None:
        self._timer.cancel()

    def __call__(self, doing: str) -> None:
        self._doing = doing
        if not self._waits:
            say(f"{doing} ...")

    def _begin(self) -> None:
        self._waits = False
        if self._doing:
            say(f"{self._doing} ...")


def complain(words: str) -> int:
    """One line on the error stream; returns the status for unreadable input or usage."""
    say(words)
    return UNREADABLE


def show_mistakes(unreadable: Exception) -> int:
    """Everything that keeps a design from being read, on the error stream."""
    from circuit.mistake import Unreadable
    from circuit.report import terminal

    assert isinstance(unreadable, Unreadable)
    print(terminal.mistakes(unreadable.mistakes, paint()), end="", file=sys.stderr)
    return UNREADABLE


def is_free(target: str, force: bool) -> bool:
    """Whether a file may be written: it is not there yet, or `--force` was given, and its folder takes files. Complains where
    it may not."""
    from circuit.writing import refusal

    if os.path.exists(target) and not force:
        complain(f"{target} is there already: choose another name, or write --force to replace it")
        return False
    if why := refusal(target):
        complain(why)
        return False
    return True
