"""Parking by springs: how it is worked, and whether every spring is fully on. What else holds a parked vehicle is not
drawn."""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.judging.limits import pressure, volume
from circuit.judging.prediction import Predicted
from circuit.judging.question import by, fell_short
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Action, Rig, feed, pull, push, uncouple
from circuit.studies.effort import FULLY_ON
from circuit.studies.hands import RIG_VALVE, fed_heads, tail_heads


class Control(NamedTuple):
    """How the parking brake is worked: knobs and levers, or the supply line of a towed vehicle."""

    controls: tuple[str, ...]
    heads: tuple[str, ...]

    def on(self, at: float) -> tuple[Action, ...]:
        return tuple(uncouple(head, at) for head in self.heads) or tuple(pull(name, at) for name in self.controls)

    def off(self, at: float, line: float) -> tuple[Action, ...]:
        """line: absolute Pa of the rig on a towed vehicle's supply head."""
        return (tuple(feed(head, line, at, 0.0, RIG_VALVE) for head in self.heads)
                or tuple(push(name, at) for name in self.controls))


def control_of(circuit: Circuit) -> Control | None:
    """None where nothing lets springs on."""
    heads = tuple(head.name for head in fed_heads(circuit, "supply")) if circuit.is_towed else ()
    controls = tuple(d.name for d in circuit.having(Trait.PARK_CONTROL) if d.kind.when.get("parked"))
    return Control(controls, heads) if circuit.having(Trait.SPRING_ACTUATOR) and (heads or controls) else None


def stored(control: Control, clause: Clause) -> dict[str, float]:
    """The clause's start, absolute Pa, in the reservoirs and in a towed vehicle's supply line."""
    start = pressure(clause.procedure, "start")
    return {"reservoirs": start, **{head: start for head in control.heads}}


def pots(circuit: Circuit, clause: Clause) -> tuple[Rig, ...]:
    """The clause's vessel on a supply coupling to a vehicle behind."""
    return tuple(Rig(head.name, volume(clause.procedure, "vessel"), name=f"pot on {head.name}")
                 for head in tail_heads(circuit, "supply"))


def springs_on(circuit: Circuit, clause: Clause, runs: list[tuple[str, Trace]], when: float, done: str
               ) -> Iterator[Predicted]:
    """The spring with the most air left in any run at a time. runs: each with how it differs. done: in words."""
    if not all(trace.complete for _, trace in runs):
        yield fell_short(clause)
        return
    rows = [(trace.pressure(circuit.spring_space(spring), when), number, spring.name)
            for number, (_, trace) in enumerate(runs) for spring in circuit.having(Trait.SPRING_ACTUATOR)]
    left, number, spring = max(rows, key=lambda row: (row[0], -row[1]))
    figure = Figure(f"air left in {spring}", left, FULLY_ON, "pressure", at_least=False)
    yield by(clause, figure.margin, spring,
             f"{done}, every spring is fully on in each of {len(runs)} runs; {spring} has the most air left"
             if figure.margin >= 0 else f"{done}, {spring} is not fully on {runs[number][0]}", figure)
