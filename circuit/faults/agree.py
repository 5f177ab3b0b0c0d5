"""The graph's answer held against the simulation's: where the graph promises more than a run leaves, it is in error.

The graph gives every fault all the time it needs and no air from outside, so that a run which is not at rest yet, or
which a towing vehicle feeds, may hold more. Pressures are absolute Pa.
"""

from collections.abc import Iterator

from circuit.declaring.traits import Trait
from circuit.faults.effect import LESS, Axle, Tank
from circuit.faults.play import Played, levels
from circuit.faults.study import Study
from circuit.studies.hands import fed_heads
from circuit.units import ATMOSPHERE

APART = 0.3e5
"""Pa by which the two may differ before it counts: cracking and shifting pressures of a few valves."""
SHARE = 0.15
"""The same for shares of a force."""
USED = 0.35
"""Share of the gauge pressure that one application and its lines may take from a reservoir that is not refilled."""
FILLS = 0.07
"""Share of the gauge pressure by which what newly fills may be out: the graph shares it out by volumes alone."""
RESTS = 100.0
"""Pa in the last sixth of the time before the pedal goes down up to which a run counts as at rest."""


def disagreements(study: Study, played: Played) -> tuple[str, ...]:
    """Where the graph's answer for a fault and its run, the engine off and the same pedal, do not go together."""
    if not played.trace.complete:
        return ()
    graph = next(e for e in study.effects if e.fault == played.effect.fault)
    flows = _flows(study, graph.tanks)
    return (*(says for one, other in zip(graph.axles, played.effect.axles) for says in _axle(one, other, flows, graph.seeps)),
            *(says for one, other in zip(graph.tanks, played.effect.tanks) for says in _tank(study, played, one, other, flows)))


def _flows(study: Study, tanks: tuple[Tank, ...]) -> bool:
    """Whether a towing vehicle outside the drawing goes on feeding what a fault lets out: then flow decides, not rest."""
    return bool(fed_heads(study.circuit, "supply")) and any(tank.is_low for tank in tanks)


def _axle(graph: Axle, run: Axle, flows: bool, seeps: tuple[str, ...]) -> Iterator[str]:
    if graph.served and graph.service > run.service + SHARE and not flows and not seeps:
        yield f"brakes of {graph.name}: {graph.service:.2f} by the graph, {run.service:.2f} in the run"
    if graph.sprung and graph.parks > run.parks + SHARE:
        yield f"springs of {graph.name} parked: {graph.parks:.2f} by the graph, {run.parks:.2f} in the run"
    if run.springs > graph.springs + SHARE:
        yield f"springs of {graph.name} driving: {graph.springs:.2f} by the graph, {run.springs:.2f} in the run"
    if run.stays > graph.stays + SHARE and graph.springs < LESS and not flows:
        yield f"brakes of {graph.name} let up: {graph.stays:.2f} by the graph, {run.stays:.2f} in the run"


def _tank(study: Study, played: Played, graph: Tank, run: Tank, flows: bool) -> Iterator[str]:
    if graph.role == "regeneration":
        return
    gauge = graph.full - ATMOSPHERE
    braked = any(axle.stays > 0 or axle.springs > 0 for axle in played.effect.axles)
    spare = APART + (FILLS * gauge if graph.is_low else 0.0) + (USED * gauge if braked else 0.0)
    low = min([graph.full, *_cut_ins(study)])  # full is anywhere in the governor's band
    floor = min(graph.driving, low) if graph.role == "supply" else graph.driving
    if run.driving < floor - spare:
        yield f"{graph.name} driving: {_bar(graph.driving)} by the graph, {_bar(run.driving)} in the run"
    if run.braking < min(floor, graph.braking) - spare - USED * gauge:
        yield f"{graph.name} braking: {_bar(graph.braking)} by the graph, {_bar(run.braking)} in the run"
    if run.driving > graph.driving + 1e5 and _rests(played) and not flows and graph.driving < low - 1e4:
        yield f"{graph.name} rests: {_bar(graph.driving)} by the graph, {_bar(run.driving)} in the run"


def _rests(played: Played) -> bool:
    """Whether nothing falls any more when the pedal goes down."""
    now = levels(played.trace, played.pedal_at)
    return all(played.trace.pressure(space, played.pedal_at * 5 / 6) - now[space] < RESTS for space in now)


def _cut_ins(study: Study) -> list[float]:
    return [governor.settings["cut-in"] for governor in study.circuit.having(Trait.GOVERNS)]


def _bar(pressure: float) -> str:
    return f"{max(0.0, pressure - ATMOSPHERE) / 1e5:.2f} bar"
