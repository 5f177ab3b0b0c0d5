"""Words and tables that all studies share."""

import textwrap
from collections.abc import Iterable, Sequence

from circuit.clauses import Clause
from circuit.model.circuit import Circuit
from circuit.report.words import CAUTION
from circuit.judging.assumed import Assumed
from circuit.studies.band import SPREAD, Band
from circuit.studies.holding import Held
from circuit.units import shown

WIDTH = 118
NO_LIMIT = "no limit stands beside these figures: no clause of the sets named is held to them here"
FLOW_BAND = f"band: valve and tube flow {SPREAD * 100:.0f} % less and {SPREAD * 100:.0f} % more than assumed"


def table(rows: Sequence[Sequence[str]], indent: int = 2) -> list[str]:
    """Columns as wide as their widest cell; the first row is the heading."""
    widths = [max(len(row[place]) for row in rows) for place in range(len(rows[0]))]
    lines = [" " * indent + "  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip() for row in rows]
    return [lines[0], " " * indent + "-" * (len(lines[0]) - indent), *lines[1:]]


def pressure(value: float) -> str:
    return shown(value, "pressure")


def clock(seconds: float | None) -> str:
    """Seconds as people say them: `0.404 s`, `24.0 s`, `7 min 40 s`, `not reached`.

    >>> clock(0.4041), clock(24.04), clock(460.0), clock(None)
    ('0.404 s', '24.0 s', '7 min 40 s', 'not reached')
    """
    if seconds is None:
        return "not reached"
    if seconds < 10:
        return f"{seconds:.3f} s"
    if seconds < 120:
        return f"{seconds:.1f} s"
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes < 60 else f"{minutes // 60} h {minutes % 60} min"


def between(band: Band) -> str:
    return f"{clock(band.quick)} to {clock(band.slow)}"


def head(title: str, circuit: Circuit) -> list[str]:
    vehicle = circuit.vehicle
    return [f"{title}: {vehicle.title}  ({vehicle.vehicle_class}, {circuit.source.name})", "predicted, not measured",
            ""]


def tail(assumed: Iterable[Assumed], notes: Iterable[str]) -> list[str]:
    lines: list[str] = []
    rows = [("typical values these figures lean on", "setting", "taken as", "from")]
    rows += [(each.part, each.setting, each.value, each.source) for each in assumed]
    if len(rows) > 1:
        lines += ["", *table(rows, 0)]
    lines.append("")
    short = [note for note in notes if note.startswith("stopped")]
    if short:
        lines += [f"NOT COMPLETE, so nothing here is to be relied on: {short[0]}", ""]
    for note in dict.fromkeys(notes):
        lines += textwrap.wrap(f"- {note}", WIDTH, subsequent_indent="  ")
    return [*lines, "", *textwrap.wrap(CAUTION, WIDTH)]


def cited(clauses: Iterable[Clause | None]) -> list[str]:
    found = {clause.key: clause for clause in clauses if clause is not None}
    lines = []
    for clause in found.values():
        known = ", ".join(dict.fromkeys(p for p in (clause.basis, clause.source) if p))
        lines += textwrap.wrap(f"asked by {clause.cited}: {clause.asks} [{known}]", WIDTH, subsequent_indent="  ")
    return lines


def page(lines: Iterable[str]) -> str:
    """Lines as a text, no two blank ones behind each other."""
    kept: list[str] = []
    for line in lines:
        if line.strip() or (kept and kept[-1]):
            kept.append(line.rstrip())
    return "\n".join(kept) + "\n"


def names(all_names: Iterable[str]) -> str:
    each = list(all_names)
    return ", ".join(each[:4]) + (f" and {len(each) - 4} more" if len(each) > 4 else "")


def held(held: Sequence[Held]) -> list[str]:
    """Figures with the limits that stand beside them, worst first."""
    whats = {each.figure.what for each in held}
    rows = [("at", "what", "found", "limit", "to spare", "", "asked by")]
    for each in sorted(held, key=lambda each: each.figure.margin / abs(each.figure.limit)):
        figure = each.figure
        said = quantity(figure.found, figure.dimension) if each.reached else "not reached"
        word = "met" if each.is_met else "missed" if each.clause.advisory else "NOT MET"
        spare = quantity(abs(figure.margin), "difference" if figure.dimension == "pressure" else figure.dimension)
        rows.append((each.where, figure.what, said, quantity(figure.limit, figure.dimension),
                     f"{'+' if figure.margin >= 0 else '-'}{spare}" if each.reached else "-",
                     word + (", a guide" if each.clause.advisory else ""), each.clause.cited))
    shown = [(row[0], *row[2:]) for row in rows] if whats == {"time"} else rows
    return [*table(shown), ""] if len(rows) > 1 else []


def quantity(value: float, dimension: str) -> str:
    """As `shown`, times as people say them."""
    return clock(value) if dimension == "time" else shown(value, dimension)


def unheld(*limits: float | None) -> list[str]:
    """Said where nothing limits a study's figures."""
    return [] if any(limit is not None for limit in limits) else [NO_LIMIT]
