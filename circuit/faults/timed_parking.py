"""Clauses of the parking brake that speak of a sequence, decided from simulations. Springs only: what else holds a
parked vehicle is not drawn."""

from collections.abc import Iterator
from itertools import product
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.timed_braking import service_leaks
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Result
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import (
    Action,
    Engine,
    Options,
    Rig,
    Script,
    Variant,
    feed,
    pull,
    push,
    simulate,
    simulate_many,
    uncouple,
)
from circuit.studies.effort import FULLY_ON
from circuit.studies.hands import FOOT, PSI, RIG_VALVE, SMALL_POT, apply, fed_heads, let_go, pedals, tail_heads
from circuit.studies.holding import fell_short
from circuit.units import ATMOSPHERE

STORED = ATMOSPHERE + 100 * PSI
LEVELS = tuple(ATMOSPHERE + psi * PSI for psi in (100, 60, 30, 0))
"""Absolute Pa in each service reservoir, in every combination; our choice."""
PARKS_IN = 3.0
"""s after the control's movement at which springs are looked at; 571.121 S5.6.3.3 and S5.6.3.4."""
LIFTS_IN = 20.0
"""s that a released brake is left to lift; our choice."""
STROKES, STROKE = 80, 2.0
"""How often a pedal is pumped at most, and s of each stroke, half of them down; our choice."""


class Control(NamedTuple):
    """How the parking brake is worked: knobs and levers, or the supply line of a towed vehicle."""

    controls: tuple[str, ...]
    heads: tuple[str, ...]

    def on(self, at: float) -> tuple[Action, ...]:
        return tuple(uncouple(head, at) for head in self.heads) or tuple(pull(name, at) for name in self.controls)

    def off(self, at: float, line: float = STORED) -> tuple[Action, ...]:
        """line: absolute Pa of the rig on a towed vehicle's supply head."""
        return (tuple(feed(head, line, at, 0.0, RIG_VALVE) for head in self.heads)
                or tuple(push(name, at) for name in self.controls))


def control_of(circuit: Circuit) -> Control | None:
    """None where nothing lets springs on."""
    heads = tuple(head.name for head in fed_heads(circuit, "supply")) if circuit.is_towed else ()
    controls = tuple(d.name for d in circuit.having(Trait.PARK_CONTROL) if d.kind.when.get("parked"))
    return Control(controls, heads) if circuit.having(Trait.SPRING_ACTUATOR) and (heads or controls) else None


def pots(circuit: Circuit) -> tuple[Rig, ...]:
    """The 50 in3 reservoir on a supply coupling to a vehicle behind; 571.121 S5.6.3.3."""
    return tuple(Rig(head.name, SMALL_POT, name=f"pot on {head.name}") for head in tail_heads(circuit, "supply"))


def comes_on(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """571.121 S5.6.3.3: every spring fully on in time, from 100 psi, without a leak and with each single one."""
    control, leaks = control_of(circuit), service_leaks(circuit)
    if control is None:
        return
    script = Script(control.on(0.0), pressures={"reservoirs": STORED, **{head: STORED for head in control.heads}},
                    rigs=pots(circuit))
    variants = [Variant("with no leak"), *(Variant(f"with {fault.name}", fault.parts) for fault in leaks)]
    traces = simulate_many(circuit, script, variants, 4 * PARKS_IN)
    if not all(trace.complete for trace in traces):
        yield fell_short(clause)
        return
    rows = [(trace.first_time(circuit.spring_space(spring), FULLY_ON, rising=False), number, spring.name)
            for number, trace in enumerate(traces) for spring in circuit.having(Trait.SPRING_ACTUATOR)]
    for time, number, name in rows:
        if time is None:
            yield Predicted(clause, Result.NOT_MET, name,
                            f"{traces[number].label} the spring of {name} is not on within {4 * PARKS_IN:g} s", None)
            return
    time, number, name = max(((t, n, s) for t, n, s in rows if t is not None), key=lambda row: (row[0], -row[1]))
    figure = Figure(f"{name} fully on", time, PARKS_IN, "time", at_least=False)
    yield Predicted(clause, Result.MET if figure.margin >= 0 else Result.NOT_MET, name,
                    f"{name} is the last spring to be fully on, {traces[number].label}, the slowest of {len(traces)} "
                    "runs", figure)


def applies_again(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """571.121 S5.6.5: from parked, released and applied again, at many combinations of reservoir pressures, and with
    each single leak from 100 psi; a trailer's line at 75 and 100 psi."""
    control = control_of(circuit)
    if control is None:
        return
    lines = (ATMOSPHERE + (clause.values["trailer_psi"] + 5) * PSI, STORED) if control.heads else (STORED,)
    runs: list[tuple[str, Trace]] = []
    tanks = circuit.reservoirs_for("service")
    for line, levels in product(lines, product(LEVELS, repeat=min(len(tanks), 2))):
        pressures = {tank.name: levels[min(number, len(levels) - 1)] for number, tank in enumerate(tanks)}
        words = " and ".join(f"{(level - ATMOSPHERE) / PSI:.0f} psi" for level in levels)
        runs.append((f"from {words} in the reservoirs", simulate(circuit, _again(circuit, control, line, pressures),
                                                                 _AGAIN_ENDS)))
    leaks = service_leaks(circuit)
    traces = simulate_many(circuit, _again(circuit, control, STORED, {"reservoirs": STORED}),
                           [Variant(fault.name, fault.parts) for fault in leaks], _AGAIN_ENDS)
    runs += [(f"with {fault.name}", trace) for fault, trace in zip(leaks, traces)]
    yield from _springs_on(circuit, clause, runs, 2.0 + LIFTS_IN + PARKS_IN, "applied again")


_AGAIN_ENDS = 2.0 + LIFTS_IN + 2 * PARKS_IN


def _again(circuit: Circuit, control: Control, line: float, pressures: dict[str, float]) -> Script:
    """Applied at once, released at 2 s, applied again."""
    actions = (*control.on(0.0), *control.off(2.0, line), *control.on(2.0 + LIFTS_IN))
    heads = {head: STORED for head in control.heads}
    return Script(actions, "driving" if control.heads else "parked", {**pressures, **heads}, rigs=pots(circuit))


def stored_for_parking(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """571.121 S5.6.6: from 100 psi, with each single leak there from the start: applied, released and applied again,
    with a wait between."""
    control, wait = control_of(circuit), float(clause.values["wait_s"])
    leaks = service_leaks(circuit)
    if control is None or not leaks:
        return
    actions = (*control.on(0.0), *control.off(wait), *control.on(2 * wait))
    script = Script(actions, pressures={"reservoirs": STORED, **{head: STORED for head in control.heads}},
                    rigs=pots(circuit))
    variants = [Variant(fault.name, fault.parts) for fault in leaks]
    traces = simulate_many(circuit, script, variants, 2 * wait + 2 * PARKS_IN)
    runs = [(f"with {fault.name}", trace) for fault, trace in zip(leaks, traces)]
    yield from _springs_on(circuit, clause, runs, 2 * wait + PARKS_IN, "applied, released and applied again")


def _springs_on(circuit: Circuit, clause: Clause, runs: list[tuple[str, Trace]], when: float, done: str
                ) -> Iterator[Predicted]:
    """The spring with the most air left in any run at a time."""
    if not all(trace.complete for _, trace in runs):
        yield fell_short(clause)
        return
    rows = [(trace.pressure(circuit.spring_space(spring), when), number, spring.name)
            for number, (_, trace) in enumerate(runs) for spring in circuit.having(Trait.SPRING_ACTUATOR)]
    pressure, number, spring = max(rows, key=lambda row: (row[0], -row[1]))
    figure = Figure(f"air left in {spring}", pressure, FULLY_ON, "pressure", at_least=False)
    met = figure.margin >= 0
    yield Predicted(clause, Result.MET if met else Result.NOT_MET, spring,
                    f"{done}, every spring is fully on in each of {len(runs)} runs; {spring} has the most air left"
                    if met else f"{done}, {spring} is not fully on {runs[number][0]}", figure)


def comes_on_by_itself(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """Driver's manuals: the fullest service reservoir when the first spring is fully on, the pedal being pumped."""
    tanks = circuit.reservoirs_for("service")
    if control_of(circuit) is None or not pedals(circuit) or not tanks:
        return
    actions: list[Action] = []
    for number in range(STROKES):
        actions += [*apply(circuit, number * STROKE, None, FOOT), *let_go(circuit, (number + 0.5) * STROKE, FOOT)]
    script = Script(tuple(actions), pressures={"reservoirs": full_pressure(circuit)})
    trace = simulate(circuit, script, STROKES * STROKE)
    if not trace.complete:
        yield fell_short(clause)
        return
    found = [(time, spring.name) for spring in circuit.having(Trait.SPRING_ACTUATOR)
             if (time := trace.first_time(circuit.spring_space(spring), FULLY_ON, rising=False)) is not None]
    if not found:
        left = max(trace.last(circuit.store(tank)) for tank in tanks)
        yield Predicted(clause, Result.NOT_MET, tanks[0].name,
                        f"no spring is fully on after {STROKES} strokes of the pedal, with "
                        f"{(left - ATMOSPHERE) / PSI:.0f} psi left in the fullest service reservoir", None)
        return
    time, name = min(found)
    level = max(trace.pressure(circuit.store(tank), time) for tank in tanks)
    least, most = (ATMOSPHERE + clause.values[word] * PSI for word in ("least_psi", "most_psi"))
    high = most - level < level - least
    figure = Figure("fullest service reservoir then", level, most if high else least, "pressure", at_least=not high)
    yield Predicted(clause, Result.MET if least <= level <= most else Result.NOT_MET, name,
                    f"pumping the pedal lets the first spring, {name}, fully on", figure)


def held_while_filling(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """UN R13 Annex 8 2.3.3: the service reservoirs when the first spring begins to lift, filled from nothing with the
    parking control released, against the declared pressure of secondary braking."""
    asks = circuit.vehicle.declared.get("secondary-at")
    springs, tanks = circuit.having(Trait.SPRING_ACTUATOR), circuit.reservoirs_for("service")
    if not springs or not tanks or not circuit.having(Trait.COMPRESSES):
        return
    if asks is None:
        yield Predicted(clause, Result.UNDECIDED, "",
                        "`secondary-at` on the vehicle, the chamber pressure of secondary braking", None)
        return
    trace = simulate(circuit, Script(), 600.0, start="empty", engine=Engine(True), options=Options())
    lifts = [(time, spring.name) for spring in springs
             if (time := trace.first_time(circuit.spring_space(spring), FULLY_ON)) is not None]
    if not trace.complete:
        yield fell_short(clause)
    if not trace.complete or not lifts:
        return
    time, name = min(lifts)
    lowest = min(trace.pressure(circuit.store(tank), time) for tank in tanks)
    figure = Figure("lowest service reservoir then", lowest, asks, "pressure")
    yield Predicted(clause, Result.MET if figure.margin >= 0 else Result.NOT_MET, name,
                    f"filled from nothing, {name} is the first to be lifted, after {time:.0f} s", figure)
