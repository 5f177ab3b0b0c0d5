"""What a burst empties, held to a graph search that knows no pressure but the closing ones."""

import networkx
import pytest

from circuit.model.devices import SPACE_OUTSIDE
from tests.faults.studied import study_of

EXAMPLES = ("truck-6x4", "teaching-board", "city-bus", "semitrailer-tandem")


def reach_backwards(circuit, hole: int) -> set[int]:
    """Every space from which some chain of ways, open or not, leads to a hole: nothing else can be emptied by it."""
    graph = networkx.DiGraph()
    for way in circuit.ways:
        graph.add_edge(way.start, way.end)
        if way.passage.both_ways:
            graph.add_edge(way.end, way.start)
    graph.remove_node(SPACE_OUTSIDE)
    return networkx.ancestors(graph, hole) | {hole}


def never_shut(circuit, hole: int) -> set[int]:
    """Every space joined to a hole by ways that can never shut: all of it must be emptied."""
    graph = networkx.Graph()
    graph.add_node(hole)
    graph.add_edges_from((way.start, way.end) for way in circuit.ways
                         if way.passage.opening is None and way.passage.both_ways and SPACE_OUTSIDE not in way[2:])
    return networkx.node_connected_component(graph, hole)


@pytest.mark.parametrize("example", EXAMPLES)
def test_a_burst_empties_between_the_least_and_the_most_that_cuts_allow(example: str):
    found = study_of(example)
    circuit, seen = found.circuit, 0
    for effect in found.effects:
        if len(effect.fault.parts) != 1 or effect.fault.parts[0][1] != "burst":
            continue
        name = effect.fault.parts[0][0]
        holes = {circuit.space[name, port] for port, _ in circuit.spaces_of[name]}
        most = set().union(*(reach_backwards(circuit, hole) for hole in holes))
        least = set().union(*(never_shut(circuit, hole) for hole in holes))
        for tank in effect.tanks:
            space = circuit.store(circuit.by_name[tank.name])
            if tank.driving < tank.full - 1e4:
                assert space in most, f"{effect.fault.name} cannot reach {tank.name}"
            if space in least:
                assert tank.is_lost, f"{effect.fault.name} is open to {tank.name}"
        seen += 1
    assert seen > 10


def test_the_two_bounds_differ():
    circuit = study_of("truck-6x4").circuit
    hole = circuit.store(circuit.by_name["pri"])
    wet, sec = (circuit.store(circuit.by_name[name]) for name in ("wet", "sec"))
    assert wet in reach_backwards(circuit, hole) and wet not in never_shut(circuit, hole)
    assert sec not in never_shut(circuit, hole)
