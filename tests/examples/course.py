"""The pages of the course with the rows that their commands print today, after a change of figures.

Run as `python -m tests.examples.course`: under each `$ airwright ...` every row is replaced by the row that the command prints
now and that is most like it, in the same order. Read what changed: a sentence beside it may have to change too.
"""

from difflib import SequenceMatcher

from circuit.report.course.lesson_paper import blocks
from tests.examples.test_course import COURSE, LESSONS, said


def alike(old: str, new: str) -> float:
    return SequenceMatcher(None, " ".join(old.split()), " ".join(new.split()), autojunk=False).ratio()


def refreshed(page: str) -> str:
    """The page with fresh rows."""
    for block in blocks(page):
        if block[0] != "```" or block[1].startswith("$ airwright report "):
            continue
        left = [row.rstrip() for row in said(block[1].removeprefix("$ airwright ")).splitlines()]
        rows = []
        for row in block[2:-1]:
            place = max(range(len(left)), key=lambda at: (alike(row, left[at]), -at))
            rows.append(left[place])
            left = left[place + 1:]
        page = page.replace("\n".join(block), "\n".join([*block[:2], *rows, block[-1]]))
    return page


if __name__ == "__main__":
    for each in LESSONS:
        for name, text in ((f"{each.number}.md", each.page), (f"{each.number}-teacher.md", each.teacher)):
            (COURSE / name).write_text(refreshed(text), encoding="utf-8")
