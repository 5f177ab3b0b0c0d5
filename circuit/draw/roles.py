"""Which circuit each wire belongs to and what its air is for, worked out from the plumbing.

Lines are given the direction air takes in them by the ports at their ends; passages have theirs. From that it is read
which reservoirs a wire is fed from and what in the end it works on; from the air at rest, when it is charged.
"""

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field

from circuit.draw.parts import Parts, Run, Wire
from circuit.declaring.kind import OUTSIDE
from circuit.declaring.traits import Role, Trait
from circuit.model.settling import charged
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey

SUPPLY, DELIVERY, SIGNAL, SPRING = "supply", "delivery", "signal", "spring"
ROLES = (SUPPLY, SPRING, DELIVERY, SIGNAL)
"""Strongest first: where lines of two roles share a stretch it is drawn as the stronger."""

SOURCE, SERVICE, PARKING, AUXILIARY, TRAILER_CONTROL, TRAILER_SUPPLY = (
    "source", "service", "parking", "auxiliary", "trailer control", "trailer supply")


@dataclass(slots=True)
class Member:
    """A circuit of the drawing. number: on its tags. nature: one of the words above. title: for the legend."""

    number: int
    nature: str
    title: str


@dataclass(slots=True)
class Roles:
    """circuits: those in use, by number. run_role: each run's own role, by its place in the wire."""

    circuits: list[Member] = field(default_factory=list)
    run_role: dict[tuple[int, int], str] = field(default_factory=dict)


def downstream_first(circuit: Circuit, run: Run) -> tuple[PortKey, PortKey]:
    """The two ends of a run in the direction of the air: upper end, lower end. Undecided: as written."""
    if run.couples:
        return run.ports
    one, other = (_leaning(circuit, key) for key in run.ports)
    return (run.ports[1], run.ports[0]) if one > other else run.ports


def flow_of(circuit: Circuit, run: Run) -> int:
    """1 where the air of a supply line only goes from its start to its end, -1 the other way, 0 where it may go both."""
    upper, lower = downstream_first(circuit, run)
    if run.line is None or run.role != SUPPLY or not (_only_gives(circuit, upper) or _only_takes(circuit, lower)):
        return 0
    return 1 if upper == run.ports[0] else -1


def _only_gives(circuit: Circuit, key: PortKey) -> bool:
    """Whether no air goes in at a port: one that delivers, and that nothing lets out through its device again."""
    if _leaning(circuit, key) >= 0:
        return False
    passages = circuit.by_name[key[0]].kind.passages
    return not any(p.start == key[1] or (p.both_ways and p.end == key[1]) for p in passages)


def _only_takes(circuit: Circuit, key: PortKey) -> bool:
    """Whether no air comes out at a port: a valve's inlet that is no way back."""
    device = circuit.by_name[key[0]]
    port = device.kind.port(key[1])
    if port is None or port.role not in (Role.SUPPLY, Role.CONTROL) or device.is_line:
        return False
    return not any(p.end == key[1] or (p.both_ways and p.start == key[1]) for p in device.kind.passages)


def goes_forward(circuit: Circuit, run: Run) -> bool:
    """Whether the air of a run goes from its start to its end; what is read by a control port comes to it."""
    reads = [not run.couples and _is_pilot(circuit, key) for key in run.ports]
    return reads[1] if reads[0] != reads[1] else downstream_first(circuit, run) == run.ports


def _leaning(circuit: Circuit, key: PortKey) -> int:
    """Below 0: air comes out of this port; above 0: it goes in."""
    device = circuit.by_name[key[0]]
    port = device.kind.port(key[1])
    if port is None or device.has(Trait.JOINS) or device.is_line:
        return 0
    if device.has(Trait.COUPLES_VEHICLES):
        return -3 if device.settings.get("end") == "front" else 3
    if any(port.number in device.kind.feeds(device.settings, situation) for situation in ("driving", "braking")):
        return -3
    if port.role is Role.DELIVERY:
        return -2
    if port.role in (Role.SUPPLY, Role.CONTROL):
        return 2
    if device.has(Trait.STORES_AIR):
        return 4 if device.settings.get("role") == "regeneration" else 0
    starts = any(p.start == port.number and p.end != OUTSIDE for p in device.kind.passages)
    return -1 if starts and port.role is Role.SPACE else -2 if port.role is Role.EXHAUST else 3


def assign(circuit: Circuit, parts: Parts) -> Roles:
    """Give each wire its circuit and role; number the circuits, the designer's in order, then what else there is."""
    onward = _onward(circuit, parts)
    goals = _goals(circuit)
    natures = [(SERVICE if i.role == "service" else PARKING if i.role == "parking" else AUXILIARY, i.name, i.reservoirs)
               for i in circuit.intents]
    if not any(nature == SERVICE for nature, _, _ in natures):
        natures = [(SERVICE, tank.name, (tank.name,)) for tank in circuit.reservoirs_for("service")] + natures
    beyond = frozenset(circuit.store(tank) for tank in circuit.reservoirs_for(AUXILIARY))  # what they feed is no service line
    fed = {
        place: _reach(onward, [circuit.store(circuit.by_name[name]) for name in own if name in circuit.by_name], beyond)
        for place, (nature, _, own) in enumerate(natures) if nature == SERVICE
    }
    brought = {
        line: _reach(onward, [circuit.store(head) for head in circuit.having(Trait.COUPLES_VEHICLES)
                              if _is_fed(head) and head.settings.get("line") == line])
        for line in ("control", "supply")
    }
    kept_for = {
        nature: _reach(onward, [circuit.store(tank) for tank in circuit.reservoirs_for(nature)])
        for nature in (PARKING, AUXILIARY)
    }
    airs = {situation: charged(circuit, situation) for situation in ("parked", "driving", "braking")}
    roles = Roles()
    found: list[tuple[str, int]] = []
    for wire in parts.wires:
        ends: set[str] = set()
        feeds: set[int] = set()
        tanks: set[str] = set()
        for place, run in enumerate(wire.runs):
            upper, lower = downstream_first(circuit, run)
            own = goals.get(circuit.space[upper], set()) if run.couples else _ends(circuit, onward, goals, lower)
            ends |= own
            feeds |= {k for k, spaces in fed.items() if circuit.space[upper] in spaces}
            tanks |= {nature for nature, reached in kept_for.items() if circuit.space[upper] in reached}
            pilot = _is_pilot(circuit, lower)
            run.role = roles.run_role[wire.number, place] = _at_wheel(circuit, lower) or _role(own, pilot, {
                situation: air.is_charged(circuit.space[lower]) for situation, air in airs.items()})
        of_wire = {roles.run_role[wire.number, place] for place in range(len(wire.runs))}
        wire.role = next(role for role in ROLES if role in of_wire)
        spaces = {circuit.space[key] for run in wire.runs for key in run.ports}
        lines = [line for line in ("control", "supply") if spaces & brought[line]]
        found.append(_nature(wire, ends, feeds, lines[:1], bool(circuit.vehicles), tanks))
    _number(circuit, parts, roles, natures, found)
    return roles


def _onward(circuit: Circuit, parts: Parts) -> dict[int, set[int]]:
    """Space to the spaces air goes on to from it."""
    onward: dict[int, set[int]] = {}
    for device in circuit.devices:
        if not device.is_line:
            for passage in device.kind.passages:
                start, end = circuit.space_of(device, passage.start), circuit.space_of(device, passage.end)
                if SPACE_OUTSIDE not in (start, end):
                    onward.setdefault(start, set()).add(end)
    for wire in parts.wires:
        for run in wire.runs:
            if run.couples:  # what a line is for ends at its vehicle's heads
                continue
            upper, lower = downstream_first(circuit, run)
            onward.setdefault(circuit.space[upper], set()).add(circuit.space[lower])
            tees = [key for key in run.ports if circuit.by_name[key[0]].has(Trait.JOINS)]
            if len(tees) == 2 or _is_given_back(circuit, upper, lower):  # between two tees either way may be meant
                onward.setdefault(circuit.space[lower], set()).add(circuit.space[upper])
    return onward


def _is_given_back(circuit: Circuit, upper: PortKey, lower: PortKey) -> bool:
    """Whether a reservoir fills through a port and by that same port feeds what the valve applies and exhausts."""
    kind = circuit.by_name[upper[0]].kind
    exhausts = {port.number for port in kind.ports_as(Role.EXHAUST)}
    applied = {p.start for p in kind.passages if p.end in exhausts}
    return circuit.by_name[lower[0]].has(Trait.STORES_AIR) and any(
        p.start == upper[1] and p.end in applied for p in kind.passages)


def _reach(onward: dict[int, set[int]], spaces: Iterable[int], beyond: frozenset[int] = frozenset()) -> set[int]:
    """The spaces air gets to. beyond: those of which it goes no further."""
    seen = set(spaces)
    todo = deque(sorted(seen))
    while todo:
        for there in sorted(onward.get(todo.popleft(), ())):
            if there not in seen:
                seen.add(there)
                if there not in beyond:
                    todo.append(there)
    return seen - beyond


def _goals(circuit: Circuit) -> dict[int, set[str]]:
    """Space to what it works on, in words."""
    goals: dict[int, set[str]] = {}
    for device in circuit.devices:
        if device.is_line:
            continue
        words: list[tuple[str, str]] = []
        numbers = [p.number for p in device.kind.ports]
        if device.has(Trait.SPRING_ACTUATOR):
            words.append((numbers[-1], "spring"))
        if device.has(Trait.SERVICE_ACTUATOR):
            words.append((numbers[0], "service"))
        if device.has(Trait.STORES_AIR):
            words.append((numbers[0], "store"))
        if device.has(Trait.USES_AIR):
            words.append((numbers[0], "use"))
        if device.has(Trait.COUPLES_VEHICLES) and not _is_fed(device):
            words.append((numbers[0], f"trailer {device.settings.get('line')}"))
        starts = {p.start for p in device.kind.passages}
        words += [(p.number, "control") for p in device.kind.ports_as(Role.CONTROL) if p.number not in starts]
        for number, word in words:
            if (device.name, number) in circuit.space:
                goals.setdefault(circuit.space[device.name, number], set()).add(word)
    return goals


def _is_fed(head: Device) -> bool:
    """Whether a coupling head brings air to its vehicle: one at the front."""
    return head.settings.get("end") == "front"


def _ends(
    circuit: Circuit, onward: dict[int, set[int]], goals: dict[int, set[str]], lower: PortKey
) -> set[str]:
    """What the air of a run in the end works on; reservoirs are passed through only when nothing else is found."""
    seen = _reach(onward, [circuit.space[lower]])
    return {word for space in seen for word in goals.get(space, ())}


def _is_pilot(circuit: Circuit, key: PortKey) -> bool:
    """Whether a port only reads a pressure: a control port, or where a governor senses."""
    device = circuit.by_name[key[0]]
    port = device.kind.port(key[1])
    return device.has(Trait.GOVERNS) or (port is not None and port.role is Role.CONTROL)


def _at_wheel(circuit: Circuit, key: PortKey) -> str:
    """The role of a line that ends at a brake chamber, whatever is charged when; else ""."""
    device = circuit.by_name[key[0]]
    ports = [port.number for port in device.kind.ports]
    if device.has(Trait.SPRING_ACTUATOR) and key[1] == ports[-1]:
        return SPRING
    return DELIVERY if device.has(Trait.SERVICE_ACTUATOR) and key[1] == ports[0] else ""


def _role(ends: set[str], pilot: bool, is_charged: dict[str, bool]) -> str:
    if ends <= {"control", "trailer control"} and (pilot or not is_charged["parked"]):
        return SIGNAL
    if (is_charged["parked"] and is_charged["driving"]) or ends & {"store", "trailer supply"}:
        return SUPPLY
    if is_charged["driving"]:
        return SUPPLY if "use" in ends and "spring" not in ends else SPRING
    if is_charged["braking"]:
        return DELIVERY
    return SPRING if "spring" in ends else DELIVERY if "service" in ends else SUPPLY


def _nature(
    wire: Wire, ends: set[str], feeds: set[int], lines: list[str], several: bool, tanks: set[str]
) -> tuple[str, int]:
    """The nature of a wire's circuit and, for a service circuit, its place among the designer's.

    lines: the line of the towing vehicle it is fed from, if any. several: in a combination, where that vehicle is
    drawn too. tanks: the roles of further reservoirs it is fed from.
    """
    work = ends - {"control"}
    if work and work <= {"use"}:
        return AUXILIARY, -1
    if ends == {"trailer control"} and (wire.role == SIGNAL or len(feeds) != 1):
        return TRAILER_CONTROL, -1
    if work and work <= {"trailer supply"}:
        return TRAILER_SUPPLY, -1
    if wire.role == SPRING or (len(feeds) != 1 and work == {"spring"}):
        return PARKING, -1
    if feeds:
        return SERVICE, min(feeds)
    for nature in (PARKING, AUXILIARY):
        if nature in tanks:
            return nature, -1
    if lines == ["control"]:
        return TRAILER_CONTROL, -1
    return (TRAILER_SUPPLY if lines and several else SOURCE), -1


def _number(
    circuit: Circuit, parts: Parts, roles: Roles, natures: list[tuple[str, str, tuple[str, ...]]],
    found: list[tuple[str, int]],
) -> None:
    used = set(found)
    numbers: dict[tuple[str, int], int] = {}
    made = bool(circuit.having(Trait.COMPRESSES)) or not circuit.is_towed
    if (SOURCE, -1) in used:
        roles.circuits.append(Member(0, SOURCE, "source" if made else "from the towing vehicle"))
        numbers[SOURCE, -1] = 0
    following = 1
    for place, (nature, name, _) in enumerate(natures):
        key = (SERVICE, place) if nature == SERVICE else (nature, -1)
        if key not in numbers and (key in used or nature == SERVICE):
            shared = bool(circuit.vehicles) and nature != SERVICE  # one for all vehicles, and of none by name
            title = nature if shared or name == nature else f"{name} ({nature})"
            roles.circuits.append(Member(following, nature, title))
            numbers[key] = following
            following += 1
    for nature in (PARKING, AUXILIARY, TRAILER_CONTROL, TRAILER_SUPPLY):
        if (nature, -1) in used and (nature, -1) not in numbers:
            roles.circuits.append(Member(following, nature, nature))
            numbers[nature, -1] = following
            following += 1
    for wire, key in zip(parts.wires, found):
        wire.circuit = numbers[key]
