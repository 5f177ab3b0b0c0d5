"""A clogged filter narrows its way: given time all air passes, and it takes longer."""

from circuit.faults.failing import _failed
from circuit.judging.evidence import Evidence
from circuit.sim import Script, Variant, simulate_many
from circuit.units import ATMOSPHERE
from tests.designs import loaded

DESIGN = """
vehicle x: class truck
reservoir tank: volume 20 L, rated 10 bar, role service
reservoir far: volume 5 L, rated 10 bar, role service
line-filter filter
tube tank -> filter.1: size 1/2 in, length 0.5 m
tube filter.2 -> far: size 1/2 in, length 0.5 m
"""


def test_a_clogged_filter_passes_later_and_not_less():
    circuit = loaded(DESIGN)
    script = Script(pressures={"tank": ATMOSPHERE + 8e5, "far": ATMOSPHERE})
    clean, clogged = simulate_many(circuit, script, [Variant("clean"), Variant("clogged", failures=(("filter", "clogged"),))],
                                   60.0)
    half = ATMOSPHERE + 3.2e5
    assert clogged.first_time("far", half) > 4 * clean.first_time("far", half)
    assert abs(clogged.last("far") - clean.last("far")) < 3000


def test_at_rest_a_narrowed_way_is_as_it_was():
    circuit = loaded(DESIGN)
    device = circuit.by_name["filter"]
    failure = next(f for f in device.kind.failures if f.name == "clogged")
    kind, holes = _failed(circuit, device, device.kind, failure, Evidence(circuit).driving)
    assert not holes and kind.passages == device.kind.passages
