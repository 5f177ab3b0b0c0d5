"""A circuit as a graph, and the same circuit with a remedy done."""

import networkx
import pytest

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from tests.designs import completed, example_text, loaded

DESIGN = completed("""
compressor pump: displacement 12 cfm
reservoir wet: volume 20 L, rated 10 bar, role supply
reservoir dry: volume 40 L, rated 10 bar, role service
check-valve guard
hose pump.2 -> wet: bore 5/8 in, length 3 m
tube wet -> guard.1: size 1/2 in, length 1 m
tube guard.2 -> dry: size 1/2 in, length 1 m
relay-valve relay: deliveries 2
tube dry -> relay.1: size 1/2 in, length 1 m
plug relay.3
gauge dial: on dry
tee loose
fit loose -> relay.4
""")


@pytest.fixture
def circuit() -> Circuit:
    return loaded(DESIGN)


def test_ports_that_share_a_pressure_are_one_space(circuit: Circuit):
    assert circuit.space["dial", "4"] == circuit.space["dry", "1"]
    assert circuit.space["loose", "1"] == circuit.space["relay", "4"], "a fitting without length is no line"
    assert circuit.space["wet", "1"] != circuit.space["dry", "1"]
    assert circuit.space["wet -> guard.1", "2"] == circuit.space["guard", "1"]


def test_an_exhaust_is_the_open_air_unless_it_is_plugged(circuit: Circuit):
    assert circuit.space["relay", "3"] != SPACE_OUTSIDE
    assert circuit.unplugged(circuit.by_name["relay"], "3").space["relay", "3"] == SPACE_OUTSIDE
    free = loaded(DESIGN.replace("plug relay.3\n", ""))
    assert free.space["relay", "3"] == SPACE_OUTSIDE


def test_spaces_are_named_by_what_people_know(circuit: Circuit):
    assert circuit.space_name(circuit.space["dial", "4"]) == "dry"
    assert circuit.space_name(circuit.space["guard", "1"]) == "guard.1"
    assert circuit.space_name(SPACE_OUTSIDE) == "the open air"


def test_settings_left_out_are_assumed_and_listed(circuit: Circuit):
    guard = circuit.by_name["guard"]
    assert guard.settings["opens-at"] == pytest.approx(0.1e5) and guard.given["opens-at"].assumed
    assert not circuit.by_name["wet"].given["volume"].assumed
    listed = {(device.name, name) for device, name, _ in circuit.assumed}
    assert ("guard", "opens-at") in listed and ("wet", "volume") not in listed


def test_holes_are_counted(circuit: Circuit):
    assert circuit.used["dry", "1"] == 3, "two lines and a gauge"
    assert circuit.used.get(("relay", "2"), 0) == 0
    relay = circuit.by_name["relay"]
    assert circuit.holes(relay, relay.kind.ports[1]) == 2


def test_the_graph_has_the_ways_of_the_circuit(circuit: Circuit):
    graph = circuit.graph
    wet, dry = circuit.store(circuit.by_name["wet"]), circuit.store(circuit.by_name["dry"])
    assert set(graph.nodes) == set(circuit.ports_of) | {SPACE_OUTSIDE}
    assert networkx.has_path(graph, wet, dry) and not networkx.has_path(graph, dry, wet)
    assert graph.number_of_edges() == sum(2 if way.passage.both_ways else 1 for way in circuit.ways)
    assert graph.nodes[dry]["name"] == "dry"


def test_exchanging_two_ports_twice_changes_nothing(circuit: Circuit):
    turned = circuit.exchanged(("guard", "1"), ("guard", "2"))
    assert turned.space["guard", "1"] == circuit.space["guard", "2"]
    assert turned.exchanged(("guard", "1"), ("guard", "2")).space == circuit.space
    assert Evidence(turned).filling.level.get(circuit.space["dry", "1"]) is None
    assert Evidence(circuit).filling.is_charged(circuit.space["dry", "1"])


def test_a_port_taken_apart_is_a_space_by_itself(circuit: Circuit):
    cut = circuit.apart(("guard", "2"), ("guard", "1"))
    alone = [cut.space["guard", "1"], cut.space["guard", "2"]]
    assert len(set(alone)) == 2 and not set(alone) & set(circuit.space.values())
    assert not Evidence(cut).filling.is_charged(cut.space["dry", "1"])


def test_a_line_joined_makes_one_space_and_uses_two_holes(circuit: Circuit):
    joined = circuit.joined(("relay", "2"), ("dry", "1"))
    assert joined.space["relay", "2"] == joined.space["dry", "1"] == joined.space["dial", "4"]
    assert joined.used["relay", "2"] == 1 and joined.used["dry", "1"] == circuit.used["dry", "1"] + 1
    assert circuit.taken(("relay", "2")).used["relay", "2"] == 1


def test_a_check_valve_put_into_a_line_lets_air_one_way(circuit: Circuit):
    line = "dry -> relay.1"
    dry, supply = circuit.space["dry", "1"], circuit.space["relay", "1"]
    assert networkx.has_path(circuit.graph, supply, dry)
    checked = circuit.checked(line, "2")
    assert networkx.has_path(checked.graph, dry, supply) and not networkx.has_path(checked.graph, supply, dry)
    back = circuit.checked(line, "1")
    assert networkx.has_path(back.graph, supply, dry) and not networkx.has_path(back.graph, dry, supply)


def test_a_line_end_moved_feeds_from_the_other_place():
    text = example_text("truck-6x4").replace("tube sec -> foot.12:", "tube pri -> foot.12:")
    circuit = loaded(text)
    moved = circuit.moved(("foot", "12"), ("sec", "1"))
    assert len(Evidence(circuit).stores) == 1 and len(Evidence(moved).stores) == 2


def test_an_assembly_is_written_out_at_each_place():
    circuit = loaded(example_text("truck-6x4"))
    cans = [device.name for device in circuit.having(Trait.SPRING_ACTUATOR)]
    assert cans == ["d1-left.can", "d1-right.can", "d2-left.can", "d2-right.can"]
    can = circuit.by_name["d1-left.can"]
    assert can.span.outermost.source is circuit.source and can.span.source is not circuit.source
    assert circuit.source.row(can.span.outermost.line).startswith("spring-wheel d1-left:")
