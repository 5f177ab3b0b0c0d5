"""One fault's story for a driver and a fitter: what happens when, the stop, what is noticed, what to do."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.faults.effect import BRAKING, GONE
from circuit.faults.single import Fault
from circuit.faults.study import Rank, rank
from circuit.faults.stops import heads_off
from circuit.faults.telling import HOLD, MOST, Told
from circuit.faults.times import Event, says
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.report.faults.mending import in_unit, mending
from circuit.report.faults.outcome_rows import TITLES
from circuit.report.faults.stop import EMPTY, LESS, clock, following, parked, stop
from circuit.report.situations import unit_of
from circuit.report.words import CAUTION, FAST, SHOP, be, count, listed, verb

ASSUMED = ("Predicted by a simulation from the design file, with typical values where it is silent: air at one "
           "temperature, parts as new but for the fault, the pedal all the way down in a tenth of a second. How far a "
           "vehicle runs until it stands, no pressure tells.")


class Row(NamedTuple):
    """when: a time or nothing."""

    when: str
    says: str


class Section(NamedTuple):
    title: str
    rows: tuple[Row, ...]


class Story(NamedTuple):
    """verdict: how bad it is, in a line."""

    title: str
    verdict: str
    sections: tuple[Section, ...]
    cautions: tuple[str, ...]


def story(told: Told) -> Story:
    """A fault in sections."""
    fault = told.effect.fault
    held = f"The stop: the pedal all the way down for {told.acts.up - told.acts.pedal:.0f}{FAST}s"
    sections = (
        _section(told, "The fault", (_what(fault), *_start(told))),
        Section("Until the pedal is touched", tuple(_driving(told))),
        Section(held, (*_section(told, held, stop(told)).rows, *_during(told))),
        _section(told, "Parked", parked(told)),
        _section(told, "The next stop", following(told)),
        _section(told, "What the driver notices", _noticed(told)),
        _section(told, "With the engine running", _running(told)),
        _section(told, "What to do", mending(told.study, told.outcome.worst)),
    )
    return Story(f"{told.circuit.vehicle.title}, {fault.name}", _sentence(told, _verdict(told)),
                 tuple(section for section in sections if section.rows), (ASSUMED, SHOP, CAUTION))


def _verdict(told: Told) -> str:
    served = [axle for axle in told.first.axles if axle.served]
    springs = any(axle.springs > GONE or axle.pedal > GONE for axle in served)
    if served and springs and all(axle.service < GONE for axle in served):
        return "no service brake left, only springs"
    return TITLES[told.outcome.rank]


def _section(told: Told, title: str, sentences: Iterable[str]) -> Section:
    return Section(title, tuple(Row("", _sentence(told, each)) for each in sentences))


# --- what happens ----------------------------------------------------------------------------------------------------


def _what(fault: Fault) -> str:
    """The fault and what is seen of it, not twice in the same word."""
    failure = fault.name.rpartition(": ")[2]
    return fault.name if fault.says.removesuffix("s") == failure else f"{fault.name}: {fault.says}"


def _start(told: Told) -> Iterable[str]:
    full = _levels(told.circuit, told.trace, 0.0, unit_of(told.circuit))
    if told.effect.fault.exchanged:
        yield "the vehicles have been coupled so, and the first has filled what it can"
    else:
        yield f"it comes at 0{FAST}s, under way with {full}"
    if told.running is not None:
        yield "the engine stands still from then on, so that no compressor hides what is lost"
    if told.circuit.is_towed and not heads_off(told.circuit, told.effect.fault):
        yield "the towing vehicle keeps its supply line full"


def _driving(told: Told) -> Iterable[Row]:
    circuit, unit = told.circuit, unit_of(told.circuit)
    for time, things in _together(told.events):
        now = _levels(circuit, told.trace, time, unit, changed=True)
        yield Row(clock(time), _sentence(told, things + (f": {now}" if now else "")))
    rest = told.acts.pedal
    gone, kept = _gone_and_kept(told, rest)
    end = [f"{listed(gone)} {be(gone)} empty"] if gone else []
    end += [f"{listed(names)} {verb(names, 'holds')} {pressure}" for pressure, names in kept.items()]
    quiet = "nothing has come on and no knob has popped out" if not told.events else "all is at rest"
    yield Row(clock(rest), _sentence(told, f"{quiet}: {'; '.join(end)}"))


def _during(told: Told) -> Iterable[Row]:
    """What comes on while the pedal is down, at s from the pedal; springs that take its place are told before."""
    follow = {each.axle for each in told.stops if each.springs and each.springs[2] < GONE}
    events = [e for e in told.later if e.time < told.acts.up and not (e.kind == "springs" and e.thing in follow)]
    for time, things in _together(events, told.acts.pedal):
        now = _levels(told.circuit, told.trace, time, unit_of(told.circuit), changed=True)
        yield Row(clock(time - told.acts.pedal), _sentence(told, things + (f": {now}" if now else "")))


def _together(events: Sequence[Event], since: float = 0.0) -> Iterable[tuple[float, str]]:
    """Events of one moment and kind in one sentence."""
    rows: list[tuple[float, str, str, list[str]]] = []
    for event in events:
        alike = next((row for row in rows if abs(row[0] - event.time) < 0.02 * max(event.time - since, 1.0)
                      and row[1:3] == (event.does, event.kind)), None)
        if alike is None:
            rows.append((event.time, event.does, event.kind, [event.thing]))
        else:
            alike[3].append(event.thing)
    for time, does, kind, things in rows:
        yield time, says(things, does, kind)


def _levels(circuit: Circuit, trace: Trace, time: float, unit: str, changed: bool = False) -> str:
    """Reservoirs that matter for brakes with their pressures; changed: only those that have moved since the start."""
    found: dict[str, list[str]] = {}
    for tank in circuit.reservoirs_for(*BRAKING):
        now, before = trace.pressure(tank.name, time), trace.pressure(tank.name, 0.0)
        if not changed or abs(now - before) > LESS:
            found.setdefault(in_unit(now, unit), []).append(tank.name)
    return ", ".join(f"{listed(names)} at {pressure}" for pressure, names in found.items())


def _gone_and_kept(told: Told, time: float) -> tuple[list[str], dict[str, list[str]]]:
    gone: list[str] = []
    kept: dict[str, list[str]] = {}
    for tank in told.circuit.reservoirs:
        if tank.settings["role"] == "regeneration":
            continue
        pressure = told.trace.pressure(tank.name, time)
        if pressure < EMPTY:
            gone.append(tank.name)
        else:
            kept.setdefault(in_unit(pressure, unit_of(told.circuit)), []).append(tank.name)
    return gone, kept


# --- people ----------------------------------------------------------------------------------------------------------


def _noticed(told: Told) -> Iterable[str]:
    circuit, unit, effect = told.circuit, unit_of(told.circuit), told.effect
    first = next((event for event in told.events if event.kind == "warning"), None)
    later = next((event for event in told.later if event.kind == "warning"), None)
    if first is not None:
        yield f"the low-pressure warning comes on after {clock(first.time)} ({first.thing})"
    elif later is not None:
        yield (f"no low-pressure warning until the pedal has been down for {clock(later.time - told.acts.pedal)} "
               f"({later.thing})")
    elif circuit.having(Trait.WARNS_LOW):
        yield "no low-pressure warning comes on"
    if first is not None and (loss := next((e for e in told.events if e.kind == "springs"), None)) is not None and (
            loss.time < first.time):
        yield f"springs begin to come on {clock(first.time - loss.time)} before it: the brake is felt first"
    for gauge in circuit.having(Trait.SHOWS_PRESSURE):
        space = circuit.store(gauge)
        before, now = told.trace.pressure(space, 0.0), told.trace.pressure(space, told.acts.pedal)
        if before - now > 2 * LESS and gauge.name not in effect.dead:
            yield f"{gauge.name} falls from {in_unit(before, unit)} to {in_unit(now, unit)}"
    for event in (*told.events, *told.later):
        if event.kind == "knob" and event.time < told.acts.park:
            pressed = event.time >= told.acts.pedal
            since, what = (told.acts.pedal, "of the pedal") if pressed else (0.0, "")
            yield f"after {clock(event.time - since)} {what}".rstrip() + f" {event.says}"
    if effect.unwarned:
        yield f"nothing warns that {listed(effect.unwarned)} {be(effect.unwarned)} empty"
    if effect.dead:
        yield f"{effect.dead} shows nothing, whatever happens"
    if effect.users:
        yield f"{listed(effect.users)} {be(effect.users)} without air"
    if rank(effect) is Rank.UNGUARDED:
        yield "in ordinary use nothing at all tells of it"


def _running(told: Told) -> Iterable[str]:
    if told.running is None:
        return
    unit = unit_of(told.circuit)
    held: dict[str, list[str]] = {}
    for tank in told.circuit.reservoirs_for(*BRAKING):
        still, works = (trace.pressure(tank.name, told.acts.pedal) for trace in (told.trace, told.running))
        if works - still > LESS:
            held.setdefault(f"{in_unit(works, unit)} instead of {in_unit(still, unit)}", []).append(tank.name)
    if held:
        yield "the compressor pumps against it: " + ", ".join(
            f"{listed(names)} {verb(names, 'has')} {pressure}" for pressure, names in held.items())
    if any(e.kind == "warning" for e in told.events) and not _warns(told, told.running):
        yield "no warning comes on while it runs: it hides the leak, and the reservoirs fall when it is stopped"
    dry = [tank.name for tank in told.effect.tanks if tank.role in BRAKING and not tank.refilled and not tank.is_lost]
    if dry:
        yield f"the compressor does not bring {listed(dry)} back to cut-out until it is mended"
        yield from _again(told)
    if told.effect.rising:
        ends = "nothing lets it out" if told.effect.rising == "nothing" else f"{told.effect.rising} lets it out"
        yield f"the compressor does not rest at cut-out, and {ends}"
    elif not held and not dry:
        yield "the same, before the pedal is touched"


def _again(told: Told) -> Iterable[str]:
    if told.again is None:
        return
    warns, lowest = told.again
    if warns is not None:
        yield (f"the gauges fall with each stop and do not rise again: {count(warns, 'full application')}, and a "
               "warning comes on")
    else:
        yield (f"{MOST} full applications, one every {2 * HOLD:.0f}{FAST}s, bring on no warning: "
               f"{in_unit(lowest, unit_of(told.circuit))} are left at the least")


def _warns(told: Told, trace: Trace) -> bool:
    circuit = told.circuit
    return any((time := trace.first_time(circuit.store(s), s.settings["on-below"], rising=False)) is not None
               and time < told.acts.pedal for s in circuit.having(Trait.WARNS_LOW))


def _sentence(told: Told, words: str) -> str:
    """With a capital, but for a name of the design, and a full stop."""
    first = words.split(" ")[0].rstrip(":,;")
    named = first in told.circuit.by_name or first in {each.axle for each in told.stops}
    return (words if named else words[0].upper() + words[1:]) + ("" if words.endswith(".") else ".")
