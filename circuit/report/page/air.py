"""The air of a page: what each situation and each played scene has in every space, as numbers for a script.

A scene is a simulation sampled at even times. Where none can be run the page steps through the situations alone.
"""

from collections.abc import Callable, Iterator
from math import isfinite
from typing import Any, NamedTuple

from circuit.kinds.kind import Trait
from circuit.model.circuit import Circuit, Device
from circuit.model.trace import Trace
from circuit.report.situations import SITUATIONS
from circuit.rules.evidence import Evidence
from circuit.units import ATMOSPHERE, to_si

FRAMES = 160
FULL = to_si("100 psi", "pressure")
HOLE = 0.010
"""m, of the hole by which the played loss empties a reservoir; our choice."""
_MOST_EVENTS = 60


class Scene(NamedTuple):
    """A simulation to be played. says: what is done."""

    key: str
    title: str
    says: str
    trace: Trace


def kilopascals(pressure: float) -> float:
    """Gauge kPa, one decimal, of an absolute pressure."""
    return round(max(0.0, pressure - ATMOSPHERE) / 1e3, 1)


def situations(evidence: Evidence, spaces: list[int]) -> list[dict[str, Any]]:
    """The settled air of each situation, in the order of `spaces`."""
    found = []
    for each in SITUATIONS:
        level = each.air(evidence).level
        found.append({"key": each.key, "title": each.title, "says": each.says,
                      "level": [kilopascals(level.get(space, ATMOSPHERE)) for space in spaces]})
    return found


def scenes(circuit: Circuit) -> list[Scene]:
    """What can be simulated of apply and release, charging and the loss of a service reservoir."""
    try:
        from circuit.studies import hands  # noqa: F401
    except ImportError:
        return []
    makers: tuple[Callable[[Circuit], Scene | None], ...] = (_application, _charging, _loss)
    found = []
    for maker in makers:
        scene = maker(circuit)
        if scene is not None and is_sound(scene.trace):
            found.append(scene)
    return found


def is_sound(trace: Trace) -> bool:
    """Whether there is something to play: more than one moment, and numbers at each."""
    return len(trace.times) > 1 and all(isfinite(float(pressure)) for row in trace.pressures for pressure in row)


def _application(circuit: Circuit) -> Scene | None:
    from circuit.sim import simulate
    from circuit.studies import hands

    try:
        script = hands.standing(circuit, FULL, *hands.apply(circuit, 0.5, rig=FULL), *hands.let_go(circuit, 3.0))
    except hands.CannotAsk:
        return None
    return Scene("apply", "Apply and release", "from 100 psi (6.9 bar), compressor at rest: pedal down at 0.5 s, up at 3 s",
                 simulate(circuit, script, 6.0))


def _charging(circuit: Circuit) -> Scene | None:
    from circuit.sim import Script, simulate, start_engine
    from circuit.studies import hands

    tanks = [circuit.store(tank) for tank in circuit.reservoirs]
    if not tanks:
        return None
    if circuit.having(Trait.COMPRESSES):
        script, says = Script((start_engine(0.0),), situation="parked"), "from empty, parked, the compressor turning"
    else:
        script = Script(pressures={head.name: FULL for head in hands.fed_heads(circuit, "supply")})
        says = "from empty, the supply line fed with 100 psi (6.9 bar)"
    trace = simulate(circuit, script, 1500.0, start="empty")
    ready = [trace.first_time(tank, ATMOSPHERE + 0.97 * (trace.highest(tank) - ATMOSPHERE)) for tank in tanks
             if trace.highest(tank) > ATMOSPHERE + 1e5]
    if not ready:
        return None
    until = min(1500.0, 1.15 * max(time or 0.0 for time in ready) + 2.0)
    return Scene("charge", "Charge", says, simulate(circuit, script, until, start="empty"))


def _loss(circuit: Circuit) -> Scene | None:
    from circuit.sim import leak, simulate
    from circuit.studies import hands

    tank = first_service(circuit)
    if tank is None:
        return None
    try:
        done = (leak(tank.name, HOLE, 1.0), *hands.apply(circuit, 20.0, rig=FULL), *hands.let_go(circuit, 24.0))
    except hands.CannotAsk:
        return None
    return Scene("loss", f"Loss of {tank.name}",
                 f"a 10 mm hole opens in {tank.name} at 1 s, compressor at rest; pedal down at 20 s, up at 24 s",
                 simulate(circuit, hands.standing(circuit, FULL, *done), 30.0))


def first_service(circuit: Circuit) -> Device | None:
    """The first reservoir of the design for service air."""
    return next(iter(circuit.reservoirs_for("service")), None)


def played(scene: Scene, spaces: list[int]) -> dict[str, Any]:
    """A scene as numbers: for each frame the pressures in the order of `spaces`; events in words."""
    trace = scene.trace
    times = [trace.end * frame / FRAMES for frame in range(FRAMES + 1)]
    curves = [[kilopascals(p) for p in trace.curve(space, times)] if space in trace.node else None for space in spaces]
    return {
        "key": scene.key, "title": scene.title, "says": scene.says, "end": round(trace.end, 3), "frames": FRAMES,
        "curves": [_thinned(curve) for curve in curves], "events": list(_events(trace)),
        "complete": trace.complete, "notes": list(trace.notes),
    }


def _thinned(curve: list[float] | None) -> Any:
    """A curve that never moves as one number, and whole numbers for what does."""
    if curve is None:
        return 0
    rough = [round(value) for value in curve]
    return rough[0] if min(rough) == max(rough) else rough


def _events(trace: Trace) -> Iterator[list[Any]]:
    for event in trace.events[:_MOST_EVENTS]:
        yield [round(event.time, 2), f"{event.device}: {event.variable} {'on' if event.value else 'off'}"]


def plotted(circuit: Circuit, spaces: list[int]) -> list[dict[str, Any]]:
    """The few spaces whose pressures are plotted: reservoirs, then one chamber and one spring of each axle."""
    found: dict[int, str] = {}
    for tank in circuit.reservoirs_for("service", "supply", "parking"):
        found.setdefault(circuit.store(tank), tank.name)
    axles: set[tuple[str, str]] = set()
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        if ("service", key := chamber.settings["axle"]) not in axles:
            axles.add(("service", key))
            found.setdefault(circuit.service_space(chamber), f"{chamber.name} service")
    for chamber in circuit.having(Trait.SPRING_ACTUATOR):
        if ("spring", key := chamber.settings["axle"]) not in axles:
            axles.add(("spring", key))
            found.setdefault(circuit.spring_space(chamber), f"{chamber.name} spring")
    return [{"space": spaces.index(space), "name": name} for space, name in list(found.items())[:8] if space in spaces]
