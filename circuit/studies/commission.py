"""The commissioning of a vehicle as one script: the steps of the test record, drawn out so that a slow vehicle ends them too,
then a minute each with the pedal up and down, and the pedal pumped until the warnings have come and the knobs are out.

A reading is what a fitter notes: of a gauge, a stopwatch, or how often he pumped. Pressures are absolute Pa, times s.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.model.trace import Happening, Trace
from circuit.sim import Action, Engine, Script
from circuit.studies import steps
from circuit.studies.hands import FOOT, CannotAsk, apply, let_go, parking, unpark
from circuit.studies.once import once, simulate
from circuit.studies.steps import EVERY, HOLD, OPTIONS, SETTLES, Played, Step, played
from circuit.units import ATMOSPHERE, to_si

DRAWN_OUT = 1.8
"""How much longer a vehicle is given to fill than one as designed takes; our choice."""
MINUTE = 60.0
PUMPS = 80
"""How often the pedal is pumped at first, engine off, until all has come that comes; our choice."""
ON, OFF = to_si("60 psi", "pressure"), to_si("5 psi", "pressure")
FROM, TO = to_si("85 psi", "pressure"), to_si("100 psi", "pressure")
"""Pressures between which times are taken, as the test record has them."""


class Reading(NamedTuple):
    """One thing that is noted. step, place: as the test record calls them. dimension: pressure, time or count. how: with what it
    is read. space: where. at: s of the script, of a pressure read at a time; 0 where something has to happen first. is_given:
    whether there is a gauge or a test point, or no gauge is needed."""

    step: str
    place: str
    dimension: str
    how: str
    space: int
    at: float = 0.0
    is_given: bool = True

    @property
    def name(self) -> str:
        return f"{self.step} {self.place}"


class Commission(NamedTuple):
    """The script, how long it runs, what is noted, and the moments: when the engine stops, the pedal goes down and is pumped."""

    circuit: Circuit
    script: Script
    engine: Engine
    start: str
    until: float
    steps: tuple[Step, ...]
    readings: tuple[Reading, ...]
    moments: dict[str, float]

    @property
    def watched(self) -> list[str]:
        """The places that a run has to keep."""
        spaces = {reading.space for reading in self.readings} | {
            self.circuit.store(tank) for tank in self.circuit.reservoirs_for("service")}
        return [".".join(min(self.circuit.ports_of[space])) for space in sorted(spaces - {SPACE_OUTSIDE})]


@once
def commission(circuit: Circuit) -> Commission:
    """Raises CannotAsk where nothing fills the circuit or nothing here brakes."""
    record = played(circuit)
    longer = steps.drawn_out(record, DRAWN_OUT)
    full = next(step.reads for step in reversed(longer.steps) if step.key in ("charge", "drive"))
    begun = longer.steps[-1].reads
    moments = {"pumped": longer.times.up if longer.times else 0.0, "full": full, "stand": begun + 2 * HOLD}
    moments["press"] = moments["stand"] + MINUTE
    moments["pump"] = moments["press"] + HOLD + MINUTE + 2.0
    pumps = 0 if circuit.is_towed else _pumps(circuit, longer, moments)
    script, until = _script(circuit, longer, moments, pumps)
    found = Commission(circuit, script, longer.engine, "empty", until, longer.steps, (), moments)
    return found._replace(readings=tuple(_readings(found)))


def _script(circuit: Circuit, record: Played, moments: dict[str, float], pumps: int) -> tuple[Script, float]:
    rig = max((action.to for action in record.script.actions if action.what == "feed"), default=None)
    press, pump = moments["press"], moments["pump"]
    more: list[Action] = [*unpark(circuit, record.steps[-1].reads), *apply(circuit, press, over=FOOT, rig=rig),
                          *let_go(circuit, press + HOLD + MINUTE, FOOT)]
    for number in range(pumps):
        more += [*apply(circuit, pump + number * EVERY, over=FOOT), *let_go(circuit, pump + (number + 0.5) * EVERY, FOOT)]
    actions = (*record.script.actions, *more)
    until = pump + pumps * EVERY
    return Script(tuple(sorted(actions, key=lambda action: action.at)), record.script.situation, record.script.pressures,
                  record.script.states), until


def _pumps(circuit: Circuit, record: Played, moments: dict[str, float]) -> int:
    """How often the pedal is pumped until the vehicle as designed has warned and its knobs are out, and a few times more."""
    script, until = _script(circuit, record, moments, PUMPS)
    trace = simulate(circuit, script, until, start="empty", engine=record.engine, options=OPTIONS)
    times = [moments["pump"], *(time for time in (
        _popped(trace, device, variable, moments["pump"]) for device, variable, _, _ in parking(circuit)) if time),
        *(time for switch in circuit.having(Trait.WARNS_LOW) if (time := _warned(trace, switch.name, moments["pump"])))]
    return min(PUMPS, int((max(times) - moments["pump"]) / EVERY) + 6)


# --- what is noted ---------------------------------------------------------------------------------------------------


def _readings(found: Commission) -> Iterator[Reading]:
    circuit, moments = found.circuit, found.moments
    places = [place for place in _places(circuit) if place[1] != SPACE_OUTSIDE]
    for step in found.steps:
        for name, space, how, is_given in places:
            yield Reading(step.key, name, "pressure", how, space, step.reads, is_given)
    for word, at in (("stand-start", moments["stand"]), ("stand-end", moments["press"]),
                     ("pressed-start", moments["press"] + HOLD), ("pressed-end", moments["press"] + HOLD + MINUTE)):
        for name, space, how, is_given in places:
            if is_given or word.startswith("pressed"):
                yield Reading(word, name, "pressure", how, space, at, is_given)
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        space = circuit.service_space(chamber)
        for word in ("apply-time", "release-time"):
            yield Reading(word, chamber.name, "time", "a gauge at the chamber and a stopwatch", space, is_given=False)
    if circuit.is_towed:
        return
    gauge = _gauge(circuit)
    for governor in circuit.having(Trait.GOVERNS):
        yield Reading("cut-out", governor.name, "pressure", "on the nearest gauge", gauge)
        yield Reading("cut-in", governor.name, "pressure", "on the nearest gauge", gauge)
    for tank in circuit.reservoirs_for("service"):
        yield Reading("build-up", tank.name, "time", "85 to 100 psi, a stopwatch on its gauge", circuit.store(tank))
    yield Reading("restarts", "vehicle", "count", "engine on, pedal up: how often it pumps again", gauge)
    yield Reading("fill-time", "vehicle", "time", "from empty until the compressor stops, a stopwatch", gauge)
    for switch in circuit.having(Trait.WARNS_LOW):
        yield Reading("warning", switch.name, "pressure", "on the nearest gauge", circuit.store(switch))
    for device, variable, _, _ in parking(circuit):
        word = "pop-out" + (f" {knob}" if (knob := variable.removesuffix("pushed").strip("-")) else "")
        yield Reading(word, device.name, "pressure", "on the fullest gauge", gauge)
    yield Reading("applications", "vehicle", "count", "pedal pumped, engine off, until the first warning", gauge)


def _places(circuit: Circuit) -> list[tuple[str, int, str, bool]]:
    """Gauges and test points, then reservoirs and sides of chambers: name, space, with what, and whether it is there."""
    found = [(device.name, circuit.store(device), device.kind.title.lower(), True) for device in circuit.devices
             if device.has(Trait.SHOWS_PRESSURE) or device.has(Trait.TESTS_PRESSURE)]
    shown = {space for _, space, _, _ in found}
    found += [(tank.name, circuit.store(tank), "a test gauge at a boss", False) for tank in circuit.reservoirs
              if circuit.store(tank) not in shown]
    found += [(f"{chamber.name} {side} side", of(chamber), "a test gauge at the port", False)
              for trait, side, of in ((Trait.SERVICE_ACTUATOR, "service", circuit.service_space),
                                      (Trait.SPRING_ACTUATOR, "spring", circuit.spring_space))
              for chamber in circuit.having(trait) if of(chamber) not in shown]
    return found


def _gauge(circuit: Circuit) -> int:
    """The space of the gauge that is looked at: of the largest service reservoir with one, else that reservoir."""
    tanks = sorted(circuit.reservoirs_for("service"), key=lambda tank: -tank.settings["volume"])
    shown = {circuit.store(d) for d in circuit.devices if d.has(Trait.SHOWS_PRESSURE)}
    if not tanks:
        raise CannotAsk("there is no service reservoir here whose gauge could be read")
    return next((circuit.store(tank) for tank in tanks if circuit.store(tank) in shown), circuit.store(tanks[0]))


def read(found: Commission, trace: Trace, idle: Sequence[str] = ()) -> tuple[float | None, ...]:
    """What is noted of a run; None for what never came. idle: instruments that have failed: gauges stand at nothing, switches
    never close."""
    return tuple(_one(found, reading, trace, idle) for reading in found.readings)


def _one(found: Commission, reading: Reading, trace: Trace, idle: Sequence[str]) -> float | None:
    circuit, moments = found.circuit, found.moments
    if reading.place in idle:
        return ATMOSPHERE if reading.dimension == "pressure" and reading.at else None
    if reading.at:
        return max(ATMOSPHERE, trace.pressure(reading.space, _read_at(found, reading, trace)))
    if reading.step == "restarts":
        stopped = [event for event in _unloads(found, trace) if event.time < found.steps[0].reads]
        return float(sum(not event.value for event in stopped)) if stopped else None
    if reading.step == "apply-time":
        began = next(step.begins for step in found.steps if step.key == "apply")
        return _since(trace.first_time(reading.space, ON, after=began), began, HOLD)
    if reading.step == "release-time":
        began = next(step.begins for step in found.steps if step.key == "release")
        return _since(trace.first_time(reading.space, OFF, rising=False, after=began), began, HOLD)
    if reading.step == "build-up":
        one, other = trace.first_time(reading.space, FROM), trace.first_time(reading.space, TO)
        filled = found.steps[0].reads
        return other - one if one is not None and other is not None and other < filled else None
    time = _when(found, reading, trace, circuit, idle)
    if time is None or reading.step == "fill-time":
        return time
    if reading.step == "applications":
        return float(int((time - moments["pump"]) / EVERY) + 1) if time >= moments["pump"] else 0.0
    return max(ATMOSPHERE, trace.pressure(reading.space, time))


def _when(found: Commission, reading: Reading, trace: Trace, circuit: Circuit, idle: Sequence[str]) -> float | None:
    """s at which what a reading waits for happens."""
    moments, word = found.moments, reading.step.split()[0]
    unloads = _unloads(found, trace)
    if word in ("cut-out", "fill-time"):
        return next((event.time for event in unloads if event.value), None)
    if word == "cut-in":
        return next((event.time for event in unloads if not event.value), None)
    if word == "warning":
        return _warned(trace, reading.place, moments["pump"])
    if word == "applications":
        times = [_warned(trace, switch.name, moments["full"]) for switch in circuit.having(Trait.WARNS_LOW)
                 if switch.name not in idle]
        return min((time for time in times if time is not None), default=None)
    knob = reading.step.removeprefix("pop-out").strip()
    variable = next(v for d, v, _, _ in parking(circuit)
                    if d.name == reading.place and v.removesuffix("pushed").strip("-") == knob)
    return _popped(trace, circuit.by_name[reading.place], variable, moments["stand"])


def _unloads(found: Commission, trace: Trace) -> list[Happening]:
    """When compressors stop and pump again while the engine runs."""
    return [event for event in trace.events if event.variable == "unloading" and 0.0 < event.time < found.moments["full"]]


def _read_at(found: Commission, reading: Reading, trace: Trace) -> float:
    """s at which a gauge is read: of a step that waits for the compressor, soon after it stops."""
    if reading.step not in ("charge", "drive") or found.circuit.is_towed:
        return reading.at
    step = next(step for step in found.steps if step.key == reading.step)
    begins = step.begins if reading.step == "charge" else found.moments["pumped"]
    stops = next((event.time for event in _unloads(found, trace) if event.value and event.time > begins), reading.at)
    return min(reading.at, stops + SETTLES)


def _since(time: float | None, began: float, most: float) -> float | None:
    return time - began if time is not None and time - began < most else None


def _warned(trace: Trace, switch: str, after: float) -> float | None:
    """s at which a low-pressure switch closes, set as it is in that run."""
    device = trace.circuit.by_name[switch]
    on = device.settings.get("on-below")
    return None if on is None else trace.first_time(trace.circuit.store(device), on, rising=False, after=after)


def _popped(trace: Trace, device: Device, variable: str, after: float) -> float | None:
    """s at which a knob comes out by itself."""
    return next((event.time for event in trace.events if event.device == device.name and event.variable == variable
                 and event.time > after and event.value != device.kind.rest[variable]), None)
