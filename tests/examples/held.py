"""What an example does when something is lost: pressures at rest, and pressures over time."""

from collections.abc import Mapping
from pathlib import Path

from circuit.judging.evidence import Evidence
from circuit.judging.volumes import Share, shares
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.pipeline import load
from circuit.sim import Action, Engine, Script, simulate
from circuit.units import ATMOSPHERE, value_in
from circuit.verdict.judge import Verdict, judge

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def circuit_of(name: str) -> Circuit:
    return load(str(EXAMPLES / name / "design.air"))


def verdict_of(name: str) -> Verdict:
    return judge(circuit_of(name))


def whole(evidence: Evidence) -> Share:
    """The volume sum of the whole vehicle."""
    return next(share for share in shares(evidence) if share.rule_total)


def litres(volume: float) -> float:
    return value_in(volume, "L", "volume")


def lost(evidence: Evidence, *holes: tuple[str, str]) -> set[str]:
    """The reservoirs that end empty when all these ports are open to the atmosphere, with or without current."""
    circuit = evidence.circuit
    gone = set()
    for at in (evidence, evidence.energised):
        for hole in holes:
            emptied = at.emptied(circuit.space[hole])
            gone |= {tank.name for tank in circuit.reservoirs if circuit.store(tank) in emptied}
    return gone


def stops(evidence: Evidence, hole: tuple[str, str]) -> dict[str, float]:
    """Each valve between what a hole empties and what is kept, with the gauge pressure in bar at which it shuts."""
    circuit = evidence.circuit
    emptied = evidence.emptied(circuit.space[hole])
    return {
        way.device.name: round(value_in(way.device.settings[way.passage.keeps], "bar", "pressure"), 3)
        for way in circuit.ways
        if way.passage.keeps and way.end in emptied and way.start not in emptied
        and evidence.driving.is_charged(way.start)
    }


def still_fed(evidence: Evidence, valve: str, bar: float) -> bool:
    """Whether a protection valve that stands open still feeds an emptied user with its feed at a gauge pressure."""
    device = evidence.circuit.by_name[valve]
    passage = device.kind.passages[0]
    pressures = {port.number: 101325.0 for port in device.kind.ports} | {passage.start: 101325.0 + bar * 1e5}
    assert passage.opening is not None
    return passage.opening(pressures, device.settings, {**device.kind.rest, "open": 1.0}) > 0


def played(circuit: Circuit, *actions: Action, until: float, situation: str = "driving", running: bool = False,
           pressures: Mapping[str, float] | None = None) -> Trace:
    """The circuit over time, charged at the start. until: s. pressures: bar above atmosphere by place at the start."""
    start = {place: ATMOSPHERE + bar * 1e5 for place, bar in (pressures or {}).items()}
    trace = simulate(circuit, Script(actions, situation, start), until, engine=Engine(running))
    assert trace.complete
    return trace


def bar(trace: Trace, place: str, time: float) -> float:
    """Bar above atmosphere in a place at a time, s."""
    return (trace.pressure(place, time) - ATMOSPHERE) / 1e5
