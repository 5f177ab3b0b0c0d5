"""Which column of the sheet each body stands in: its kind's stage, or further right when what feeds it is there."""

from circuit.draw.parts import LEFT, RIGHT, Body, Parts, Slot, Wire, is_wheel, places
from circuit.draw.roles import downstream_first
from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Role
from circuit.model.circuit import Circuit
from circuit.model.devices import Device

_STEP = 1 / 64
"""How far one column is right of another of the same stage; a stage holds 63 of them."""
_VEHICLE = 100.0
"""From the stages of a vehicle to those of the one behind it."""


def stage_of(device: Device) -> int:
    """The stage a device asks for, by its kind and where its symbol says so by a setting."""
    symbol: Symbol | None = device.kind.symbol
    if symbol is not None:
        setting, words = symbol.stages
        word = device.settings.get(setting)
        if isinstance(word, str) and word in words:
            return words[word]
    return device.kind.stage


def give_columns(circuit: Circuit, parts: Parts) -> int:
    """Number the columns in use from 0, set every body's, and say how many there are."""
    feeders: dict[int, list[Body]] = {id(body): [] for body in parts.bodies}
    for wire in parts.wires:
        seats = {(slot.body.device.name, slot.port): slot.body for slot in wire.slots}
        uppers, lowers = set(), set()
        for run in wire.runs:
            upper, lower = downstream_first(circuit, run)
            uppers.add(upper)
            lowers.add(lower)
        heads = [seats[key] for key in sorted(uppers - lowers) if key in seats]
        for key in sorted(lowers):
            if key in seats and _fed_from_left(seats[key], key[1]):
                feeders[id(seats[key])] += [head for head in heads if head is not seats[key]]
    for body in parts.bodies:  # in a ring of feeders the one that by its stage comes later does not count
        feeders[id(body)] = [
            feeder for feeder in feeders[id(body)]
            if (feeder.vehicle, stage_of(feeder.device)) <= (body.vehicle, stage_of(body.device))
            or id(body) not in _above(feeders, feeder)
        ]
    done: dict[int, float] = {}
    busy: set[int] = set()

    def place(body: Body) -> float:
        key = id(body)
        if key in done:
            return done[key]
        busy.add(key)
        own = body.vehicle * _VEHICLE + stage_of(body.device)
        for feeder in feeders[key]:
            if id(feeder) not in busy:  # a ring of feeders is cut where it is met again
                own = max(own, place(feeder) + _STEP)
        busy.discard(key)
        done[key] = own
        return own

    for body in parts.bodies:
        body.stage = place(body)
    columns = {stage: number for number, stage in enumerate(sorted({body.stage for body in parts.bodies}))}
    for body in parts.bodies:
        body.column = columns[body.stage]
    return len(columns)


def _above(feeders: dict[int, list[Body]], body: Body) -> set[int]:
    """Everything that feeds a body, through any number of others."""
    seen: set[int] = set()
    todo = [body]
    while todo:
        for feeder in feeders[id(todo.pop())]:
            if id(feeder) not in seen:
                seen.add(id(feeder))
                todo.append(feeder)
    return seen


def _fed_from_left(body: Body, number: str) -> bool:
    port = body.device.kind.port(number)
    if port is None or port.role is Role.CONTROL:
        return False
    x = body.symbol.ports.get(number, (0, 0))[0]
    if body.device.settings.get(body.symbol.turned_by[0]) == body.symbol.turned_by[1]:
        x = body.symbol.width - x
    return x < body.symbol.width


def band_columns(circuit: Circuit, parts: Parts) -> int:
    """Number the columns of a band from 0, flags beside what their lines go to; says how many there are."""
    places = {stage: 1.0 + number for number, stage in enumerate(sorted({b.stage for b in parts.bodies if b.flag is None}))}
    column = {id(body): places[body.stage] for body in parts.bodies if body.flag is None}
    for wire in parts.wires:
        for run in wire.runs:
            for end, other in ((run.start, run.end), (run.end, run.start)):
                if isinstance(end, Slot) and end.body.flag is not None:
                    column[id(end.body)] = _beside(circuit, wire, other, end.body.flag.leaves, column)
                    end.body.vehicle = next((slot.body.vehicle for slot in wire.slots if slot.body.flag is None),
                                            end.body.vehicle)
    in_use = {place: number for number, place in enumerate(sorted(set(column.values())))}
    for body in parts.bodies:
        body.column = in_use[column[id(body)]]
    return len(in_use)


def _beside(circuit: Circuit, wire: Wire, near: Slot | str, leaves: bool, column: dict[int, float]) -> float:
    """The column of a flag. near: what its line ends at here. leaves: whether air goes out there."""
    if isinstance(near, Slot):
        side = _fixed_side(near) or (RIGHT if leaves else LEFT)
        return column.get(id(near.body), 0.0) + side
    ends = [slot for slot in wire.slots if slot.body.flag is None]
    if not ends:
        return 1.0 if leaves else 0.0
    upper = {downstream_first(circuit, run)[0] for run in wire.runs}
    above = [slot for slot in ends if (slot.body.device.name, slot.port) in upper]
    if leaves:
        return max(column[id(slot.body)] for slot in above or ends) + RIGHT
    below = [slot for slot in ends if slot not in above]
    return min(column[id(slot.body)] for slot in below or ends) + LEFT


def merge_columns(parts: Parts, count: int, most: float) -> int:
    """Make one of neighbouring columns with no wire between them while they stay lower than `most`, in U.

    Wheels never join. Says how many columns are left.
    """
    columns: list[list[Body]] = [[] for _ in range(count)]
    for body in parts.bodies:
        columns[body.column].append(body)
    merged: list[list[Body]] = []
    for own in columns:
        if merged and _may_join(parts, merged[-1], own, most):
            merged[-1] = merged[-1] + own
        else:
            merged.append(own)
    for number, own in enumerate(merged):
        for body in own:
            body.column = number
    return len(merged)


def _may_join(parts: Parts, one: list[Body], other: list[Body], most: float) -> bool:
    if any(body.axle for body in (*one, *other)):
        return False
    if sum(body.height + body.top + body.bottom + 2 for body in (*one, *other)) > most:
        return False
    if len({body.vehicle for body in (*one, *other)}) > 1:
        return False
    left, right = {id(part) for body in one for part, _ in body.all()}, {id(part) for body in other for part, _ in body.all()}
    for wire in parts.wires:
        seats = {id(slot.body) for slot in wire.slots}
        if seats & left and seats & right:
            return False
    return True


def join_axles(circuit: Circuit, parts: Parts) -> None:
    """Make one body of the wheels of each axle, right above left, nose of the vehicle to the left."""
    positions = {axle.name: axle.position for axle in circuit.axles}
    groups: dict[tuple[float, str], list[Body]] = {}
    for body in parts.bodies:
        axle = body.device.settings.get("axle")
        if axle in positions and is_wheel(body.device):
            groups.setdefault((body.stage, axle), []).append(body)
    gone: set[int] = set()
    for (_, axle), wheels in groups.items():
        wheels.sort(key=lambda wheel: wheel.device.settings.get("side") != "right")
        whole = Body(wheels[0].device, wheels[0].symbol, axle=axle, stage=wheels[0].stage, column=wheels[0].column,
                     vehicle=wheels[0].vehicle)
        whole.parts = [(wheel, 0) for wheel in wheels]
        whole.slots = [slot for wheel in wheels for slot in wheel.slots]
        parts.bodies[parts.bodies.index(wheels[0])] = whole
        gone.update(id(wheel) for wheel in wheels[1:])
    parts.bodies[:] = [body for body in parts.bodies if id(body) not in gone]


def choose_sides(parts: Parts) -> None:
    """Let every port that may go left or right go to the side its wire is on."""
    owner = {id(slot): body for body in parts.bodies for slot in body.slots}
    for body in parts.bodies:
        for slot in body.slots:
            where = _fixed_side(slot)
            if where:
                slot.side = where
                continue
            assert slot.wire is not None
            others = [other for other in slot.wire.slots if other is not slot]
            lower = sum(_opens_left_of(other, owner[id(other)].column, body.column) for other in others)
            slot.side = LEFT if lower * 2 > len(others) or (lower and lower * 2 == len(others)) else RIGHT


def _opens_left_of(other: Slot, column: int, own: int) -> bool:
    """Whether a place is reached through the channel left of a column or one further left."""
    side = _fixed_side(other)
    return column + (1 if side == RIGHT else 0) <= own if side else column < own


def _fixed_side(slot: Slot) -> int:
    """The side a port is on by its symbol, or 0 where it may choose."""
    symbol = slot.body.symbol
    if slot.grows:
        return 0 if symbol.both else RIGHT
    x = places(symbol).get(slot.port, (None,))[0]
    if x is None or 0 < x < symbol.width:
        return 0
    side = LEFT if x == 0 else RIGHT
    word, value = symbol.turned_by
    return -side if word and slot.body.device.settings.get(word) == value else side
