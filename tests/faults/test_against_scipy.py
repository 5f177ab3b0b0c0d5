"""Sampled faults played a second time by another solver on equations written a second time."""

import random
from collections.abc import Iterator

import pytest

from circuit.faults.play import STEP, Situation, script_of
from circuit.faults.single import single
from circuit.faults.sorts import parts_of
from circuit.pipeline import load
from circuit.sim import Options, Variant, simulate_many
from circuit.units import ATMOSPHERE
from tests.faults.resimulated import problem_of, resimulate
from tests.faults.studied import EXAMPLES, study_of

PEDAL_AT = 15.0
"""s from the fault to the pedal: short, for a solver that is slow."""
SAMPLED = (("truck-6x4", "pri: burst", False),
           ("semitrailer-tandem", "tank-1: burst", False), ("semitrailer-tandem", "control-head: off", False))
MORE = (("truck-6x4", "tube park-shuttle.2 -> park.1: burst", False), ("truck-6x4", "sec: burst", False),
        ("truck-6x4", "wet: burst", True), ("truck-6x4", "modulator: stuck shut", False), ("truck-6x4", "sec: leaks", True),
        ("truck-6x4", "rear-relay: does not apply", True), ("truck-6x4", "d1-left.can: spring diaphragm torn", False))
DRAWN = {"semitrailer-single": 7, "semitrailer-tandem": 7, "converter-dolly": 6}
"""How many more of each design are drawn by seed, of those that move air; with the others above they are 30."""


def drawn() -> Iterator[tuple[str, str, bool]]:
    """The faults of one part that opens, shuts or holds something; a drifted setting is of other equations."""
    for example, many in DRAWN.items():
        circuit = load(str(EXAMPLES / example / "design.air"))
        able = sorted(fault.name for fault in single(circuit) if len(fault.parts) == 1 and any(
            failure.opens or failure.shuts or failure.holds for _, failure in parts_of(circuit, fault)))
        yield from ((example, name, False) for name in random.Random(30).sample(able, many))


APART = 2e3
"""Pa; most of it is the engine's own tolerance of 30 Pa a step, where a valve is about to turn."""


@pytest.mark.parametrize(("example", "name", "running"), (
    *SAMPLED, *(pytest.param(*each, marks=pytest.mark.slow) for each in (*MORE, *drawn()))))
def test_a_fault_played_again_by_scipy_leaves_the_same(example: str, name: str, running: bool):
    found = study_of(example)
    circuit = found.circuit
    fault = next(e.fault for e in found.effects if e.fault.name == name)
    script, until = script_of(circuit, PEDAL_AT, Situation(running)), PEDAL_AT + 2 * STEP
    variant = Variant(name, fault.parts)
    trace, = simulate_many(circuit, script, [variant], until, engine=Situation(running).engine, options=Options())
    times = (1.0, 5.0, PEDAL_AT, PEDAL_AT + 1.0, PEDAL_AT + STEP, until)
    again = resimulate(problem_of(circuit, script, variant, until, running), times)
    places = {tank.name: circuit.store(tank) for tank in circuit.reservoirs}
    places |= {wheel.name: circuit.service_space(wheel) for wheel in found.whole.wheels}
    places |= {f"{spring.name}.spring": circuit.spring_space(spring) for spring in found.whole.springs}
    apart = {(place, time): again.pressure(space, time) - trace.pressure(space, time)
             for place, space in places.items() for time in times}
    worst = max(apart, key=lambda key: abs(apart[key]))
    assert abs(apart[worst]) < APART, worst
    assert max(again.pressure(space, PEDAL_AT + STEP) for space in places.values()) > ATMOSPHERE + 1e5
