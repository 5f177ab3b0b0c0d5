"""The design's own trials in words: what is expected, and what comes of it."""

from collections.abc import Iterator

from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.chart import Chart, bar, curve
from circuit.report.studies import words
from circuit.report.studies.words import pressure
from circuit.report.table import Table
from circuit.report.words import clock, count
from circuit.studies.band import SPREAD
from circuit.studies.trials import Outcome, Tried, run_trials
from circuit.units import ATMOSPHERE, shown

KEY, RECORD = "run", tuple[Tried, ...]
_COLUMNS = ("trial", "place", "expected", "outcome", "predicted", "measured")


def account(circuit: Circuit) -> Account:
    found = run_trials(circuit)
    traces = tuple((run.trial.name, run.trace) for run in found if run.trace is not None)
    notes = tuple(dict.fromkeys(note for _, trace in traces for note in trace.notes))
    return Account(KEY, "Trials", circuit, found, (_table(found),), notes=notes, traces=traces,
                   charts=lambda: _charts(circuit, found), is_met=all(run.is_met for run in found))


def _table(runs: tuple[Tried, ...]) -> Table:
    rows = []
    for run in runs:
        if run.trace is None:
            rows.append((run.trial.name, "", "", "not run", f"{run.why} ({run.span})", ""))
        rows += [(run.trial.name, each.place, asked(each), outcome(each), came(each), "") for each in run.outcomes]
    met = sum(each.met is True for run in runs for each in run.outcomes)
    held = sum(len(run.outcomes) for run in runs)
    unrun = sum(run.trace is None for run in runs)
    notes = (f"{count(len(runs), 'trial')}, {count(held, 'expectation')}: {met} met, {held - met} not"
             + (f"; {count(unrun, 'trial')} could not be run" if unrun else "") + ". Written into the design and played.",
             f"The whole band: valve and tube flow {SPREAD * 100:.0f} % less and {SPREAD * 100:.0f} % more than assumed.")
    return Table("trials", "Trials of the design", _COLUMNS, tuple(rows),
                 notes if runs else ("There is no trial in this design.",), {"measured"},
                 wide={"expected", "predicted", "outcome"}, bands=("trial",), assumed=bool(rows))


def outcome(each: Outcome) -> str:
    """Met or not, and whether that turns within the band."""
    return "unknown" if each.met is None else words.outcome(each.met, each.hangs)


def asked(each: Outcome) -> str:
    """`at least 60.0 psi (4.14 bar) within 0.45 s`"""
    what = (f"state {each.state}" if each.state else
            f"at {'least' if each.at_least else 'most'} {pressure(each.limit or ATMOSPHERE)}")
    when = {"within": f" within {each.within:g} s", "until": f" until {each.step.settings['until'] or 0:g} s",
            "end": " at the end"}
    return what + when[each.kind]


def came(each: Outcome) -> str:
    """What came of it, with the margin."""
    if each.met is None:
        return each.why
    extreme = "" if each.value is None else f"{pressure(each.value)}"
    if each.kind == "within":
        reach = f"reached after {clock(each.time)}" if each.time is not None else "not reached"
        margin = each.margin
        if margin is not None:
            reach += f", {abs(margin):.3f} s {'to spare' if margin >= 0 else 'too late'}"
        if each.met or not extreme:
            return reach
        return f"{extreme} by then; {reach}"
    word = "lowest" if each.at_least else "highest"
    text = (f"{word} {extreme}" if each.kind == "until" else extreme) or ("so" if each.met else "not so")
    if each.margin is not None:
        text += f", {shown(abs(each.margin), 'difference')} {'to spare' if each.margin >= 0 else 'missed'}"
    if each.time is not None:
        text += f"; from {clock(each.time)} on"
    return text


def _charts(circuit: Circuit, runs: tuple[Tried, ...]) -> Iterator[tuple[str, Chart]]:
    """The places that each trial expects something of; none for one that was not run or looks at no pressure."""
    for run in runs:
        places = dict.fromkeys(each.place for each in run.outcomes if each.value is not None)
        if run.trace is not None and places:
            moments = tuple((step.settings["at"], f"{step.action} {' and '.join(step.names)}") for step in run.trial.steps
                            if step.settings.get("at") is not None)
            levels = tuple(dict.fromkeys((bar(o.limit), f"at {'least' if o.at_least else 'most'} {bar(o.limit):.2f} bar")
                                         for o in run.outcomes if o.limit is not None))
            yield run.trial.name, Chart(
                f"{run.trial.name}: {circuit.vehicle.title}", "predicted", "time, s", "pressure, bar above atmosphere",
                tuple(curve(run.trace, place, place) for place in places), levels, moments)
