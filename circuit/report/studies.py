"""What the studies found, as tables for people: trials and response here, the rest beside it."""

from collections.abc import Sequence

from circuit.model.circuit import Circuit
from circuit.report.asides import forces, leak_down, water
from circuit.report.reservoirs import charge, reserve
from circuit.report.study_words import (
    FLOW_BAND,
    between,
    cited,
    clock,
    head,
    held,
    names,
    page,
    pressure,
    table,
    tail,
    unheld,
)
from circuit.report.words import count, listed
from circuit.studies.pathway import NEARLY, TELLS
from circuit.studies.respond import Response, Timed, worth_a_way
from circuit.studies.trials import Outcome, Tried
from circuit.units import ATMOSPHERE, shown

# --- trials -------------------------------------------------------------------------------------------------------


def trials(circuit: Circuit, runs: Sequence[Tried]) -> str:
    """Every trial with what was expected of it."""
    lines = head("Trials", circuit)
    if not runs:
        return page([*lines, "there is no trial in this design"])
    for run in runs:
        if run.trace is None:
            lines += [f"{run.trial.name}: NOT RUN", f"  {run.span}", f"  {run.why}", ""]
            continue
        verdict = "met" if run.is_met else "NOT MET"
        lines.append(f"{run.trial.name}: {verdict}")
        for outcome in run.outcomes:
            word = {True: "met    ", False: "NOT MET", None: "unknown"}[outcome.met]
            hangs = "; but not over the whole band" if outcome.hangs else ""
            lines.append(f"  {word}  {outcome.place}: {asked(outcome)}; {found(outcome)}{hangs}")
        lines.append("")
    held = [outcome for run in runs for outcome in run.outcomes]
    met = sum(outcome.met is True for outcome in held)
    unrun = sum(run.trace is None for run in runs)
    lines.append(f"{count(len(runs), 'trial')}, {count(len(held), 'expectation')}: {met} met, {len(held) - met} not"
                 + (f"; {count(unrun, 'trial')} could not be run" if unrun else ""))
    notes = [note for run in runs if run.trace is not None for note in run.trace.notes]
    return page([*lines, FLOW_BAND, *tail((), notes)])


def asked(outcome: Outcome) -> str:
    """`at least 60.0 psi (4.14 bar) within 0.45 s`"""
    settings = outcome.step.settings
    what = (f"state {outcome.state}" if outcome.state else
            f"at {'least' if outcome.at_least else 'most'} {pressure(outcome.limit or ATMOSPHERE)}")
    when = {"within": f" within {outcome.within:g} s", "until": f" until {settings['until'] or 0:g} s",
            "end": " at the end"}
    return what + when[outcome.kind]


def found(outcome: Outcome) -> str:
    """What came of it, with the margin."""
    if outcome.met is None:
        return outcome.why
    extreme = "" if outcome.value is None else f"{pressure(outcome.value)}"
    if outcome.kind == "within":
        reach = f"reached after {clock(outcome.time)}" if outcome.time is not None else "not reached"
        margin = outcome.margin
        if margin is not None:
            reach += f", {abs(margin):.3f} s {'to spare' if margin >= 0 else 'too late'}"
        if outcome.met or not extreme:
            return reach
        return f"{extreme} by then; {reach}"
    word = "lowest" if outcome.at_least else "highest"
    text = (f"{word} {extreme}" if outcome.kind == "until" else extreme) or ("so" if outcome.met else "not so")
    if outcome.margin is not None:
        text += f", {shown(abs(outcome.margin), 'difference')} {'to spare' if outcome.margin >= 0 else 'missed'}"
    if outcome.time is not None:
        text += f"; from {clock(outcome.time)} on"
    return text


# --- response -----------------------------------------------------------------------------------------------------


def response(found: Response) -> str:
    """Application and release times, worst first, and what the worst way costs."""
    lines = head("Response of the service brakes", found.circuit)
    what = (f"to {pressure(found.target)}" if found.target is not None else
            f"to {found.share * 100:.0f} % of the final pressure")
    hand = "fed by the test rig" if found.circuit.is_towed else f"pedal down in {found.foot:g} s"
    lines += [f"Application {what}, from {pressure(found.start)} in the reservoirs, {hand}", ""]
    lines += _times(found.applied)
    if found.released and found.lets_go_from is not None:
        lines += ["", f"Release to 5 psi, from {pressure(found.lets_go_from)} in the lowest chamber", ""]
        lines += _times(found.released)
    lines += ["", FLOW_BAND]
    if not found.complete:
        lines.append("a run fell short of its accuracy: see the notes")
    if found.balance is not None:
        lines += ["", "control line, input against output", "", *held((found.balance,))]
    lines += cited((*(timed.clause for timed in (*found.applied, *found.released)),
                    found.balance.clause if found.balance else None))
    lines += unheld(*(timed.limit for timed in found.applied))
    return page([*lines, *tail(found.assumed, found.notes)])


def _times(rows: Sequence[Timed]) -> list[str]:
    cells = [("place", "time", "band", "limit", "to spare", "")]
    for group in alike(rows):
        timed = group[0]
        remark = "" if timed.limit is None else "NOT MET" if not timed.is_met else "met"
        if timed.hangs:
            remark += ", but not over the whole band" if timed.is_met else ", though not over the whole band"
        cells.append((names(each.name for each in group), clock(timed.time.value), between(timed.time),
                      "-" if timed.limit is None else f"{timed.limit:.2f} s",
                      "-" if timed.margin is None else f"{timed.margin:+.3f} s", remark))
    lines = table(cells)
    told = worth_a_way(rows)
    for group in alike(rows):
        if group[0] in told:
            lines += ["", *_way(group, len(told) > 1)]
    return lines


def _way(group: Sequence[Timed], several: bool) -> list[str]:
    """What each part costs on the way to places that are alike, the first of them in figures."""
    path, never = group[0].path, group[0].time.value is None
    those = names([each.name for each in group] if several else [group[0].name])
    lines = [f"  the way to {those}, in ms" + (f", to {100 * NEARLY:.0f} % of what comes" if never else "")]
    for leg in path.legs:
        feed = f"; its feed, {listed(leg.feed.parts)}, costs {1e3 * leg.feed.costs:.0f} of the whole" if (
            leg.feed and leg.feed.costs >= TELLS) else ""
        lines.append(f"  {round(1e3 * leg.costs):>6}  {leg.part}{feed}")
    if path.length:
        lines.append(f"  {'':>6}  and about {1e3 * path.sound:.0f} ms for the front itself over "
                     f"{path.length:.1f} m of line, which is in none of these times")
    return lines


def alike(rows: Sequence[Timed]) -> list[list[Timed]]:
    """Neighbours with the same times as printed and the same limit: left and right."""
    groups: list[list[Timed]] = []
    for timed in rows:
        last = groups[-1][0] if groups else None
        if last is not None and [*map(clock, last.time)] == [*map(clock, timed.time)] and last.limit == timed.limit:
            groups[-1].append(timed)
        else:
            groups.append([timed])
    return groups


__all__ = ["alike", "asked", "charge", "clock", "forces", "found", "leak_down", "names", "reserve", "response",
           "trials", "water"]
