"""One fault's story for a driver and a fitter: what happens when, the stop, what is noticed, what to do."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from circuit.kinds.kind import Trait
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.report.fault_mend import in_unit, mending
from circuit.report.faults import TITLES
from circuit.report.situations import unit_of
from circuit.report.words import CAUTION, SHOP, be, count, listed, verb
from circuit.report.words import FAST as _FAST
from circuit.studies.fault_effect import GONE
from circuit.studies.fault_story import BRAKES_AT, Stop, Told
from circuit.studies.fault_times import Event, says
from circuit.studies.faults import BRAKING, Rank, rank
from circuit.units import ATMOSPHERE

ASSUMED = ("Predicted by a simulation from the design file, with typical values where it is silent: air at one "
           "temperature, parts as new but for the fault, the pedal all the way down in a tenth of a second. How far a "
           "vehicle runs until it stands, no pressure tells.")
LESS = 0.3e5
"""Pa below the sound vehicle from which it is worth a word; our choice."""
EMPTY = ATMOSPHERE + 0.25e5


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
    stop = f"The stop: the pedal all the way down for {told.acts.up - told.acts.pedal:.0f}{_FAST}s"
    sections = (
        _section(told, "The fault", (f"{fault.name}: {fault.says}", *_start(told))),
        Section("Until the pedal is touched", tuple(_driving(told))),
        Section(stop, (*_section(told, stop, _stop(told)).rows, *_during(told))),
        _section(told, "Parked", _parked(told)),
        _section(told, "What the driver notices", _noticed(told)),
        _section(told, "With the engine running", _running(told)),
        _section(told, "What to do", mending(told.study, told.effect)),
    )
    return Story(f"{told.circuit.vehicle.title}, {fault.name}", _sentence(told, TITLES[rank(told.effect)]),
                 tuple(section for section in sections if section.rows), (ASSUMED, SHOP, CAUTION))


def _section(told: Told, title: str, sentences: Iterable[str]) -> Section:
    return Section(title, tuple(Row("", _sentence(told, each)) for each in sentences))


# --- what happens ----------------------------------------------------------------------------------------------------


def _start(told: Told) -> Iterable[str]:
    full = _levels(told.circuit, told.trace, 0.0, unit_of(told.circuit))
    if told.effect.fault.exchanged:
        yield "the vehicles have been coupled so, and the first has filled what it can"
    else:
        yield f"it comes at 0{_FAST}s, under way with {full}"
    if told.running is not None:
        yield "the engine stands still from then on, so that no compressor hides what is lost"
    if told.circuit.is_towed:
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


# --- the stop and after ----------------------------------------------------------------------------------------------


def _stop(told: Told) -> Iterable[str]:
    unit = unit_of(told.circuit)
    for axles, stop in _alike(told):
        yield from _axles_stop(axles, stop, unit)
    yield from _heads(told)
    costs = []
    for tank in told.circuit.reservoirs_for("supply", "service"):
        before, after = (told.trace.pressure(tank.name, t) for t in (told.acts.pedal, told.acts.up))
        sound = told.sound.pressure(tank.name, told.acts.pedal) - told.sound.pressure(tank.name, told.acts.up)
        if before - after > sound + LESS:
            costs.append(f"{tank.name} from {in_unit(before, unit)} to {in_unit(after, unit)}")
    if costs:
        yield f"the pedal costs more air than it should: {listed(costs)}"
    lower: dict[str, list[str]] = {}
    for kept in told.effect.tanks:
        floor = min(kept.driving, kept.braking)
        if kept.role in BRAKING and floor < told.trace.pressure(kept.name, told.acts.up) - 2 * LESS:
            lower.setdefault(in_unit(floor, unit) if floor > EMPTY else "nothing", []).append(kept.name)
    if lower:
        says = [f"{listed(names)} to {pressure}" for pressure, names in lower.items()]
        yield f"held down for longer, or pressed again and again, it takes {listed(says)}"


def _during(told: Told) -> Iterable[Row]:
    """What comes on while the pedal is down, at s from the pedal; springs that take its place are told before."""
    follow = {stop.axle for stop in told.stops if stop.springs and stop.springs[2] < GONE}
    events = [e for e in told.later if e.time < told.acts.up and not (e.kind == "springs" and e.thing in follow)]
    for time, things in _together(events, told.acts.pedal):
        now = _levels(told.circuit, told.trace, time, unit_of(told.circuit), changed=True)
        yield Row(clock(time - told.acts.pedal), _sentence(told, things + (f": {now}" if now else "")))


def _alike(told: Told) -> Iterable[tuple[list[str], Stop]]:
    """Axles that do the same, together."""
    found: dict[object, tuple[list[str], Stop]] = {}
    for stop in told.stops:
        key = tuple(round(value, 2) if isinstance(value, float) else value for value in (
            _bar(stop.given), _bar(stop.sound), stop.reached, _bar(stop.kept), stop.on)) + (
            tuple(round(share, 1) for share in stop.springs) if stop.springs else None,)
        found.setdefault(key, ([], stop))[0].append(stop.axle)
    return found.values()


def _bar(pressure: float | None) -> float | None:
    return None if pressure is None else round((pressure - ATMOSPHERE) / 1e5, 1)


def _axles_stop(axles: list[str], stop: Stop, unit: str) -> Iterable[str]:
    who = listed(axles)
    if stop.first is not None and stop.given is not None and stop.sound is not None:
        now, first, normal = (in_unit(pressure, unit) for pressure in (stop.given, stop.first, stop.sound))
        soon = f"{'it' if len(axles) == 1 else 'they'} never {verb(axles, 'has')} {in_unit(BRAKES_AT, unit)}" if (
            stop.reached is None) else f"{in_unit(BRAKES_AT, unit)} after {clock(stop.reached)}"
        if stop.first < EMPTY < stop.sound and stop.given < EMPTY:
            yield f"{who} {verb(axles, 'gets')} no air from the pedal"
        elif stop.given >= stop.sound - LESS:
            yield f"{who} {verb(axles, 'brakes')} as ever: {soon}, {now} in the end"
        elif abs(stop.first - stop.given) > 3 * LESS:
            yield (f"{who} {verb(axles, 'brakes')} with {first} at first and {now} in the end, instead of {normal}: "
                   f"{soon}")
        else:
            yield f"{who} {verb(axles, 'brakes')} with {now} instead of {normal}: {soon}"
    if stop.springs is not None:
        yield from _springs_stop(axles, stop)
    if stop.kept > ATMOSPHERE + 0.5e5:
        yield f"{who} {verb(axles, 'does')} not let go with the pedal: {in_unit(stop.kept, unit)} stay in"


def _springs_stop(axles: list[str], stop: Stop) -> Iterable[str]:
    assert stop.springs is not None
    before, during, after, _ = stop.springs
    who = f"the springs of {listed(axles)}"
    if before > GONE:
        yield f"{who} are on already" + (f", with {_percent(before)} of their force" if before < 0.95 else "")
        if during < before - 0.2:
            yield f"the pedal's air takes their force back to {_percent(during)}"
    elif during > GONE:
        yield f"{who} come on in its place, with {_percent(during)} of their force" + (
            ", and let go again with the pedal" if after < GONE else ", and stay on" if after > 0.95 else "")
    elif after > GONE:
        yield f"{who} come on as the pedal is let up, with {_percent(after)} of their force"


def _heads(told: Told) -> Iterable[str]:
    unit = unit_of(told.circuit)
    for head in told.effect.heads:
        now, sound = (trace.pressure(head.name, told.acts.up) for trace in (told.trace, told.sound))
        if abs(now - sound) > LESS:
            yield (f"{head.name} has {in_unit(now, unit)} instead of {in_unit(sound, unit)} for what is towed")


def _parked(told: Told) -> Iterable[str]:
    rows: dict[str, list[str]] = {}
    for stop in told.stops:
        if stop.springs is None:
            continue
        before, last = stop.springs[2:]
        if before > 0.95:
            how = "are on already"
        elif stop.on is not None:
            how = f"are on after {clock(stop.on)}"
        elif last < GONE:
            how = "do not come on"
        else:
            how = f"come on with {_percent(last)} of their force"
        rows.setdefault(how, []).append(stop.axle)
    for how, axles in rows.items():
        yield f"the springs of {listed(axles)} {how}"
    if not rows:
        yield "there is no spring brake: only air holds it, for as long as it lasts, so it must be chocked"
        return
    came = [stop for stop in told.stops if stop.springs and stop.springs[3] > GONE]
    again = [stop.axle for stop in came if stop.springs and stop.springs[2] <= GONE]
    never = [stop.axle for stop in came if stop.springs and stop.springs[2] > 0.95]
    if again:
        yield f"there is air to let {'them' if len(again) == len(came) else f'those of {listed(again)}'} off again"
    if never:
        who = "they" if len(never) == len(came) else f"those of {listed(never)}"
        yield f"{who} cannot be let off with the air that is left"


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
            yield f"{event.says} after {clock(event.time - since)} {what}".rstrip()
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
        yield f"the compressor does not fill {listed(dry)} again until it is mended"
        if told.left is not None:
            yield f"what is stored lasts for {count(told.left, 'full application')} until a warning comes on"
    if told.effect.rising:
        ends = "nothing lets it out" if told.effect.rising == "nothing" else f"{told.effect.rising} lets it out"
        yield f"the compressor does not rest at cut-out, and {ends}"
    elif not held and not dry:
        yield "the same, before the pedal is touched"


def _warns(told: Told, trace: Trace) -> bool:
    circuit = told.circuit
    return any((time := trace.first_time(circuit.store(s), s.settings["on-below"], rising=False)) is not None
               and time < told.acts.pedal for s in circuit.having(Trait.WARNS_LOW))


# --- small words -----------------------------------------------------------------------------------------------------


def clock(seconds: float) -> str:
    """Seconds as a person times them.

    >>> clock(0.376), clock(20.0), clock(458.2)
    ('0.38 s', '20 s', '7 min 38 s')
    """
    if seconds < 10:
        return f"{seconds:.{2 if seconds < 1 else 1}f} s"
    if seconds < 120:
        return f"{seconds:.0f} s"
    minutes, rest = divmod(round(seconds), 60)
    whole = f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60} min"
    return f"{whole} {rest} s" if rest and minutes < 60 else whole


def _percent(share: float) -> str:
    return "all" if share > 0.95 else f"{share * 100:.0f}{_FAST}%"


def _sentence(told: Told, words: str) -> str:
    """With a capital, but for a name of the design, and a full stop."""
    first = words.split(" ")[0].rstrip(":,;")
    named = first in told.circuit.by_name or first in {stop.axle for stop in told.stops}
    return (words if named else words[0].upper() + words[1:]) + ("" if words.endswith(".") else ".")
