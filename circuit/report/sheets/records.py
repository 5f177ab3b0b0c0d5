"""Forms for measuring: the predicted or declared figure beside a blank for what was found."""

from collections.abc import Iterator

from circuit.kinds.kind import Trait
from circuit.model.air import full_pressure
from circuit.report.sheets.table import Table
from circuit.report.situations import situation
from circuit.rules.judge import Verdict
from circuit.units import ATMOSPHERE, shown, value_in

_BLANK = ("measured", "instrument", "remarks")
_STEPS = (
    ("charge", "engine on until the compressor stops, park control applied", "parked"),
    ("drive", "park control released, pedal up", "driving"),
    ("apply", "pedal all the way down, engine off", "braking"),
    ("release", "pedal up again", "released"),
    ("park", "park control applied", "parked"),
)


def places(judged: Verdict) -> list[tuple[str, str, int]]:
    """Where is measured: gauges and test points; then reservoirs and chambers that have none. Name, how, space."""
    circuit = judged.circuit
    found = [(device.name, device.kind.title.lower(), circuit.store(device))
             for device in circuit.devices if device.has(Trait.SHOWS_PRESSURE) or device.has(Trait.TESTS_PRESSURE)]
    zones = [judged.evidence.zone(space) for _, _, space in found]

    def bare(space: int) -> bool:
        return not any(space in zone for zone in zones)

    found += [(tank.name, "no gauge or test point: at a boss", circuit.store(tank)) for tank in circuit.reservoirs
              if bare(circuit.store(tank))]
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        if bare(space := circuit.service_space(chamber)):
            found.append((f"{chamber.name} service side", "no test point: at the port", space))
    for chamber in circuit.having(Trait.SPRING_ACTUATOR):
        if bare(space := circuit.spring_space(chamber)):
            found.append((f"{chamber.name} spring side", "no test point: at the port", space))
    return found


def test_record(judged: Verdict) -> Table:
    """Each step at each place, with what is predicted."""
    rows: list[tuple[str, ...]] = []
    measured = places(judged)
    for step, done, key in _STEPS:
        level = situation(key).air(judged.evidence).level
        for name, how, space in measured:
            rows.append((step, done, name, how, shown(max(level.get(space, ATMOSPHERE), ATMOSPHERE), "pressure"), "predicted",
                         "", "", ""))
        if step == "charge":
            rows += _governors(judged)
            rows += _warnings(judged)
    return Table(
        "test-record", "Test record",
        ("step", "what is done", "place", "how", "expected", "basis", *_BLANK), tuple(rows),
        ("Settled pressures, predicted with a full circuit; what is measured decides.",
         "Wheels chocked on level ground; a licensed person tests and signs."),
        frozenset(_BLANK), wide=frozenset({"what is done", "how"}), assumed=bool(judged.circuit.assumed),
    )


def _governors(judged: Verdict) -> Iterator[tuple[str, ...]]:
    for governor in judged.circuit.having(Trait.GOVERNS):
        for step, setting in (("cut-out", "cut-out"), ("cut-in", "cut-in")):
            yield (step, "read where the governor senses", governor.name, "on the nearest gauge",
                   shown(governor.settings[setting], "pressure"), _basis(governor.given[setting].assumed), "", "", "")


def _warnings(judged: Verdict) -> Iterator[tuple[str, ...]]:
    for switch in judged.circuit.having(Trait.WARNS_LOW):
        yield ("warning", "engine off, pedal pumped until the warning comes", switch.name, "on the nearest gauge",
               shown(switch.settings["on-below"], "pressure"), _basis(switch.given["on-below"].assumed), "", "", "")


def _basis(assumed: bool) -> str:
    return "assumed" if assumed else "declared"


def leak_record(judged: Verdict) -> Table:
    """Leak and hold tests, a form."""
    full = shown(full_pressure(judged.circuit), "pressure")
    rows = (
        ("drop in 1 minute, brakes released", f"full, {full}", "", "", "", "", ""),
        ("drop in 1 minute, pedal held down", f"full, {full}", "", "", "", "", ""),
        ("time from 85 to 100 psi", "engine at its rated speed", "", "", "", "", ""),
        ("park control pops out by itself at", "air let out slowly", "", "", "", "", ""),
        ("hold after breakaway, 15 minutes", "supply line parted", "", "", "", "", ""),
    )
    blank = ("start pressure", "found", "allowed", "instrument", "date, by")
    return Table("leak-record", "Leak and build-up record", ("test", "how", *blank), rows, (), frozenset(blank),
                 wide=frozenset({"test"}))


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
