"""Designs on a desk for tests, with a mark where the cursor stands."""

from circuit.editor.desk import Desk
from tests.designs import EXAMPLES, example_text

TRUCK = str(EXAMPLES / "truck-6x4" / "design.air")


def desk_with(path: str, text: str) -> Desk:
    desk = Desk(gated=False)
    desk.put(path, text)
    return desk


def at_cursor(name: str, old: str, new: str) -> tuple[Desk, str, int, int]:
    """An example with a piece replaced; `|` in the new one is the cursor: its line and column, from 1."""
    path, text = str(EXAMPLES / name / "design.air"), example_text(name)
    assert text.count(old) == 1, old
    text = text.replace(old, new)
    before = text[:text.index("|")]
    return desk_with(path, text.replace("|", "", 1)), path, before.count("\n") + 1, len(before) - before.rfind("\n")
