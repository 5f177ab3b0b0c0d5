"""The ten lessons: their pages, their designs, and the one mistake of each. Data of `examples/course`.

A page is Markdown: `N.md` for the class, `N-teacher.md` with answers and notes, `N.air` the design, `N.svg` its schematic. The
mistake stands in the teacher's page: rows behind `- ` are replaced by those behind `+ `, each in its place.
"""

import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

from circuit.files import folder

MANY = 10
FIND = "find.air"
"""The design with the mistake in it, as a class gets it."""


class Lesson(NamedTuple):
    """number: from 1. title: without the number. page, teacher: Markdown. design: the rows that it adds. picture: SVG."""

    number: int
    title: str
    page: str
    teacher: str
    design: str
    picture: str


@cache
def lesson(number: int) -> Lesson:
    """A lesson by its number, 1 to MANY."""
    text = {name: (_folder() / name).read_text(encoding="utf-8") for name in (
        f"{number}.md", f"{number}-teacher.md", f"{number}.air", f"{number}.svg")}
    page, teacher, design, picture = text.values()
    return Lesson(number, page.split("\n", 1)[0].partition(": ")[2], page, teacher, design, picture)


def every() -> tuple[Lesson, ...]:
    """All lessons in their order."""
    return tuple(lesson(number) for number in range(1, MANY + 1))


def _folder() -> Path:
    return folder("examples/course")


def mistaken(found: Lesson) -> str:
    """The design with its mistake in it. Raises LookupError where a row to be replaced is not there once."""
    text = found.design.rstrip("\n").split("\n")
    for old, new in changes(found):
        if not old:
            text.append(new)
        elif text.count(old) != 1:
            raise LookupError(f"lesson {found.number}: the row `{old}` stands {text.count(old)} times in the design")
        else:
            text[text.index(old)] = new
    return "\n".join(text) + "\n"


def changes(found: Lesson) -> list[tuple[str, str]]:
    """Rows of the design and what the mistake makes of each; "" for one that comes in."""
    block = re.search(r"^```diff\n(.*?)^```$", found.teacher, re.M | re.S)
    if block is None:
        raise LookupError(f"lesson {found.number} has no mistake")
    rows = block[1].rstrip("\n").split("\n")
    return [(rows[place - 1][2:] if place and rows[place - 1].startswith("- ") else "", row[2:])
            for place, row in enumerate(rows) if row.startswith("+ ")]


def files(found: Lesson, teacher: bool = False) -> dict[str, str | bytes]:
    """What a class gets in a folder, name to content: every design up to this one, the mistake, the page as text and PDF,
    the schematic. teacher: the teacher's notes too. Raises draw.CannotDraw where a library is missing."""
    from circuit.report.course.lesson_paper import printed

    name = f"lesson-{found.number}"
    out: dict[str, str | bytes] = {f"{each.number}.air": each.design for each in every()[:found.number]}
    out |= {FIND: mistaken(found), f"{name}.md": found.page, f"{found.number}.svg": found.picture,
            f"{name}.pdf": printed(found.page, found.picture)}
    if teacher:
        out |= {f"{name}-teacher.md": found.teacher, f"{name}-teacher.pdf": printed(found.teacher)}
    return out
