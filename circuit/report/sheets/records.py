"""Forms for measuring: the predicted or declared figure beside a blank for what was found."""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit, Device
from circuit.report.sheets.table import Table
from circuit.report.situations import situation
from circuit.sim import simulate, uncouple
from circuit.studies.hands import CannotAsk, fed_heads, standing, tail_heads
from circuit.studies.leak_down import leak_down
from circuit.units import ATMOSPHERE, shown, value_in
from circuit.verdict.judge import Verdict

BY_SIMULATION = "by simulation"
_BLANK = ("measured", "instrument", "remarks")
_STEPS = (
    ("charge", "engine on until the compressor stops, park control applied", "parked"),
    ("drive", "park control released, pedal up", "driving"),
    ("apply", "pedal all the way down, engine off", "braking"),
    ("release", "pedal up again", "released"),
    ("park", "park control applied", "parked"),
)
_PARTED = 120.0
"""s after which what a parted line takes and leaves is read; our choice."""
_PLAY = 2e3
"""Pa by which a reading has to differ from the step before to be asked for where there is no gauge or test point."""

_TOWED_STEPS = (
    ("charge", "coupled, filled through the supply line, control line without air", "driving"),
    ("apply", "control line fed with all that there is", "braking"),
    ("release", "control line let out", "released"),
    ("park", "supply line let out, park control applied where there is one", "parked"),
)

Row = tuple[str, ...]


class Place(NamedTuple):
    """Where is measured. how: the gauge or test point there, or what is to be done without. is_given: there is one."""

    name: str
    how: str
    space: int
    is_given: bool


def places(judged: Verdict) -> list[Place]:
    """Gauges and test points; then reservoirs and chambers that have none."""
    circuit = judged.circuit
    found = [Place(device.name, device.kind.title.lower(), circuit.store(device), True)
             for device in circuit.devices if device.has(Trait.SHOWS_PRESSURE) or device.has(Trait.TESTS_PRESSURE)]
    zones = [judged.evidence.zone(place.space) for place in found]

    def bare(space: int) -> bool:
        return not any(space in zone for zone in zones)

    found += [Place(tank.name, "no gauge or test point: at a boss", circuit.store(tank), False)
              for tank in circuit.reservoirs if bare(circuit.store(tank))]
    for trait, side, of in ((Trait.SERVICE_ACTUATOR, "service", circuit.service_space),
                            (Trait.SPRING_ACTUATOR, "spring", circuit.spring_space)):
        found += [Place(f"{chamber.name} {side} side", "no test point: at the port", of(chamber), False)
                  for chamber in circuit.having(trait) if bare(of(chamber))]
    return found


def test_record(judged: Verdict) -> Table:
    """Each step at each place, with what is predicted."""
    rows: list[Row] = []
    circuit, measured = judged.circuit, places(judged)
    before = dict.fromkeys((place.space for place in measured), ATMOSPHERE)
    for step, done, key in _TOWED_STEPS if circuit.is_towed else _STEPS:
        level = situation(key).air(judged.evidence).level
        now = {place.space: max(level.get(place.space, ATMOSPHERE), ATMOSPHERE) for place in measured}
        rows += _readings(step, done, measured, before, now)
        before = now
        if step == "charge":
            rows += [*_governors(circuit), *_warnings(circuit), *_knobs(circuit)]
    rows += [*_leaking(circuit), *_parting(circuit, measured)]
    return Table(
        "test-record", "Test record",
        ("step", "what is done", "place", "how", "expected", "basis", *_BLANK), tuple(rows),
        ("Settled pressures, predicted with a full circuit, some by simulation; what is measured decides. A place without "
         "a gauge or a test point is asked for where its pressure changes. Times of application and release are under "
         "response prediction.",
         "Wheels chocked on level ground; a licensed person tests and signs."),
        frozenset(_BLANK), wide=frozenset({"how"}), assumed=bool(circuit.assumed), bands=("step", "what is done"),
    )


def _readings(step: str, done: str, measured: list[Place], before: dict[int, float], now: dict[int, float],
              basis: str = "predicted") -> Iterator[Row]:
    for place in measured:
        if place.is_given or abs(now[place.space] - before[place.space]) > _PLAY:
            yield (step, done, place.name, place.how, shown(now[place.space], "pressure"), basis, "", "", "")


def _governors(circuit: Circuit) -> Iterator[Row]:
    for setting, done in (("cut-out", "engine on: the compressor stops"),
                          ("cut-in", "air let out slowly: it pumps again")):
        for governor in circuit.having(Trait.GOVERNS):
            yield (setting, done, governor.name, "on the nearest gauge", *_set(governor, setting), "", "", "")


def _warnings(circuit: Circuit) -> Iterator[Row]:
    for switch in circuit.having(Trait.WARNS_LOW):
        yield ("warning", "engine off, pedal pumped until the warning comes", switch.name, "on the nearest gauge",
               *_set(switch, "on-below"), "", "", "")


def _knobs(circuit: Circuit) -> Iterator[Row]:
    for device in circuit.devices:
        for name in device.given:
            if name.endswith("pops-out-at") and device.settings.get(name) is not None:
                knob = name.removesuffix("pops-out-at").strip("-")
                yield ("pop-out", "air let out on until the control comes out by itself", device.name,
                       f"{knob} knob, on the nearest gauge" if knob else "on the nearest gauge", *_set(device, name), "", "", "")


def _set(device: Device, name: str) -> tuple[str, str]:
    return (shown(device.settings[name], "pressure"), "assumed" if device.given[name].assumed else "declared")


def _leaking(circuit: Circuit) -> Iterator[Row]:
    """What comes in which order as the air goes, read at the lowest reservoir."""
    try:
        found = leak_down(circuit)
    except CannotAsk:
        return
    for moment in found.moments:
        yield ("leak-down", "engine off, air let out slowly from every brake reservoir", moment.what, "lowest reservoir",
               shown(moment.level[0], "pressure"), BY_SIMULATION, "", "", "")


def _parting(circuit: Circuit, measured: list[Place]) -> Iterator[Row]:
    """What is left after the supply line has parted, at each coupling by itself."""
    start = full_pressure(circuit)
    heads = fed_heads(circuit, "supply") or tail_heads(circuit, "supply") or tuple(
        circuit.by_name[coupling.ends[0]] for coupling in circuit.couplings
        if circuit.by_name[coupling.ends[0]].settings["line"] == "supply")
    for head in heads:
        trace = simulate(circuit, standing(circuit, start, uncouple(head.name, 0.0)), _PARTED)
        if trace.complete:
            spaces = {place.space for place in measured}
            yield from _readings("separation", f"driving, supply line parted at {head.name}: after {_PARTED:g} s", measured,
                                 {space: trace.pressure(space, 0.0) for space in spaces},
                                 {space: max(trace.last(space), ATMOSPHERE) for space in spaces}, BY_SIMULATION)


def leak_record(judged: Verdict) -> Table:
    """Leak and hold tests, a form, with what a chosen set of rules allows."""
    full = shown(full_pressure(judged.circuit), "pressure")
    rows = [(f"drop in 1 minute, {how}", f"full, {full}, engine off", *_allowed(judged, value))
            for how, value in (("brakes released", "released_psi_min"), ("pedal held down", "applied_psi_min"))]
    if judged.circuit.having(Trait.COMPRESSES):
        rows.append(("time from 85 to 100 psi", "engine at its rated speed", "under charging, with the prediction", ""))
    if any(name.endswith("pops-out-at") for device in judged.circuit.devices for name in device.given):
        rows.append(("park control comes out by itself at", "air let out slowly", "set pressure in the test record", ""))
    if judged.circuit.having(Trait.COUPLES_VEHICLES):
        rows.append(("hold after the supply line has parted, 15 minutes", "wheels chocked beside it", "", ""))
    blank = ("start pressure", "found", "instrument", "date, by")
    return Table("leak-record", "Leak and build-up record", ("test", "how", "allowed", "asked by", *blank),
                 tuple((*row, *("" for _ in blank)) for row in rows), (), frozenset(blank), wide=frozenset({"test", "allowed"}))


def _allowed(judged: Verdict, value: str) -> tuple[str, str]:
    """What a chosen set lets leak, and the clause; in the clause's words for a combination, which may lose more."""
    for clause in (clause for each in judged.sets for clause in each.clauses if value in clause.values):
        if judged.circuit.is_combination:
            return clause.asks, clause.cited
        if judged.circuit.vehicle.vehicle_class in clause.vehicles:
            return f"{clause.values[value]:g} psi in a minute", clause.cited
    return "", ""


def stroke_record(judged: Verdict) -> Table:
    """Push-rod strokes, a form."""
    blank = ("free", "applied at 90 to 100 psi", "limit", "by")
    rows = []
    for chamber in judged.circuit.having(Trait.SERVICE_ACTUATOR):
        settings = chamber.settings
        inches, millimetres = (value_in(settings["stroke"], unit, "length") for unit in ("in", "mm"))
        rows.append((chamber.name, str(settings["axle"]), str(settings["side"]), str(settings["type"]),
                     f"{inches:.2f} in ({millimetres:.0f} mm)", "", "", "", ""))
    return Table("stroke-record", "Stroke record", ("chamber", "axle", "side", "type", "full stroke", *blank), tuple(rows), (),
                 frozenset(blank))


def balance_record(judged: Verdict) -> Table:
    """Brake forces left and right, a form."""
    blank = ("axle mass", "air pressure", "force left", "force right", "difference %", "roller or road", "date, by")
    rows = tuple((axle.name, str(axle.position), *("" for _ in blank)) for axle in judged.circuit.axles)
    return Table("balance-record", "Brake balance record", ("axle", "position", *blank), rows, (), frozenset(blank))


def photographs() -> Table:
    """What is to be photographed, a form."""
    what = ("plate of each reservoir", "each drain, lowest point", "routing of lines at every joint that moves",
            "couplings and their colours", "load plate", "test points, gauges and warnings")
    blank = ("file or number", "date, by")
    return Table("photographs", "Photographs", ("what", *blank), tuple((each, "", "") for each in what), (), frozenset(blank),
                 wide=frozenset({"what"}))
