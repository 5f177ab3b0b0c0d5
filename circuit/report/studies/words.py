"""Cells and tables that several studies share."""

from collections.abc import Iterable, Sequence

from circuit.clauses import Clause
from circuit.judging.rule import Result
from circuit.report.table import Table
from circuit.report.words import compared
from circuit.studies.band import SPREAD, Band
from circuit.studies.holding import Held
from circuit.units import shown

FLOW_BAND = f"Quickest and slowest: valve and tube flow {SPREAD * 100:.0f} % more and {SPREAD * 100:.0f} % less than assumed."


def pressure(value: float) -> str:
    return shown(value, "pressure")


def seconds(value: float | None, like: float | None = None) -> str:
    """A bare figure, nothing where it is never reached. like: a figure that it has as many digits as."""
    return "" if value is None else f"{value:.3f}" if abs(like or value) < 10 else f"{value:.1f}"


def spread(band: Band) -> tuple[str, str, str]:
    """The middle, the quickest and the slowest."""
    return seconds(band.value), seconds(band.quick), seconds(band.slow)


def outcome(met: bool | None, hangs: bool = False, reached: bool = True, advisory: bool = False) -> str:
    """Whether a limit is kept; nothing without one. hangs: it turns within the band.

    >>> outcome(False, hangs=True), outcome(False, reached=False), outcome(True, advisory=True), outcome(None)
    ('not met, though it turns within that range', 'not met, never reached', 'met, a guide', '')
    """
    if met is None:
        return "" if reached else "never reached"
    word = Result.NOT_MET.value + (", though it turns within that range" if hangs else "")
    if met:
        word = (Result.TURNS if hangs else Result.MET).value
    return word + ("" if reached else ", never reached") + (", a guide" if advisory else "")


def turns(band: Band, limit: float | None) -> bool:
    """Whether a limit is kept at one end of a band and not at another."""
    kept = [time is not None and limit is not None and time <= limit for time in band]
    return any(kept) and not all(kept)


def names(every: Iterable[str]) -> str:
    """Some names; many are counted."""
    each = list(every)
    return ", ".join(each[:4]) + (f" and {len(each) - 4} more" if len(each) > 4 else "")


def clauses_of(*some: "Clause | Held | None") -> tuple[Clause, ...]:
    """The clauses among figures that may have one."""
    return tuple(each.clause if isinstance(each, Held) else each for each in some if each is not None)


def limits(key: str, title: str, held: Sequence[Held]) -> tuple[Table, ...]:
    """Figures with the limits that stand beside them, worst first; no table without any."""
    rows = []
    for each in sorted(held, key=lambda each: each.figure.margin / abs(each.figure.limit)):
        found, limit, spare = compared(each.figure)
        rows.append((each.where, each.figure.what, found if each.reached else "", limit, spare if each.reached else "",
                     outcome(each.is_met, reached=each.reached, advisory=each.clause.advisory), each.clause.cited, ""))
    table = Table(key, title, ("at", "what", "predicted", "limit", "to spare", "outcome", "asked by", "measured"),
                  tuple(rows), blank={"measured"}, wide={"at", "what", "outcome", "asked by"}, assumed=True)
    return (table,) if rows else ()
