"""Independence of circuits, proved a second way: by networkx's minimum vertex cuts of what flows while braking.

A graph is made from the circuit's networkx view: air that stands in one space would go on to another, empty, one
through an open way. Between all service reservoirs and all brakes of such a graph the smallest set of spaces whose loss
leaves no brake fed has two members or more where the circuits are separate. Nothing of `circuit.model.air` is used but
pressures.
"""

from pathlib import Path

import networkx
import pytest

from circuit.declaring.kind import OUTSIDE
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Result
from circuit.model.circuit import POWERED
from circuit.model.devices import SPACE_OUTSIDE
from circuit.units import ATMOSPHERE
from circuit.verdict.judge import judge
from tests.designs import design_of, example_names, example_text, loaded, sampled

CASES = sorted((Path(__file__).parent / "circuits-not-separate").glob("*.case"))
START, END = "every reservoir", "every brake"


def flows(evidence: Evidence) -> networkx.DiGraph:
    """What would flow where while braking, between spaces."""
    circuit, level = evidence.circuit, evidence.braking.level
    graph = networkx.DiGraph()
    graph.add_nodes_from(circuit.ports_of)
    for u, v, way in circuit.graph.edges(data="way"):
        if SPACE_OUTSIDE in (u, v) or level.get(u, ATMOSPHERE) < ATMOSPHERE + 0.5e5:
            continue
        around = {port.number: level.get(circuit.space_of(way.device, port.number), ATMOSPHERE)
                  for port in way.device.kind.ports} | {OUTSIDE: ATMOSPHERE}
        for port, space in ((p.number, circuit.space_of(way.device, p.number)) for p in way.device.kind.ports):
            if space == v:
                around[port] = ATMOSPHERE
        state = way.device.kind.state("braking")
        if way.passage.opening is None or way.passage.opening(around, way.device.settings, state) > 0:
            graph.add_edge(u, v)
    return graph


def smallest_cut(evidence: Evidence, tanks, goals) -> set[int]:  # type: ignore[no-untyped-def]
    """The fewest spaces whose loss parts all reservoirs from all goals; a reservoir or a goal may be one of them."""
    graph = flows(evidence)
    graph.add_edges_from((START, evidence.circuit.store(tank)) for tank in tanks)
    graph.add_edges_from((space, END) for space in goals)
    return networkx.minimum_node_cut(graph, START, END)


def of_brakes(evidence: Evidence) -> set[int]:
    brakes = {evidence.circuit.service_space(chamber) for chamber in evidence.chambers}
    return smallest_cut(evidence, evidence.service_reservoirs, brakes)


def is_separate(evidence: Evidence) -> bool:
    """What the rule says of the service brakes; lines whose part in them is a matter of reading are left out."""
    judged = judge(evidence.circuit, ("us-federal",))
    every = [j for one in judged.judgements for j in (one, *one.follows)]
    results = {j.result for j in every if j.rule.name == "circuits-not-separate"} - {Result.UNDECIDED}
    assert results <= {Result.MET, Result.NOT_MET} and results
    return results == {Result.MET}


ALONE = [name for name in example_names() if not name.startswith("combination")]
DRIVEN = [name for name in ALONE if loaded(example_text(name)).vehicle.vehicle_class in POWERED]


@pytest.mark.parametrize("name", sampled(DRIVEN, 4))
def test_separate_circuits_have_no_single_space_that_parts_all_brakes(name: str):
    evidence = Evidence(loaded(example_text(name)))
    cut = of_brakes(evidence)
    assert is_separate(evidence) == (len(cut) > 1), [evidence.circuit.space_name(space) for space in cut]


@pytest.mark.parametrize("path", sampled(CASES, 5, lambda path: path.stem))
def test_a_single_space_that_parts_all_brakes_is_never_called_separate(path: Path):
    """Not the other way round: joined circuits lose both to one burst though either reservoir feeds every brake."""
    evidence = Evidence(loaded(design_of(path.read_text(encoding="utf-8"))))
    separate = is_separate(evidence)
    assert separate == path.stem.startswith("pass_")
    assert len(of_brakes(evidence)) > 1 or not separate


def test_some_case_has_such_a_space():
    cuts = [of_brakes(Evidence(loaded(design_of(path.read_text(encoding="utf-8"))))) for path in CASES]
    assert any(len(cut) == 1 for cut in cuts) and any(len(cut) > 1 for cut in cuts)


def test_the_board_hangs_on_its_reservoir():
    evidence = Evidence(loaded(example_text("teaching-board")))
    assert len(of_brakes(evidence)) == 1 and not is_separate(evidence)


@pytest.mark.parametrize("name", ["truck-6x4", "tractor-6x4", "lift-axle"])
def test_springs_have_two_reservoirs(name: str):
    """UN Regulation No. 13 Annex 8 2.3.1: each reservoir taken away by itself, the other still reaches the springs."""
    evidence = Evidence(loaded(example_text(name)))
    circuit = evidence.circuit
    tanks = [circuit.by_name["pri"], circuit.by_name["sec"]]
    for lost in tanks:
        gone = frozenset(evidence.zone(circuit.store(lost)))
        level = evidence.driving_without(gone).level
        for spring in evidence.springs:
            assert level[circuit.spring_space(spring)] >= spring.settings["holds-off-at"]
    judged = judge(circuit, ("un-r13",))
    assert [j.result for j in judged.judgements if j.rule.name == "springs-fed-from-one-reservoir"] == [Result.MET]
