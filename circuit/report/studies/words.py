"""Cells and tables that several studies share."""

from collections.abc import Iterable, Sequence

from circuit.clauses import Clause
from circuit.judging.rule import Result
from circuit.report.table import Table
from circuit.report.words import compared
from circuit.studies.band import Band
from circuit.studies.holding import Held
from circuit.studies.spread import Spread, sampling_error
from circuit.units import shown

DECIDES = ("what", "taken from", "to", "moves it by", "of the scatter %")


def pressure(value: float) -> str:
    return shown(value, "pressure")


def seconds(value: float | None, like: float | None = None) -> str:
    """A bare figure, nothing where it is never reached. like: a figure that it has as many digits as."""
    return "" if value is None else f"{value:.3f}" if abs(like or value) < 10 else f"{value:.1f}"


def spread(band: "Band | Spread") -> tuple[str, str, str]:
    """The middle, the quick and the slow end."""
    return seconds(band.value), seconds(band.quick), seconds(band.slow)


def outcome(met: bool | None, hangs: bool = False, reached: bool = True, advisory: bool = False) -> str:
    """Whether a limit is kept; nothing without one. hangs: it turns within the range.

    >>> outcome(False, hangs=True), outcome(False, reached=False), outcome(True, advisory=True), outcome(None)
    ('not met by most of the range', 'not met, never reached', 'met, a guide', '')
    """
    if met is None:
        return "" if reached else "never reached"
    word = Result.NOT_MET.value + (" by most of the range" if hangs else "")
    if met:
        word = (Result.TURNS if hangs else Result.MET).value
    return word + ("" if reached else ", never reached") + (", a guide" if advisory else "")


MOST_CAUSES = 6
"""Causes that are named of each figure; our choice."""


def of_range(share: float | None, runs: int, reached: bool = True) -> str:
    """Whether a limit is kept, by how many of the vehicles that were drawn; nothing without a limit.

    >>> [of_range(share, 200) for share in (1.0, 0.91, 0.38, 0.0)]
    ['met by all of the range', 'met by most of the range (91 %)', 'not met by most of the range (38 % meet it)', 'not met']
    """
    if share is None or share <= 0.0:
        return outcome(None if share is None else False, reached=reached)
    if share >= 1.0:
        return "met by all of the range" if runs > 1 else outcome(True)
    met = share >= 0.5
    return outcome(met, True) + f" ({_percent(share)}{'' if met else ' meet it'})"


def _percent(share: float) -> str:
    """A share that is neither nothing nor all."""
    return f"{min(99.5, max(0.5, 100 * share)):.3g} %"


def drawn(spread: Spread) -> str:
    """How the vehicles were drawn, once for a table."""
    if spread.runs == 1:
        return "One vehicle alone, with every value as assumed: nothing is said of its range."
    return (f"{spread.runs} plausible vehicles, each value that is not written in the design drawn from its own range: the "
            f"median and where 5 and 95 % of them lie. A share within the limit is off by up to "
            f"{100 * sampling_error(0.5, spread.runs):.1f} points for the number drawn.")


def decides(key: str, title: str, found: Sequence[tuple[str, str, Spread]], assumed: bool) -> tuple[Table, ...]:
    """What decides some figures, the first to be measured first. found: what is done, to what, the figure; s."""
    rows = [(done, to, each.what, each.low, each.high, moved(each.swing), f"{100 * each.share:.0f}")
            for done, to, spread in found for each in spread.causes[:MOST_CAUSES]]
    note = ("By how much the figure changes from the low to the high end of each alone, by least squares over all drawn "
            "vehicles. What stands first is worth measuring first: write what was measured into the design, as one figure or as "
            "a narrower range, and it scatters no more than that.")
    return (Table(key, title, ("done", "place", *DECIDES), tuple(rows), (note,), numbers={*DECIDES[3:]}, wide={"what"},
                  bands=("done", "place"), assumed=assumed),) if rows else ()


def moved(swing: float) -> str:
    """By how many seconds a figure moves."""
    return f"{1e3 * swing:+.0f} ms" if abs(swing) < 10 else f"{swing:+.1f} s"


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


def _held(each: Held) -> str:
    if each.share is None or not each.reached:
        return outcome(each.is_met, reached=each.reached, advisory=each.clause.advisory)
    return of_range(each.share, each.runs) + (", a guide" if each.clause.advisory else "")


def limits(key: str, title: str, held: Sequence[Held]) -> tuple[Table, ...]:
    """Figures with the limits that stand beside them, worst first; no table without any."""
    rows = []
    for each in sorted(held, key=lambda each: each.figure.margin / abs(each.figure.limit)):
        found, limit, spare = compared(each.figure)
        rows.append((each.where, each.figure.what, found if each.reached else "", limit, spare if each.reached else "",
                     _held(each), each.clause.cited, ""))
    table = Table(key, title, ("at", "what", "predicted", "limit", "to spare", "outcome", "asked by", "measured"),
                  tuple(rows), blank={"measured"}, wide={"at", "what", "outcome", "asked by"}, assumed=True)
    return (table,) if rows else ()
