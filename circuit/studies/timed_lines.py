"""Clauses of a towed vehicle's control and supply line, decided from simulations."""

from collections.abc import Iterator
from math import pi
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.gas.chamber import PUSHES_OUT
from circuit.gas.flow import SHARP_HOLE, from_area
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Result
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Action, Rig, feed, leak, uncouple
from circuit.studies.effort import FULLY_ON
from circuit.studies.hands import PSI, SMALL_POT, fed_heads, standing, tail_heads
from circuit.studies.holding import fell_short
from circuit.studies.leak_down import hole_for
from circuit.studies.once import simulate
from circuit.units import ATMOSPHERE

INCH = 0.0254
SETTLES = 240.0
"""s that the rig's small orifice is given to fill the control line, and to empty it; our choice."""
STORED = ATMOSPHERE + 100 * PSI
FED = ATMOSPHERE + 650e3
"""Absolute Pa in the supply line and the reservoirs before it falls: that of the simulator of UN R13 Annex 6."""
IN_STEP = 0.3e5
"""Pa that springs may stand above the reserve they are to fall with; our choice."""


class Difference(NamedTuple):
    """gap, allowed: Pa between the input of a control line and its output. at: absolute Pa at the input then. place:
    where the output is taken. complete: whether the runs reached their end."""

    gap: float
    allowed: float
    at: float
    place: str
    complete: bool = True

    @property
    def figure(self) -> Figure:
        return Figure(f"difference at {(self.at - ATMOSPHERE) / PSI:.0f} psi", self.gap, self.allowed, "difference",
                      at_least=False)


def difference(circuit: Circuit, clause: Clause) -> Difference | None:
    """The worst of 571.121 S5.3.5: input against output of the control line, filled from 100 psi and emptied from 95
    through the rig's orifice, 50 in3 on the output; None for a vehicle that passes no control line on."""
    inputs, outputs = fed_heads(circuit, "control"), tail_heads(circuit, "control")
    if not inputs or not outputs:
        return None
    pots = tuple(Rig(head.name, SMALL_POT, name=f"pot on {head.name}") for head in outputs)
    orifice = from_area(SHARP_HOLE * pi / 4 * (clause.values["orifice_in"] * INCH) ** 2)
    found: list[tuple[float, Difference]] = []
    for first, falls in ((100.0, False), (95.0, True)):
        actions = [feed(head.name, ATMOSPHERE + first * PSI, 0.0, 0.0, orifice) for head in inputs]
        if falls:
            actions += [feed(head.name, ATMOSPHERE, SETTLES, 0.0, orifice) for head in inputs]
        trace = simulate(circuit, standing(circuit, ATMOSPHERE + 100 * PSI, *actions, rigs=pots),
                         2 * SETTLES if falls else SETTLES)
        if not trace.complete:
            return Difference(0.0, 0.0, ATMOSPHERE, outputs[0].name, False)
        for pot in pots:
            found += [(share, Difference(gap, allowed, at, pot.name)) for share, gap, allowed, at in
                      _differences(trace, inputs[0].name, pot.name, clause, SETTLES if falls else 0.0)]
    return max(found, key=lambda each: each[0])[1]


def balance(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """571.121 S5.3.5."""
    worst = difference(circuit, clause)
    if worst is None:
        return
    if not worst.complete:
        yield fell_short(clause)
        return
    yield Predicted(clause, Result.MET if worst.figure.margin >= 0 else Result.NOT_MET,
                    tail_heads(circuit, "control")[0].name,
                    "control line at its input against its output, pressure rising and falling", worst.figure)


def _differences(trace: Trace, head: str, pot: str, clause: Clause, after: float
                 ) -> Iterator[tuple[float, float, float, float]]:
    """Share of what is allowed, Pa of difference, Pa allowed and absolute Pa at the input, at the end of each step."""
    for time, at, out in zip(trace.times, trace.at_steps(head), trace.at_steps(pot)):
        psi = (at - ATMOSPHERE) / PSI
        if time < after or psi < 5.0:
            continue
        allowed = (clause.values["low_psi"] if psi <= 20 else clause.values["middle_psi"] if psi <= 40
                   else clause.values["high_share"] * psi) * PSI
        yield abs(at - out) / allowed, abs(at - out), allowed, at


def brakes_as_supply_falls(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """UN R13 5.2.2.12: the supply line when the first brake begins, as it falls evenly."""
    heads = fed_heads(circuit, "supply")
    if not heads:
        return
    falls = 1e3 * float(clause.values["falls_kpa_s"])
    over = (FED - ATMOSPHERE) / falls
    actions = [feed(head.name, ATMOSPHERE, 1.0, over) for head in heads]
    trace = simulate(circuit, standing(circuit, FED, *actions), 1.0 + over + 2.0)
    if not trace.complete:
        yield fell_short(clause)
        return
    begins = [(time, device.name) for device, space, level, rising in _brakes(circuit)
              if (time := trace.first_time(space, level, rising, 1.0)) is not None]
    limit = ATMOSPHERE + 1e3 * clause.values["by_kpa"]
    if not begins:
        yield Predicted(clause, Result.NOT_MET, heads[0].name,
                        "no brake begins while the supply line falls to nothing", None)
        return
    time, name = min(begins)
    level = trace.pressure(heads[0].name, time)
    figure = Figure("supply line then", level, limit, "pressure")
    yield Predicted(clause, Result.MET if figure.margin >= 0 else Result.NOT_MET, name,
                    f"as the supply line falls by {falls / 1e3:.0f} kPa/s, {name} is the first brake to begin", figure)


def _brakes(circuit: Circuit):  # type: ignore[no-untyped-def]
    """Each brake's space with the absolute Pa at which it begins, and whether that is reached rising."""
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        yield chamber, circuit.service_space(chamber), ATMOSPHERE + PUSHES_OUT, True
    for chamber in circuit.having(Trait.SPRING_ACTUATOR):
        yield chamber, circuit.spring_space(chamber), chamber.settings["holds-off-at"], False


def springs_follow_the_reserve(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """UN R13 Annex 8 2.8: with the supply line gone the reservoirs leak away; when the fullest has 280 kPa each
    spring is fully on, or from then on falls with it."""
    heads, springs = fed_heads(circuit, "supply"), circuit.having(Trait.SPRING_ACTUATOR)
    tanks = circuit.reservoirs_for("service")
    if not heads or not springs or not tanks:
        return
    level = ATMOSPHERE + 1e3 * float(clause.values["reserve_kpa"])
    actions: list[Action] = [uncouple(head.name, 0.0) for head in heads]
    actions += [leak(tank.name, hole_for(float(tank.settings["volume"]), FED, 5e3), 10.0) for tank in tanks]
    trace = simulate(circuit, standing(circuit, FED, *actions), 600.0)
    times = [trace.first_time(circuit.store(tank), level, rising=False) for tank in tanks]
    if not trace.complete or None in times:
        yield fell_short(clause)
        return
    since = max(time for time in times if time is not None)
    pressure, name, space = max((trace.pressure(circuit.spring_space(s), since), s.name, circuit.spring_space(s))
                                for s in springs)
    figure = Figure(f"air left in {name}", pressure, FULLY_ON, "pressure", at_least=False)
    if figure.margin >= 0:
        yield Predicted(clause, Result.MET, name,
                        "with the reserve at 280 kPa and no supply line every spring is fully on", figure)
        return
    later = [since + (trace.end - since) * number / 50 for number in range(51)]
    reserve = [max(trace.pressure(circuit.store(tank), time) for tank in tanks) for time in later]
    above = max(held - own for held, own in zip(trace.curve(space, later), reserve))
    figure = Figure(f"{name} above the reserve as both fall", above, IN_STEP, "difference", at_least=False)
    yield Predicted(clause, Result.MET if figure.margin >= 0 else Result.NOT_MET, name,
                    f"with the reserve at 280 kPa and no supply line {name} is not fully on"
                    + (", and comes on in step with the reserve" if figure.margin >= 0 else ""), figure)


def breaks_away(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """49 CFR 393.43(d): springs on at once when the supply line parts; they stay on without air."""
    springs = circuit.having(Trait.SPRING_ACTUATOR)
    heads = fed_heads(circuit, "supply")
    if not springs or not heads:
        return
    actions = [uncouple(head.name, 0.0) for head in heads]
    trace = simulate(circuit, standing(circuit, STORED, *actions), 15 * 60.0)
    if not trace.complete:
        yield fell_short(clause)
        return
    for chamber in springs:
        space = circuit.spring_space(chamber)
        if trace.first_time(space, FULLY_ON, rising=False) is None or trace.last(space) > FULLY_ON:
            yield Predicted(clause, Result.NOT_MET, chamber.name, f"the spring of {chamber.name} is held off after the "
                            "supply line has parted", None)
            return
    slowest = max(trace.first_time(circuit.spring_space(c), FULLY_ON, rising=False) or 0.0 for c in springs)
    yield Predicted(clause, Result.MET, springs[0].name, f"every spring is fully on {slowest:.2f} s after the supply "
                    "line parts, and still 15 minutes later, held without air", None)
