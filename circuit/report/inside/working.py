"""The sentence of a part that has no passages: a compressor, a brake chamber."""

from circuit.declaring.section import CYCLE
from circuit.declaring.traits import Trait
from circuit.gas.chamber import PUSHES_OUT, TAKES_UP
from circuit.report.inside.openings import Inside
from circuit.report.inside.reasons import Why, leaf, tree_of
from circuit.units import ATMOSPHERE


def working(inside: Inside, unit: str) -> str:
    """What it does now and why."""
    why = Why(inside, unit)
    if inside.kind.source is not None:
        return _pump(inside, why)
    said = []
    if Trait.SPRING_ACTUATOR in inside.kind.traits:
        said.append(_spring(inside, why))
    if Trait.SERVICE_ACTUATOR in inside.kind.traits and not (said and _springs_alone(inside)):
        said.append(_service(inside, why, inside.kind.ports[0].number))
    return "; ".join(said)


def _springs_alone(inside: Inside) -> bool:
    """Whether the spring pushes and the service side has no air."""
    service, spring = (inside.pressure(port.number) for port in inside.kind.ports)
    return spring < inside.settings["holds-off-at"] and service - ATMOSPHERE < PUSHES_OUT


def _pump(inside: Inside, why: Why) -> str:
    assert inside.kind.source is not None
    tree = tree_of(inside, inside.kind.source.rests)
    if tree is None:
        return ""
    now = leaf(inside, tree)
    port, weight = next(iter(now.weights.items()))
    has, limit = inside.pressure(port), -now.rest / weight
    if has >= limit:
        return (f"{port} has {why.pressure(has)}, above the {why.pressure(limit)} that unload it: the pins hold the inlet open, "
                "the air goes back and forth and none is delivered")
    down = inside.state.get(CYCLE, 0.3) <= 0.5
    goes = "the piston goes down and takes air in at 0" if down else (
        f"the piston comes up and delivers at 2 against {why.pressure(inside.pressure('2'))}")
    return f"{port} has {why.pressure(has)}, below the {why.pressure(limit)} that unload it: {goes}"


def _service(inside: Inside, why: Why, port: str) -> str:
    gauge = inside.pressure(port) - ATMOSPHERE
    has = f"{port} has {why.pressure(inside.pressure(port))}"
    if gauge < PUSHES_OUT:
        return f"{has}: the return spring keeps the diaphragm back"
    if gauge < TAKES_UP:
        return f"{has}: the rod takes up the clearance, the shoes do not press yet"
    return f"{has}: the rod pushes with that pressure times the diaphragm's area, and the cam parts the shoes"


def _spring(inside: Inside, why: Why) -> str:
    port, off = inside.kind.ports[1].number, inside.settings["holds-off-at"]
    has = inside.pressure(port)
    if has >= off:
        return f"{port} has {why.pressure(has)}, above {why.pressure(off)}: the spring is held off"
    how = "with all its force" if has - ATMOSPHERE < PUSHES_OUT else "with what the air leaves of its force"
    return f"{port} has {why.pressure(has)} of the {why.pressure(off)} that hold the spring off: it pushes {how}"
