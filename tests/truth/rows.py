"""Every table in every output that prints it: row by row the same figures and the same words."""

import re
from collections.abc import Iterator, Sequence

from tests.truth.asked import STUDIES, Asked
from tests.truth.printing import Printing, bare, skeleton
from tests.truth.tables import filled

CAPTIONS = {
    "Times to fill": "build-up", "From empty": "filling", "The compressor at work": "duty", "Water": "water",
    "Full applications with the engine off": "applications", "How long the air lasts": "to-half", "On the way": "on-the-way",
    "What is asked of the reserve": "reserve-limits", "Application and release": "response", "Where the time goes": "ways",
    "Brake chambers": "chambers", "Reservoirs": "reservoirs", "Ratios": "ratios", "Air that is filled in": "fills",
    "Leaking down with the engine off": "leaking", "Trials of the design": "trials", "Assumptions": "assumptions",
    "Clause coverage": "clauses", "Single faults, the worst first": "faults",
}
"""What a page calls a table, and what its file is called."""
JOINED = frozenset({"response", "push-rod-force", "camshaft-torque", "brake-torque", "tyre-force"})
"""Tables in which a print puts alike rows together under the names of their places."""
PLACE = {"response": 2}


def rows(asked: Asked) -> Iterator[Printing]:
    """The tables of the studies, the papers and the page."""
    for study in STUDIES:
        tables = {key: found for key, found in asked.tables(study).items() if key != "leans-on"}
        for key, found in tables.items():
            yield from _table(key, filled(found), f"{study} csv")
        for (key, _), shown in zip(tables.items(), asked.printed(study)):
            yield from _table(key, parted(key, shown), f"{study} text")
    for key, found in asked.papers.items():
        yield from _table(key, filled(_then_behind(found) if key == "faults" else found), "papers csv")
    for caption, shown in asked.page_rows[0].items():
        if caption in CAPTIONS:
            yield from _table(CAPTIONS[caption], shown, "page")
    for key, found in asked.tables("check", "--simulate").items():
        own = found if key not in ("clauses", "findings") else \
            [{name: cell for name, cell in row.items() if name != "file"} for row in found if row["file"] == found[0]["file"]]
        yield from _table(key, filled(own), "check csv")


def _then_behind(found: list[dict[str, str]]) -> list[dict[str, str]]:
    """The fault table as the page has it: what comes later in one cell with what is lost."""
    return [{"outcome": row["outcome"],
             "lost": "; ".join(filter(None, (row["lost"].replace(" \u00b7 ", "; "), row.get("is"), row.get("then")))),
             "left": row["left"], "by": row["by which single faults"]} for row in found]


def parted(key: str, shown: Sequence[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """Rows that a print has put together, one by one again."""
    if key not in JOINED:
        return list(shown)
    place = PLACE.get(key, 0)
    return [(*row[:place], each, *row[place + 1:]) for row in shown for each in re.split(r", (?!\d)", row[place])]


def _table(key: str, shown: Sequence[tuple[str, ...]], output: str) -> Iterator[Printing]:
    if key == "faults":
        shown = [(*row[:-1], "; ".join(sorted(single_faults(row[-1])))) for row in shown]
    ordered = sorted(shown, key=lambda row: row[:PLACE.get(key, 0) + 1]) if key in JOINED else shown
    for number, row in enumerate(ordered, 1):
        yield row_printing(key, number, row, output)


def single_faults(cell: str) -> list[str]:
    """Each fault of `pri: burst, leaks; park: leaks` or of `pri: burst, pri: leaks, park: leaks`.

    >>> single_faults("pri: burst, leaks; park: leaks") == single_faults("pri: burst, pri: leaks, park: leaks")
    True
    """
    found, part = [], ""
    for piece in re.split(r"[,;] ", cell):
        head, colon, what = piece.rpartition(": ")
        part = head if colon else part
        found.append(f"{part}: {what}")
    return found


def row_printing(key: str, number: int, row: Sequence[str], output: str) -> Printing:
    """A row as one printing: its figures in their order, its words without them."""
    return Printing(f"row of {key}", str(number), output, tuple(each for cell in row for each in bare(cell)),
                    " | ".join(map(skeleton, row)), exact=True)
