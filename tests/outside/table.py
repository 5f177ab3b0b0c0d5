"""The validation table: what stands beside an outside value, and the page VALIDATION.md that shows all of it.

A test asks for the fixture `table`, names its judge, and gives each quantity to it. That holds our value to the outside
one and to the page as committed: the page has to have just this row, so it cannot go stale.
"""

import ast
import re
from collections.abc import Callable
from math import floor, isfinite, log10
from pathlib import Path
from typing import NamedTuple

HERE = Path(__file__).parent
PAGE = HERE / "VALIDATION.md"
COMMAND = 'pytest tests/outside -m "" --write-table'
BASES = {
    "closed form": "exact solutions of the model's own equations, derived by hand; they judge the integrator and the "
    "code, not the model",
    "library": "another library's formula or data for the same quantity",
    "solver": "the same equations written a second time and given to a solver that is not ours",
    "theory": "a formula of physics that the program does not use itself",
    "measured": "a measurement, by the figures that the source gives",
    "published": "a figure printed in a public document that was read; the source says which",
    "common practice": "a rule of the trade without a document: a soft bound",
    "from memory": "a figure remembered, its document not read again: a soft bound, never a proof",
    "principle": "what must be so whatever the numbers are: no air made or lost, nothing above its sources, left as "
    "right",
}
HEAD = "| quantity | outside | ours | difference | allowed | judged by | test |"


class Row(NamedTuple):
    """One comparison. limit: what may lie between, in the unit, or in per cent of the outside value if `percent`."""

    quantity: str
    outside: float
    ours: float
    unit: str
    limit: float
    percent: bool
    basis: str
    source: str

    @property
    def allowed(self) -> float:
        """What may lie between the two values, in the unit."""
        return abs(self.outside) * self.limit / 100 if self.percent else self.limit

    @property
    def moves(self) -> float:
        """How far a value may stand from the page, in the unit."""
        return min(self.allowed / 4, 0.002 * abs(self.outside)) if self.outside else self.allowed / 4

    def cells(self, test: str) -> list[str]:
        apart = self.ours - self.outside
        share = f"{100 * apart / self.outside:+.2g} %" if self.percent else f"{apart:+.2g} {self.unit}"
        if abs(apart) < 1e-3 * self.allowed:
            share = "none"  # what is left is rounding, another on each machine
        return [
            self.quantity,
            f"{self.outside:.6g} {self.unit}".strip(),
            f"{self.ours:.6g} {self.unit}".strip(),
            share.strip(),
            f"{self.limit:g} {'%' if self.percent else self.unit}".strip(),
            f"{self.basis}: {self.source}",
            test.removeprefix("test_").replace("_", " "),
        ]


class Sheet:
    """The rows of one test."""

    def __init__(self) -> None:
        self.rows: list[Row] = []

    def against(self, basis: str, source: str) -> Callable[..., None]:
        """What takes quantities that one judge judges."""
        assert basis in BASES, f"`{basis}` is no basis: " + ", ".join(BASES)

        def hold(
            quantity: str,
            *,
            outside: float,
            ours: float,
            unit: str = "",
            within: float | None = None,
            percent: float | None = None,
        ) -> None:
            """Hold a value to an outside one, `within` so much in the unit or `percent` of it, and keep the row."""
            assert (within is None) != (percent is None), "give either `within` or `percent`"
            limit = within if percent is None else percent
            row = Row(quantity, float(outside), float(ours), unit, float(limit), within is None, basis, source)
            assert "|" not in "".join(row.cells("")) and isfinite(row.ours), row
            assert abs(row.ours - row.outside) <= row.allowed, f"{row.cells('')} is too far apart"
            assert quantity not in {known.quantity for known in self.rows}, f"`{quantity}` is there twice"
            self.rows.append(row)

        return hold


def stale(rows: list[Row], page: list[list[str]], test: str) -> list[str]:
    """What the page says otherwise of a test's rows: a row that only one of them has, or a value that has moved.

    A value may differ by a rounding in the last place, and by a quarter of what the row allows or 0.2 % if that is
    less: other machines add up in another order.
    """
    known = {cells[0]: cells for cells in page}
    found = [f"`{gone}` is on the page only" for gone in known if gone not in {row.quantity for row in rows}]
    for row in rows:
        cells, now = known.get(row.quantity), row.cells(test)
        if cells is None:
            found.append(f"`{row.quantity}` is not on the page")
        elif (cells[0], *cells[4:]) != (now[0], *now[4:]):
            found.append(f"`{row.quantity}` has other words on the page")
        elif not all(_near(cells[n], value, row.moves) for n, value in ((1, row.outside), (2, row.ours))):
            found.append(f"`{row.quantity}`: {cells[1]} and {cells[2]} on the page, now {now[1]} and {now[2]}")
    return found


def _near(printed: str, value: float, slack: float) -> bool:
    shown = float(printed.split(" ")[0])
    rounding = 1.5 * 10.0 ** (floor(log10(abs(shown))) - 5) if shown else 0.0
    return abs(shown - value) <= slack + rounding


def read(page: str) -> dict[tuple[str, str], list[list[str]]]:
    """The rows of a page: (file, test) to the cells of each."""
    found: dict[tuple[str, str], list[list[str]]] = {}
    file = ""
    for line in page.split("\n"):
        if heading := re.match(r"## .*\(`(test_\w+\.py)`\)", line):
            file = heading[1]
        elif file and line.startswith("| ") and line != HEAD:
            cells = line[2:-2].split(" | ")
            found.setdefault((file, "test_" + cells[-1].replace(" ", "_")), []).append(cells)
    return found


def committed() -> dict[tuple[str, str], list[list[str]]]:
    return read(PAGE.read_text(encoding="utf-8")) if PAGE.exists() else {}


def judged() -> list[tuple[str, str]]:
    """(file, test) of every test of this folder that takes the table, as they stand in the files."""
    found = []
    for path in sorted(HERE.glob("test_*.py")):
        for node in ast.parse(path.read_text(encoding="utf-8")).body:
            if (
                isinstance(node, ast.FunctionDef)
                and node.name.startswith("test_")
                and "table" in [given.arg for given in node.args.args]
            ):
                found.append((path.name, node.name))
    return found


def written(rows: dict[tuple[str, str], list[list[str]]]) -> str:
    """The page."""
    everything = [cells for some in rows.values() for cells in some]
    counts = {basis: sum(cells[5].startswith(basis + ":") for cells in everything) for basis in BASES}
    lines = [
        "# Validation table",
        "",
        f"What Airwright predicts beside {len(everything)} values from outside. Written by `{COMMAND}`, never by "
        "hand; each row is held by the test in its last column, in the file of its heading, and a test run fails where "
        "this page and the program have come apart.",
        "",
        "Read a row so: *outside* is the value that judges, *ours* what the program gives, *allowed* how far the two "
        "may lie apart before the test fails; a difference of *none* is less than a thousandth of that. Times are from "
        "the first movement, pressures absolute unless a row says gauge.",
        "",
        "A row judges what it names and nothing more: the parts of a real vehicle scatter by far more than most of "
        "these differences, and none of this replaces a measurement on one. No published record of a whole vehicle's "
        "pressures over time was at hand to hold a run against. One remembered record is no row, for its valve and "
        "lines are not known here: a chamber of type 20 on a university's test bench, behind a foot valve, was at rest "
        "after 0.5 to 1 s; ours takes 0.4 s behind typical parts.",
        "",
        "| judged by | what it is | rows |",
        "|---|---|---|",
        *(f"| {basis} | {meaning} | {counts[basis]} |" for basis, meaning in BASES.items()),
        "",
    ]
    for file in sorted({file for file, _ in rows}):
        title = (ast.get_docstring(ast.parse((HERE / file).read_text(encoding="utf-8"))) or "").split("\n")[0]
        lines += [f"## {title.rstrip('.')} (`{file}`)", "", HEAD, "|---|---|---|---|---|---|---|"]
        lines += [f"| {' | '.join(cells)} |" for key in judged() if key[0] == file for cells in rows.get(key, [])]
        lines.append("")
    return "\n".join(lines)
