"""What the studies found, as tables for people."""

import textwrap
from collections.abc import Iterable, Sequence

from circuit.clauses import Clause
from circuit.model.circuit import Circuit
from circuit.report.words import CAUTION, count
from circuit.studies.band import SPREAD, Assumed, Band
from circuit.studies.charge import SCATTER, Charge
from circuit.studies.force import Forces
from circuit.studies.knobs import NOTHING, named
from circuit.studies.leak_down import LeakDown
from circuit.studies.reserve import COUNTED, Reserve
from circuit.studies.respond import Response, Timed
from circuit.studies.trials import Outcome, Run
from circuit.studies.water import Water
from circuit.units import ATMOSPHERE, shown, value_in

WIDTH = 118
NO_LIMIT = "no limit stands beside these figures: the sets of rules named have none for this vehicle"
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


def _head(title: str, circuit: Circuit) -> list[str]:
    vehicle = circuit.vehicle
    return [f"{title}: {vehicle.title}  ({vehicle.vehicle_class}, {circuit.source.name})", "predicted, not measured",
            ""]


def _tail(assumed: Iterable[Assumed], notes: Iterable[str]) -> list[str]:
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


def _cited(clauses: Iterable[Clause | None]) -> list[str]:
    found = {clause.key: clause for clause in clauses if clause is not None}
    lines = []
    for clause in found.values():
        known = ", ".join(dict.fromkeys(p for p in (clause.basis, clause.source) if p))
        lines += textwrap.wrap(f"asked by {clause.cited}: {clause.asks} [{known}]", WIDTH, subsequent_indent="  ")
    return lines


def _text(lines: Iterable[str]) -> str:
    return "\n".join(line.rstrip() for line in lines) + "\n"


# --- trials -------------------------------------------------------------------------------------------------------


def trials(circuit: Circuit, runs: Sequence[Run]) -> str:
    """Every trial with what was expected of it."""
    lines = _head("Trials", circuit)
    if not runs:
        return _text([*lines, "there is no trial in this design"])
    for run in runs:
        if run.trace is None:
            lines += [f"{run.trial.name}: NOT RUN", f"  {run.span}", f"  {run.why}", ""]
            continue
        verdict = "met" if run.is_met else "NOT MET"
        lines.append(f"{run.trial.name}: {verdict}")
        for outcome in run.outcomes:
            word = {True: "met    ", False: "NOT MET", None: "unknown"}[outcome.met]
            lines.append(f"  {word}  {outcome.place}: {asked(outcome)}; {found(outcome)}")
        lines.append("")
    held = [outcome for run in runs for outcome in run.outcomes]
    met = sum(outcome.met is True for outcome in held)
    unrun = sum(run.trace is None for run in runs)
    lines.append(f"{count(len(runs), 'trial')}, {count(len(held), 'expectation')}: {met} met, {len(held) - met} not"
                 + (f"; {count(unrun, 'trial')} could not be run" if unrun else ""))
    notes = [note for run in runs if run.trace is not None for note in run.trace.notes]
    return _text([*lines, *_tail((), notes)])


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
    lines = _head("Response of the service brakes", found.circuit)
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
    lines += _cited(timed.clause for timed in (*found.applied, *found.released))
    lines += _unheld(*(timed.limit for timed in found.applied))
    return _text([*lines, *_tail(found.assumed, found.notes)])


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
    worst = rows[0]
    lines = [*table(cells), "", f"  the way to {worst.name}, in ms"]
    for leg in worst.path.legs:
        if leg.costs >= 0.0005:
            lines.append(f"  {1e3 * leg.costs:>6.0f}  {leg.part}")
    if worst.path.length:
        lines.append(f"  {'':>6}  and about {1e3 * worst.path.sound:.0f} ms for the front itself over "
                     f"{worst.path.length:.1f} m of line, which is in none of these times")
    return lines


def alike(rows: Sequence[Timed]) -> list[list[Timed]]:
    """Neighbours with the same time, limit and way by kind: left and right."""
    groups: list[list[Timed]] = []
    for timed in rows:
        last = groups[-1][0] if groups else None
        if last is not None and timed.time.value is not None and last.time.value is not None \
                and abs(last.time.value - timed.time.value) < 5e-4 and last.limit == timed.limit:
            groups[-1].append(timed)
        else:
            groups.append([timed])
    return groups


def names(all_names: Iterable[str]) -> str:
    each = list(all_names)
    return ", ".join(each[:4]) + (f" and {len(each) - 4} more" if len(each) > 4 else "")


# --- charging -----------------------------------------------------------------------------------------------------


def charge(found: Charge) -> str:
    """Build-up, filling from empty, the governor's round and recovery."""
    lines = _head("Charging", found.circuit)
    if found.build is not None:
        lines += [*_build(found, found.build), ""]
    fed = ("the governor's cut-in" if found.line is None else
           f"by a supply line held at {pressure(found.line)}")
    lines += [f"From empty, to 65 % and all of {pressure(found.rated)}, {fed}", ""]
    rows = [("reservoir", "role", "65 %", "100 %", "")]
    for tank in found.filled:
        remark = ""
        if tank.whole is None:
            remark = "stays empty: nothing feeds it" if tank.ends < NOTHING else f"comes to {pressure(tank.ends)}"
        rows.append((tank.name, tank.role, clock(tank.share), clock(tank.whole), remark))
    lines += table(rows)
    for each in found.pushed:
        lines += textwrap.wrap(f"at {clock(each.time)}, with that pressure in every brake reservoir that has filled, the "
                               f"driver pushes in {named(found.circuit, each)}: out until then", WIDTH - 2,
                               initial_indent="  ", subsequent_indent="  ")
    if found.limits[0] is not None and found.limits[1] is not None and (slowest := found.slowest):
        for what, limit, time in (("65 %", found.limits[0], slowest.share), ("100 %", found.limits[1], slowest.whole)):
            verdict = "met" if time is not None and time <= limit else "NOT MET"
            lines.append(f"  {what} in the slowest brake reservoir: limit {clock(limit)}, {clock(time)}: {verdict}")
    lines.append("")
    if found.line is None:
        lines += _round(found)
    lines += [*_cited((found.clause, found.filling_clause)), *_unheld(found.limit, *found.limits)]
    return _text([*lines, *_tail(found.assumed, found.notes)])


def _build(found: Charge, build: Band) -> list[str]:
    lines = [f"85 to 100 psi in every supply and service reservoir: {clock(build.value)}",
             f"  band {between(build)}: compressors that deliver {SCATTER * 100:.0f} % more and less"]
    if found.limit is not None:
        if found.margin is None:
            lines.append(f"  limit {clock(found.limit)}: NOT MET")
        else:
            spare, met = ("to spare", "met") if found.margin >= 0 else ("too slow", "NOT MET")
            lines.append(f"  limit {clock(found.limit)}, {abs(found.margin):.1f} s {spare}: {met}{_hangs(build, found)}")
    return lines


def _hangs(build: Band, found: Charge) -> str:
    met = [time is not None and found.limit is not None and time <= found.limit for time in build]
    return "" if all(met) or not any(met) else ", but it turns within the band"


def _round(found: Charge) -> list[str]:
    """The governor's round and the recoveries."""
    lines = []
    if found.cycle is None:
        lines.append("the governor never stops the compressor in this run")
    else:
        cycle = found.cycle
        lines += [f"Governor: {clock(cycle.pumping)} pumping, {clock(cycle.resting)} resting; the compressor works "
                  f"{cycle.duty * 100:.0f} % of the time" if cycle.resting else
                  "Governor: the compressor never catches up and works all the time",
                  f"  for one full application a minute ({60e3 * cycle.by_braking:.0f} g of air) and reservoirs that "
                  f"lose 2 psi a minute ({60e3 * cycle.by_leak:.0f} g)"]
    for each in found.recoveries:
        again = ("the compressor does not start" if each.again == 0 else "not full again" if each.again is None else
                 f"full again {clock(each.again)} after the last release")
        lines.append(f"After {count(each.applications, 'full application')} with the engine running: lowest service "
                     f"reservoir {pressure(each.lowest)}; {again}")
    return [*lines, ""]


def _unheld(*limits: float | None) -> list[str]:
    """Said where nothing limits a study's figures."""
    return [] if any(limit is not None for limit in limits) else [NO_LIMIT]


# --- reserve ------------------------------------------------------------------------------------------------------


def reserve(found: Reserve) -> str:
    """What is left after each application, beside the count by volumes."""
    lines = _head("Reserve", found.circuit)
    lines += [f"Full applications with the engine off, from {pressure(found.start)}"
              + (f", {pressure(found.demand)} asked for" if found.demand else ""), ""]
    for store in found.stores:
        lines.append(f"{store.name}: ratio {store.ratio:.1f} to the chambers it serves by itself")
        rows = [("after", "left in the reservoir", "share", "by volumes alone", "given to the chambers",
                 "share of the first")]
        for number in (1, 2, 3, 4, 5, 6, COUNTED, COUNTED + 1, 12):
            rows.append((f"{number}", pressure(store.left[number]), f"{100 * store.share_left(number):.0f} %",
                         pressure(store.counted[number]), pressure(store.given[number - 1]),
                         f"{100 * store.share_given(number):.0f} %"))
        lines += table(rows)
        lines += [f"  {count(store.halves, 'application')} leave half the pressure or more; by volumes alone "
                  f"{store.counted_halves}", ""]
    for happening in found.happened:
        lines.append(f"  in application {happening.after}: {happening.what}")
    return _text([*lines, *_tail(found.assumed, found.notes)])


# --- leaking down, force, water -----------------------------------------------------------------------------------


def leak_down(found: LeakDown) -> str:
    """The time line."""
    lines = _head("Leaking down with the engine off", found.circuit)
    holes = ", ".join(f"{name} {1e3 * size:.2f} mm" for name, size in found.holes)
    lines += textwrap.wrap(f"assumed: sharp holes ({holes}), each for a fall of {shown(found.rate, 'rate')} at "
                           f"{pressure(found.start)} if it leaked by itself", WIDTH)
    lines.append("")
    rows = [("after", "stored, lowest", "stored, highest", "what happens")]
    rows += [(clock(m.time), pressure(m.level[0]), pressure(m.level[1]), m.what) for m in found.moments]
    lines += table(rows) if len(rows) > 1 else ["nothing happens in the time watched"]
    if found.warned_first is not None:
        lines += ["", "a warning comes before any knob pops out or a spring is fully on" if found.warned_first else
                  "NO WARNING comes before a knob pops out or a spring is fully on"]
    return _text([*lines, *_tail(found.assumed, found.notes)])


def forces(found: Forces) -> str:
    """Force and torque at each pressure."""
    lines = _head("Push-rod force and torque", found.circuit)
    steps = [f"{value_in(step, 'psi', 'pressure'):.0f} psi" for step in found.steps]
    rows = [("chamber", "axle", "side", "type", *steps, "spring")]
    for each in found.chambers:
        rows.append((each.name, each.axle, each.side, each.type,
                     *(f"{value_in(force, 'lbf', 'force'):,.0f}" for force in each.forces),
                     "-" if each.spring is None else f"{value_in(each.spring, 'lbf', 'force'):,.0f}"))
    lines += ["push-rod force, lbf", *table(rows), ""]
    rows = [("chamber", "slack", *steps, "spring")]
    for each in found.chambers:
        if each.slack is not None:
            rows.append((each.name, f"{value_in(each.slack, 'in', 'length'):.2f} in",
                         *(f"{torque:,.0f}" for torque in each.torques),
                         "-" if each.spring_torque is None else f"{each.spring_torque:,.0f}"))
    if len(rows) > 1:
        lines += ["torque at the camshaft, N.m", *table(rows)]
    if found.unknown:
        lines += textwrap.wrap(f"no torque for {names(found.unknown)}: `slack-length` is not written", WIDTH)
    return _text([*lines, *_tail((), found.notes)])


def water(found: Water) -> str:
    """Where the water of an hour goes."""
    lines = _head("Water", found.circuit)
    lines += [f"{found.temperature - 273.15:.0f} °C, {found.humidity * 100:.0f} % relative humidity, "
              f"{pressure(found.pressure)}, compressor at work {found.duty * 100:.0f} % of the time: "
              f"{60e3 * found.free_air:.0f} L of free air a minute on average", ""]
    rows = [("water", "g an hour")]
    rows += [("taken in as vapour", f"{1e3 * found.enters:.0f}"),
             ("liquid already where it reaches the dryer or first reservoir", f"{1e3 * found.before:.0f}")]
    if found.has_dryer:
        rows.append(("taken by the dryer, blown out at each purge", f"{1e3 * found.dried:.0f}"))
    rows += [("settles in the reservoirs", f"{1e3 * found.settles:.0f}"),
             ("goes on as vapour", f"{1e3 * found.stays:.0f}")]
    if found.has_dryer:
        rows.append(("would settle in the reservoirs with the dryer worn out", f"{1e3 * found.unserved:.0f}"))
    lines += table(rows)
    lines.append("")
    if found.has_dryer:
        lines.append(f"in eight hours {_litres(8 * found.settles)} settles with a sound dryer, "
                     f"{_litres(8 * found.unserved)} with a worn one: drain every day, and look at what comes")
    else:
        lines.append(f"in eight hours {_litres(8 * (found.settles + found.before))} of water lie in the reservoirs: "
                     "drain every day")
    return _text([*lines, *_tail((), found.notes)])


def _litres(kilograms: float) -> str:
    return "nothing" if kilograms < 5e-4 else f"{kilograms:.2f} L"


__all__ = ["charge", "forces", "leak_down", "reserve", "response", "trials", "water"]
