"""The static engine and the simulation read the same passages, so they agree where both have an answer: at rest.

Each example is brought from one situation into another by what hands and feet do, is left alone for a while, and then
stands where the static engine says it stands, less the air that the change has cost.
"""

import pytest

from circuit.model.air import full_pressure
from circuit.sim import Engine, Script, feed, move, simulate, uncouple
from circuit.sim.run import at_rest
from circuit.units import ATMOSPHERE
from tests.designs import example_names
from tests.sim.designs import example

CHANGES = (("driving", "braking"), ("driving", "parked"), ("parked", "driving"))
SLOW = {("tyre-inflation", "driving", "parked"), ("tyre-inflation", "parked", "driving")}
"""Tyres take or keep their air for longer than a test lasts."""
CASES = [(name, *change) for name in example_names() for change in CHANGES if (name, *change) not in SLOW]


def actions_between(circuit, before, after):
    """Everything that stands otherwise in the second situation, moved there."""
    found = []
    for device in circuit.devices:
        then, now = device.kind.state(before), device.kind.state(after)
        found += [move(device.name, name, now[name], 1.0, 0.1) for name in now if now[name] != then[name]]
        if device.kind.source is None:
            fed = device.kind.feeds(device.settings, before), device.kind.feeds(device.settings, after)
            found += [
                feed(f"{device.name}.{port}", full_pressure(circuit), 1.0) for port in fed[1] if port not in fed[0]
            ]
            found += [uncouple(device.name, 1.0) for port in fed[0] if port not in fed[1]]
    return tuple(found)


@pytest.mark.parametrize("name, before, after", CASES)
def test_a_change_of_situation_ends_where_the_static_engine_says(name, before, after):
    circuit = example(name)
    governed = any(d.kind.source for d in circuit.devices)
    # below cut-out, so that the governor keeps still
    stored = {"reservoirs": full_pressure(circuit) - 0.4e5} if governed else {}
    script = Script(actions_between(circuit, before, after), situation=before, pressures=stored)
    trace = simulate(circuit, script, 60.0)
    expected = at_rest(circuit, Script(situation=after, pressures=stored), Engine())
    assert trace.complete and abs(trace.balance.drift) < 1e-11
    wrong = []
    for space, node in trace.node.items():
        static, moving = expected.get(space, ATMOSPHERE) - ATMOSPHERE, float(trace.pressures[-1][node]) - ATMOSPHERE
        low, high = (-500.0, 0.5e5) if static <= 0.5e5 else (0.75 * static - 0.4e5, static + 0.25e5)
        if not low <= moving <= high:
            wrong.append((trace.names[node], round(static / 1e5, 2), round(moving / 1e5, 2)))
    assert not wrong
