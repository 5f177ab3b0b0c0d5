"""What the studies of motion say, as tables; where a study has no answer for a circuit the paper says why."""

from circuit.model.circuit import Circuit
from circuit.report import studies
from circuit.report.table import Table
from circuit.report.study_words import FLOW_BAND
from circuit.report.words import listed
from circuit.studies.band import Band
from circuit.studies.hands import CannotAsk
from circuit.studies.pathway import TELLS, Feed
from circuit.studies.respond import Timed, respond, worth_a_way
from circuit.studies.trials import run_trials
from circuit.units import shown

Sets = tuple[str, ...]
"""Names of rule sets to hold the figures to; the design's own where there are none."""

_TIMES = ("done", "place", "time s", "quickest s", "slowest s", "limit s", "margin s", "outcome", "asked by",
          "measured s")


def response(circuit: Circuit, sets: Sets = ()) -> Table:
    """Application and release of every chamber, worst first."""
    title = "Application and release"
    try:
        found = respond(circuit, sets)
    except CannotAsk as reason:
        return silent("response", title, _TIMES, reason)
    rows, marks = [], []
    for done, times in (("apply", found.applied), ("release", found.released)):
        for timed in times:
            rows.append((done, timed.name, seconds(timed.time.value), *band(timed.time), seconds(timed.limit),
                         seconds(timed.margin), outcome(timed), timed.clause.cited if timed.clause else "", ""))
            marks.append((timed.name,) if timed.name in circuit.by_name else ())
    target = shown(found.target, "pressure") if found.target is not None else \
        f"{found.share * 100:.0f} % of the final pressure"
    notes = [f"Application to {target} from {shown(found.start, 'pressure')} in the reservoirs; predicted by simulation, "
             "worst first. A margin below 0 is too slow.", sentence(FLOW_BAND), *map(sentence, found.notes)]
    if not found.complete:
        notes.append("A run fell short of the accuracy asked for: nothing here is to be relied on.")
    return Table("response", title, _TIMES, tuple(rows), tuple(notes), frozenset({"measured s"}),
                 frozenset({"time s", "quickest s", "slowest s", "limit s", "margin s"}), frozenset({"place"}),
                 assumed=bool(found.assumed), marks=tuple(marks))


def ways(circuit: Circuit, sets: Sets = ()) -> Table:
    """What each part costs on the way to the slowest place, and to every place that is late."""
    title, columns = "Where the time goes", ("done", "to", "part", "costs ms", "feed of that part", "feed costs ms")
    try:
        found = respond(circuit, sets)
    except CannotAsk as reason:
        return silent("ways", title, columns, reason)
    rows = tuple((done, timed.name, leg.part, f"{round(1e3 * leg.costs)}", *_feed(leg.feed))
                 for done, times in (("apply", found.applied), ("release", found.released))
                 for timed in worth_a_way(times) for leg in timed.path.legs)
    return Table("ways", title, columns, rows,
                 ("From the pedal or the rig to the slowest place and to every place that is late; predicted. A part takes "
                  "the time between the same share of their own change at its two ends. What the feed of a valve costs is of "
                  "the whole: how much sooner the place would have its pressure, did that feed resist next to nothing.",),
                 numbers=frozenset({"costs ms", "feed costs ms"}), wide=frozenset({"part", "feed of that part"}),
                 bands=("done", "to"), assumed=bool(found.assumed))


def _feed(feed: Feed | None) -> tuple[str, str]:
    if feed is None or feed.costs < TELLS:
        return "", ""
    return listed(feed.parts), f"{round(1e3 * feed.costs)}"


def trials(circuit: Circuit) -> Table:
    """What the design itself expects, and what comes of it."""
    rows = []
    for run in run_trials(circuit):
        if run.trace is None:
            rows.append((run.trial.name, "", "", "not run", run.why, ""))
        for each in run.outcomes:
            met = {True: "met", False: "not met", None: "unknown"}[each.met]
            rows.append((run.trial.name, each.place, studies.asked(each), met, studies.found(each), ""))
    return Table("trials", "Trials", ("trial", "place", "expected", "outcome", "predicted", "measured"), tuple(rows),
                 ("Written into the design and played by simulation; predicted.",) if rows else (),
                 frozenset({"measured"}), wide=frozenset({"expected", "predicted"}), bands=("trial",),
                 assumed=bool(rows and circuit.assumed))


def outcome(timed: Timed) -> str:
    """Whether a time keeps its limit, and whether that holds over the whole band."""
    if timed.is_met is None:
        return ""
    if timed.hangs:
        return "met, but not over the whole band" if timed.is_met else "not met, though not over the whole band"
    return "met" if timed.is_met else "not met"


def silent(key: str, title: str, columns: tuple[str, ...], why: object) -> Table:
    """A table without rows that says why it has none."""
    return Table(key, title, columns, (), (f"Not predicted: {why}.",))


def band(found: Band) -> tuple[str, str]:
    return seconds(found.quick), seconds(found.slow)


def seconds(value: float | None) -> str:
    return "" if value is None else f"{value:.3f}" if abs(value) < 10 else f"{value:.1f}"


def sentence(words: str) -> str:
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")
