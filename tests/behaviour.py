"""What a circuit does when it is played, whatever its rules say: pressures of brakes, springs and heads, state by state."""

from circuit.declaring.traits import Trait
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.sim import Engine, Options, Script, leak, move, simulate
from circuit.studies.hands import CannotAsk, apply, let_go, park, pedals, standing, unpark
from circuit.units import ATMOSPHERE

READS = {"driving": 2.0, "half pedal": 7.0, "pedal": 12.0, "released": 22.0, "parked": 42.0, "parked, pedal": 50.0,
         "driving again": 75.0}
"""s at which each state is read."""
HOLE = 0.02
"""m of the hole by which a reservoir is lost; our choice."""
OPTIONS = Options()


def places(circuit: Circuit) -> dict[str, int]:
    """What is watched: service and spring sides, rear heads, switched users."""
    found = {f"{one.name} service": circuit.service_space(one) for one in circuit.having(Trait.SERVICE_ACTUATOR)}
    found |= {f"{one.name} spring": circuit.spring_space(one) for one in circuit.having(Trait.SPRING_ACTUATOR)}
    found |= {f"{one.name} head": circuit.store(one) for one in circuit.having(Trait.COUPLES_VEHICLES)
              if one.settings["end"] == "rear"}
    found |= {f"{one.name} user": circuit.store(one) for one in circuit.having(Trait.USES_AIR)}
    return found


def played(circuit: Circuit) -> dict[tuple[str, str], float]:
    """State and place to Pa above the atmosphere. An engine that stands still; a run that falls short gives nothing more."""
    full = full_pressure(circuit)
    half = ATMOSPHERE + 0.5 * (full - ATMOSPHERE)
    found: dict[tuple[str, str], float] = {}
    try:
        actions = (*_half(circuit, half), *apply(circuit, 7.0, rig=full), *let_go(circuit, 12.0), *park(circuit, 22.0),
                   *(move(device.name, variable, 1.0, 42.0, 0.1) for device, variable in pedals(circuit)),
                   *let_go(circuit, 50.0), *unpark(circuit, 55.0))
    except CannotAsk:
        actions = (*park(circuit, 22.0), *unpark(circuit, 55.0))
    _read(circuit, standing(circuit, full, *actions), READS, found)
    for tank in circuit.reservoirs_for("service", "parking"):
        lost = {f"{tank.name} lost": 30.0, f"{tank.name} lost, pedal": 40.0}
        try:
            pressed = apply(circuit, 30.0, rig=full)
        except CannotAsk:
            pressed = ()
        _read(circuit, standing(circuit, full, leak(tank.name, HOLE, at=0.5), *pressed), lost, found)
    return found


def _half(circuit: Circuit, half: float):  # type: ignore[no-untyped-def]
    return apply(circuit, 2.0, demand=half, rig=half)


def _read(circuit: Circuit, script: Script, reads: dict[str, float], found: dict[tuple[str, str], float]) -> None:
    trace = simulate(circuit, script, until=max(reads.values()) + 0.1, engine=Engine(running=False), options=OPTIONS)
    if trace.complete:
        for state, time in reads.items():
            for name, space in places(circuit).items():
                found[state, name] = (trace.pressure(space, time) - ATMOSPHERE) if space >= 0 else 0.0


def differs(before: dict[tuple[str, str], float], after: dict[tuple[str, str], float]) -> list[str]:
    """States and places that come to something else: by 0.6 bar and by 15 % of the higher."""
    found = []
    for key, value in before.items():
        other = after.get(key)
        if other is None and key[1].endswith("user"):
            continue  # a user of air that was left out is missed by nobody
        if other is None or (abs(value - other) > 0.6e5 and abs(value - other) > 0.15 * max(value, other)):
            found.append(f"{key[1]} {key[0]}: {value / 1e5:.1f} -> {'gone' if other is None else f'{other / 1e5:.1f}'}")
    return found
