"""What is read on the finished vehicle, step by step, beside what was predicted: a form for measuring."""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.report.sheets.cautions import SPRINGS, WORK
from circuit.report.table import Table
from circuit.studies.hands import CannotAsk
from circuit.studies.leak_down import LeakDown, leak_down
from circuit.studies.steps import Played, Step, parted, played
from circuit.units import ATMOSPHERE, shown
from circuit.verdict.judge import Verdict

BY_SIMULATION = "by simulation"
_BLANK = ("measured", "instrument", "remarks")
_COLUMNS = ("step", "what is done", "place", "how", "start", "expected", "basis", *_BLANK)
_NEAR = "on the nearest gauge"
_PLAY = 2e3
"""Pa by which a reading has to change in a step to be asked for where there is no gauge or test point."""

Row = tuple[str, ...]


class Place(NamedTuple):
    """Where is measured. how: the gauge or test point there, or what is to be done without. is_given: there is one."""

    name: str
    how: str
    space: int
    is_given: bool


def places(judged: Verdict) -> list[Place]:
    """Gauges and test points; then reservoirs and chambers that have none. What only dries the dryer empties by itself."""
    circuit = judged.circuit
    found = [Place(device.name, device.kind.title.lower(), circuit.store(device), True)
             for device in circuit.devices if device.has(Trait.SHOWS_PRESSURE) or device.has(Trait.TESTS_PRESSURE)]
    zones = [judged.evidence.zone(place.space) for place in found]

    def bare(space: int) -> bool:
        return not any(space in zone for zone in zones)

    found += [Place(tank.name, "no gauge or test point: at a boss", circuit.store(tank), False)
              for tank in circuit.reservoirs if tank.settings["role"] != "regeneration" and bare(circuit.store(tank))]
    for trait, side, of in ((Trait.SERVICE_ACTUATOR, "service", circuit.service_space),
                            (Trait.SPRING_ACTUATOR, "spring", circuit.spring_space)):
        found += [Place(f"{chamber.name} {side} side", "no test point: at the port", of(chamber), False)
                  for chamber in circuit.having(trait) if bare(of(chamber))]
    return found


def step_record(judged: Verdict) -> Table:
    """Each step at each place, with what is predicted and what it starts from."""
    circuit, measured = judged.circuit, places(judged)
    rows: list[Row] = []
    notes = ["Predicted by playing these steps one after the other, one simulation; what is measured decides. `start` is the "
             "reading before the step, or what the air is let down from. A place without a gauge or a test point is asked "
             "for where its pressure changes and comes to rest. Times of application and release are under response prediction.",
             "A licensed person tests and signs."]
    try:
        record, lines = played(circuit), parted(circuit)
    except CannotAsk as reason:
        notes.insert(0, f"No step is predicted: {reason}.")
        rows += [row for key in ("charge", "drive") for row in _governed(circuit, key)]
    else:
        if not record.rests or not record.trace.complete:
            notes.insert(0, "The reservoirs were not full and at rest before the brakes were applied: what follows leans on "
                         "the moment.")
        for step in record.steps:
            rows += [*_readings(record, step, measured), *_governed(circuit, step.key)]
        rows += [row for line in lines for row in _readings(line, line.steps[0], measured)]
    rows += [*_let_down(circuit), *_leaking(circuit)]
    return Table("test-record", "Test record", _COLUMNS, tuple(rows), tuple(notes), frozenset(_BLANK),
                 wide=frozenset({"how"}), assumed=bool(circuit.assumed), bands=("step", "what is done"), cautions=WORK)


def _readings(record: Played, step: Step, measured: list[Place]) -> Iterator[Row]:
    done = f"{step.stands}: {step.done}" + (SPRINGS if record.springs(step) else "")
    for place in measured:
        before, after = record.before(step, place.space), record.after(step, place.space)
        moves = record.moves(step, place.space)
        if place.is_given or abs(after - before) > _PLAY and not moves:
            basis = BY_SIMULATION + (", still moving" if moves else "")
            yield _row(step.key, done, place.name, place.how, before, after, basis)


def _row(step: str, done: str, place: str, how: str, before: float, after: float, basis: str) -> Row:
    return (step, done, place, how, shown(before, "pressure"), shown(after, "pressure"), basis, *("" for _ in _BLANK))


# --- pressures at which something snaps over -------------------------------------------------------------------------


def _governed(circuit: Circuit, step: str) -> Iterator[Row]:
    """The pressures of the governors that a step shows."""
    for governor in circuit.having(Trait.GOVERNS):
        if step == "charge":
            yield _set(circuit, "cut-out", "engine on: the compressor stops", governor, "cut-out", _NEAR, ATMOSPHERE)
        elif step == "drive":
            yield _set(circuit, "cut-in", "engine on, pedal pumped slowly: the compressor pumps again", governor, "cut-in", _NEAR,
                       full_pressure(circuit))


def _let_down(circuit: Circuit) -> Iterator[Row]:
    """Warnings and knobs at the pressures that they are set to."""
    full = full_pressure(circuit)
    for switch in circuit.having(Trait.WARNS_LOW):
        yield _set(circuit, "warning", "engine off, pedal pumped until the warning comes", switch, "on-below", _NEAR, full)
    for device in circuit.devices:
        for name in device.given:
            if name.endswith("pops-out-at") and device.settings.get(name) is not None:
                knob = name.removesuffix("pops-out-at").strip("-")
                yield _set(circuit, "pop-out", "engine off, air let out on until the control comes out by itself", device, name,
                           f"{knob} knob, {_NEAR}" if knob else _NEAR, full, device.has(Trait.PARK_CONTROL))


def _set(circuit: Circuit, step: str, done: str, device: Device, name: str, how: str, start: float, parks: bool = False) -> Row:
    """parks: whether what it does lets springs on."""
    at, basis = device.settings[name], "assumed" if device.given[name].assumed else "declared"
    springs = SPRINGS if circuit.having(Trait.SPRING_ACTUATOR) and (parks or at < min(start, _springs_from(circuit))) else ""
    return _row(step, done + springs, device.name, how, start, at, basis)


def _leak(circuit: Circuit) -> LeakDown | None:
    try:
        return leak_down(circuit)
    except CannotAsk:
        return None


def _springs_from(circuit: Circuit) -> float:
    """Absolute Pa in the lowest reservoir at which springs begin to come on as air is let out; 0 where they do not."""
    found = _leak(circuit)
    return max((each.level[0] for each in found.moments if each.what.startswith("springs")), default=0.0) if found else 0.0


def _leaking(circuit: Circuit) -> Iterator[Row]:
    """What comes in which order as the air goes, read at the lowest reservoir."""
    found = _leak(circuit)
    if found is None:
        return
    done = "engine off, air let out slowly from every brake reservoir" + (SPRINGS if _springs_from(circuit) else "")
    for moment in found.moments:
        yield _row("leak-down", done, moment.what, "lowest reservoir", found.start, moment.level[0], BY_SIMULATION)
