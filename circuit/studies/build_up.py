"""How long the compressors take from one pressure to another in every brake reservoir, over all that is not known exactly."""

from collections.abc import Mapping
from typing import Any

from circuit.declaring.traits import Trait
from circuit.judging.limits import pressure
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.model.trace import Trace
from circuit.sim import Engine, Options, Script
from circuit.sim.drawn import simulate_drawn
from circuit.studies.knobs import LONGEST
from circuit.studies.once import once
from circuit.studies.spread import Spread, causes_of, plan, spread


def brake_reservoirs(circuit: Circuit) -> tuple[Device, ...]:
    return circuit.reservoirs_for("supply", "service")


@once
def without_auxiliaries(circuit: Circuit) -> Circuit:
    """The circuit with everything behind a protection valve cut off where no brake is fed through it."""
    brakes = {circuit.store(tank) for tank in circuit.reservoirs_for("supply", "service", "parking")}
    brakes |= {circuit.service_space(chamber) for chamber in circuit.having(Trait.SERVICE_ACTUATOR)}
    brakes |= {circuit.spring_space(chamber) for chamber in circuit.having(Trait.SPRING_ACTUATOR)}
    cut = []
    for way in circuit.ways:
        if way.passage.keeps and not brakes & _beyond(circuit, way.end, way.start):
            cut.append((way.device.name, way.passage.end))
    return circuit.apart(*dict.fromkeys(cut))


def _beyond(circuit: Circuit, space: int, barred: int) -> set[int]:
    """Every space that air of one could ever come to without passing another or the open air."""
    seen, todo = {space, barred, SPACE_OUTSIDE}, [space]
    while todo:
        for way in circuit.ways_at[todo.pop()]:
            for here, there, passes in ((way.start, way.end, True), (way.end, way.start, way.passage.both_ways)):
                if passes and here in seen and there not in seen:
                    seen.add(there)
                    todo.append(there)
    return seen - {barred, SPACE_OUTSIDE}


def build_up_time(circuit: Circuit, how: Mapping[str, Any], options: Options) -> Spread:
    """s until every supply and service reservoir has the higher pressure, all starting at the lower, auxiliaries shut off."""
    return _between(without_auxiliaries(circuit), pressure(how, "from"), pressure(how, "to"), options)


@once
def _between(circuit: Circuit, low: float, high: float, options: Options) -> Spread:
    causes, script, until = causes_of(circuit, options), Script(pressures={"reservoirs": low}), 60.0
    shares = plan(circuit.draws, len(causes))
    tanks = [circuit.store(tank) for tank in brake_reservoirs(circuit)]
    while True:
        middle, *drawn = simulate_drawn(circuit, script, causes, [[0.5] * len(causes), *shares], until, engine=Engine(True),
                                        options=options, watch=[".".join(circuit.ports_of[tank][0]) for tank in tanks])
        typical, *slowest = (_slowest_of(trace, tanks, high) for trace in (middle, *drawn))
        if None not in (typical, *slowest) or until >= LONGEST or typical is None and until >= 16 * 60.0:
            return spread(slowest, typical, causes, shares)
        until = min(4 * until, LONGEST)


def _slowest_of(trace: Trace, tanks: list[int], high: float) -> float | None:
    """s until every one of some tanks has a pressure; None where one never has."""
    times = [trace.first_time(tank, high) for tank in tanks]
    return None if not times or None in times else max(time for time in times if time is not None)
