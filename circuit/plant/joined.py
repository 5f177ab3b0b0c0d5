"""Mistakes of plumbing: lines led to the wrong place, so that what should be apart is joined, or hangs on one thing."""

from collections.abc import Iterator
from itertools import combinations
from random import Random

from circuit import kinds
from circuit.declaring.kind import Kind
from circuit.declaring.traits import Role, Trait
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey
from circuit.plant.bed import Bed
from circuit.plant.planting import Operator, Site
from circuit.plant.rows import Add, Edit, Swap, rows_of, swapped, without_name


def _own_port(device: Device) -> PortKey:
    return device.name, device.kind.ports[0].number


def _charged_with_pedal(bed: Bed, key: PortKey) -> bool:
    space, evidence = bed.circuit.space[key], bed.evidence
    return space != SPACE_OUTSIDE and evidence.braking.is_charged(space) and not evidence.driving.is_charged(space)


def _tee_for_shuttle(bed: Bed, chance: Random) -> Iterator[Site]:
    """A double check valve replaced by a tee, where that joins two stores or a brake with what holds it off."""
    tee = next((kind for kind in kinds.every()
                if Trait.JOINS in kind.traits and kind.only_port and kind.ports[0].holes == 3), None)
    circuit = bed.circuit
    before = _joined_stores(circuit)
    for shuttle in bed.own(Trait.SELECTS_HIGHER):
        ports = [port.number for port in shuttle.kind.ports]
        statement = bed.statement(shuttle)
        lines = [bed.only_line((shuttle.name, number)) for number in ports]
        hung = bed.hung_on(*((shuttle.name, number) for number in ports))
        if tee is None or statement is None or len(ports) != 3 or sum(map(bool, lines)) + len(hung) != 3:
            continue
        name = next(n for n in statement.names if n.text == shuttle.name)
        edits: list[Edit] = [swapped(bed.end(*line).span, shuttle.name) for line in lines if line]
        for part in hung:
            found = bed.written(part)
            on = found[0].setting("on") if found else None
            if on is None:
                break
            edits.append(swapped(on.values[0].span, shuttle.name))
        else:
            row = f"{tee.name} {shuttle.name}"
            last = rows_of(statement)[-1]
            if len(statement.names) == 1:
                edits.append(swapped(statement.kind.span, tee.name))
                if statement.settings:
                    first, end = statement.settings[0].span, statement.settings[-1].span
                    start = statement.span.column + statement.span.length
                    if first.line != end.line or first.line != statement.span.line:
                        continue
                    edits.append(Swap(end.line, start, end.column + end.length - start, ""))
            else:
                edits += [*without_name(statement, name), Add(last, row)]
            yield Site(tuple(edits), (shuttle.name,), f"{shuttle.name} is a tee instead of a double check valve",
                       lambda spoilt: _joined_stores(spoilt) > before)


def _joined_stores(circuit: Circuit) -> int:
    """How many pairs of service reservoirs empty together."""
    evidence = Evidence(circuit)
    tanks = circuit.reservoirs_for("service")
    return sum(circuit.store(other) in evidence.emptied(circuit.store(one), situation)
               for situation in ("driving", "braking") for one in tanks for other in tanks if one is not other)


def _apart(bed: Bed) -> list[tuple[Device, Device]]:
    """Pairs of service reservoirs of this text that are not one store."""
    found = []
    for one, other in combinations(bed.evidence.service_reservoirs, 2):
        own = bed.circuit.store(other) in bed.evidence.zone(bed.circuit.store(one))
        if not own and bed.statement(one) and bed.statement(other):
            found.append((one, other))
    return found


def _reservoirs_joined(bed: Bed, chance: Random) -> Iterator[Site]:
    for one, other in _apart(bed):
        lines = bed.lines_at(_own_port(one))
        room = bed.takes_more(_own_port(one)) and bed.takes_more(_own_port(other))
        if len(bed.evidence.stores) == 2 and lines and room:
            row = bed.like(lines[0][0], _own_port(one), _own_port(other))
            statement = bed.statement(lines[-1][0])
            assert statement is not None
            yield Site((Add(rows_of(statement)[-1], row),), (one.name, other.name),
                       f"a line joins {one.name} and {other.name}")


def _one_feed(bed: Bed, chance: Random) -> Iterator[Site]:
    """Both halves of a dual brake valve fed from one reservoir."""
    for valve in bed.own(Trait.SERVICE_CONTROL):
        ports = [(valve.name, port.number) for port in valve.kind.ports_as(Role.SUPPLY)]
        for mine, other in ((a, b) for a in ports for b in ports if a != b):
            line, kept = bed.only_line(mine), bed.only_line(other)
            if line is None or kept is None or line[0].ends is None or kept[0].ends is None:
                continue
            source, wanted = line[0].ends[1 - line[1]], kept[0].ends[1 - kept[1]]
            apart = bed.circuit.space[wanted] not in bed.evidence.zone(bed.circuit.space[source])
            if apart and bed.takes_more(wanted) and bed.closed(source) == ():
                yield Site((bed.moved(line[0], 1 - line[1], wanted),), (valve.name, wanted[0]),
                           f"both halves of {valve.name} are fed from {wanted[0]}")


def _springs_on_one(bed: Bed, chance: Random) -> Iterator[Site]:
    """Both feeds of the park control taken from one reservoir."""
    circuit, evidence = bed.circuit, bed.evidence
    before = _locking(circuit)
    for one, other in _apart(bed):
        for tank, wanted in ((one, other), (other, one)):
            for line, place in bed.lines_at(_own_port(tank)):
                far = line.ends[1 - place] if line.ends else _own_port(tank)
                device = circuit.by_name[far[0]]
                supplies = [port.number for port in device.kind.ports_as(Role.SUPPLY)]
                if far[1] not in supplies or device.has(Trait.SERVICE_CONTROL):
                    continue
                reached = evidence.driving.fed_by(circuit.space[far], frozenset({circuit.store(tank)}))
                if any(circuit.spring_space(spring) in reached for spring in evidence.springs) \
                        and bed.closed(_own_port(tank)) == ():
                    yield Site((bed.moved(line, place, _own_port(wanted)),), (wanted.name,),
                               f"the springs are fed from {wanted.name} alone",
                               lambda spoilt: _locking(spoilt) > before)


def _locking(circuit: Circuit) -> int:
    """How many springs come on when one service reservoir is lost."""
    evidence = Evidence(circuit)
    return sum(not evidence.driving_without(lost).is_charged(circuit.spring_space(spring))
               for _, lost in evidence.losses for spring in evidence.springs
               if evidence.driving.is_charged(circuit.spring_space(spring)))


def _senses_other(bed: Bed, chance: Random) -> Iterator[Site]:
    """A modulating valve that senses the reservoir which does not brake its axles."""
    for valve in bed.own(Trait.MODULATES_SPRINGS):
        line = bed.only_line((valve.name, "42"))
        if line is None or line[0].ends is None:
            continue
        source = line[0].ends[1 - line[1]]
        for tank in bed.evidence.service_reservoirs:
            other = bed.circuit.store(tank) not in bed.evidence.zone(bed.circuit.space[source])
            if other and bed.statement(tank) and bed.closed(source) == ():
                yield Site((bed.moved(line[0], 1 - line[1], _own_port(tank)),), (valve.name,),
                           f"{valve.name} senses {tank.name}")


def _governor_behind_check(bed: Bed, chance: Random) -> Iterator[Site]:
    evidence, circuit = bed.evidence, bed.circuit
    for governor in bed.own(Trait.GOVERNS):
        sense = governor.kind.port("sense")
        line = bed.only_line((governor.name, sense.number)) if sense else None
        if line is None or line[0].ends is None:
            continue
        source = line[0].ends[1 - line[1]]
        rest = bed.closed(source)
        for tank in evidence.service_reservoirs:
            zone = evidence.zone(circuit.store(tank))
            if zone & {circuit.space[source], *evidence.sources} or rest is None or not bed.statement(tank):
                continue
            yield Site((bed.moved(line[0], 1 - line[1], _own_port(tank)), *rest), (governor.name,),
                       f"{governor.name} senses {tank.name}, behind its check valve")


def _user() -> Kind | None:
    """A user of air that can be written down with a name alone."""
    return next((kind for kind in kinds.every() if Trait.USES_AIR in kind.traits and kind.only_port
                 and not any(setting.required for setting in kind.settings)), None)


def _auxiliary_teed(bed: Bed, chance: Random) -> Iterator[Site]:
    """A user hung straight on a service reservoir."""
    kind = _user()
    for tank in bed.evidence.service_reservoirs:
        lines = [line for line, _ in bed.lines_at(_own_port(tank)) if line.kind.passages and "length" in line.settings]
        if kind is None or not lines or not bed.statement(tank) or not bed.takes_more(_own_port(tank)):
            continue
        name = bed.free_name(kind.name)
        statement = bed.statement(lines[-1])
        assert statement is not None
        row = bed.like(lines[-1], _own_port(tank), _own_port(tank)).replace(
            f"-> {bed.reference(_own_port(tank))}", f"-> {name}", 1)
        last = rows_of(statement)[-1]
        yield Site((Add(last, f"{kind.name} {name}"), Add(last, row)), (name,),
                   f"{name} hangs on {tank.name} without a protection valve")


def _springs_on_tank(bed: Bed, chance: Random) -> Iterator[Site]:
    """A trailer's springs fed from its reservoir instead of the spring valve."""
    for valve in bed.own(Trait.TRAILER_SUPPLY):
        holding, filling = valve.kind.port("spring"), valve.kind.port("reservoir")
        assert holding is not None and filling is not None
        behind = bed.evidence.zone(bed.circuit.space_of(valve, filling.number))
        tanks = [tank for tank in bed.circuit.reservoirs if bed.circuit.store(tank) in behind]
        line, rest = bed.only_line((valve.name, holding.number)), bed.closed((valve.name, holding.number))
        if line is not None and rest is not None and tanks and bed.takes_more(_own_port(tanks[0])):
            springs = [s.name for s in bed.evidence.springs]
            yield Site((bed.moved(*line, _own_port(tanks[0])), *rest), (valve.name, tanks[0].name, *springs),
                       f"the springs are fed from {tanks[0].name}, not from {valve.name}")


def _other_axle(bed: Bed, chance: Random) -> Iterator[Site]:
    """The service air that holds springs off taken from another axle."""
    circuit, evidence = bed.circuit, bed.evidence
    braked = _braked(circuit)
    signals = [key for index, keys in circuit.ports_of.items() if index != SPACE_OUTSIDE for key in keys[:1]
               if evidence.braking.is_charged(index) and not evidence.driving.is_charged(index)]
    for valve in bed.own():
        if valve.has(Trait.MODULATES_SPRINGS) or valve.is_line:
            continue
        for port in valve.kind.ports_as(Role.SUPPLY, Role.CONTROL):
            key = (valve.name, port.number)
            line = bed.only_line(key)
            own_feeds = frozenset(circuit.space_of(valve, feed.number) for feed in valve.kind.ports_as(Role.SUPPLY))
            behind = [s for s in evidence.springs for out in valve.kind.ports_as(Role.DELIVERY)
                      if circuit.space[valve.name, out.number] != SPACE_OUTSIDE and circuit.spring_space(s)
                      in evidence.driving.fed_by(circuit.space[valve.name, out.number], own_feeds)]
            if line is None or line[0].ends is None or not behind or not _charged_with_pedal(bed, key):
                continue
            source = line[0].ends[1 - line[1]]
            own = evidence.braking.commanding(circuit.service_space(s) for s in behind)
            rest = bed.closed(source)
            for other in signals:
                free = next(((k, room) for k in circuit.ports_of[circuit.space[other]]
                             if not circuit.by_name[k[0]].is_line and (room := bed.opened(k)) is not None), None)
                if free and rest is not None and not own & evidence.zone(circuit.space[other]):
                    yield Site((bed.moved(line[0], 1 - line[1], free[0]), *free[1], *rest), (valve.name,),
                               f"{valve.name} takes its service air from another axle",
                               lambda spoilt: _braked(spoilt) == braked)


def _braked(circuit: Circuit) -> int:
    """How many chambers are braked by the pedal, and released again."""
    evidence = Evidence(circuit)
    spaces = [circuit.service_space(chamber) for chamber in evidence.chambers]
    return sum(evidence.braking.is_charged(space) and not evidence.driving.is_charged(space) for space in spaces)


def _check_bypassed(bed: Bed, chance: Random) -> Iterator[Site]:
    """A line that goes round a check valve."""
    for valve in bed.own(Trait.ONE_WAY):
        one, other = bed.only_line((valve.name, "1")), bed.only_line((valve.name, "2"))
        if one is None or other is None or one[0].ends is None or other[0].ends is None:
            continue
        ends = one[0].ends[1 - one[1]], other[0].ends[1 - other[1]]
        tanks = [t.name for t in bed.evidence.service_reservoirs
                 if bed.circuit.space[ends[1]] in bed.evidence.zone(bed.circuit.store(t))]
        statement = bed.statement(other[0])
        if tanks and statement and bed.takes_more(ends[0]) and bed.takes_more(ends[1]):
            yield Site((Add(rows_of(statement)[-1], bed.like(other[0], *ends)),), tuple(tanks),
                       f"a line goes round {valve.name}")


OPERATORS = (
    Operator("shuttle-teed", "a tee where a double check valve belongs",
             ("circuits-not-separate", "brake-not-released"), "tee, joined, not separate", _tee_for_shuttle),
    Operator("reservoirs-joined", "two service reservoirs joined by a line", ("circuits-not-separate",),
             "joined, one circuit, not separate", _reservoirs_joined),
    Operator("fed-from-one", "both halves of the foot valve fed from one reservoir", ("circuits-not-separate",),
             "same reservoir, one reservoir, not separate", _one_feed),
    Operator("springs-on-one", "springs held off from one reservoir only",
             ("springs-fed-from-one-reservoir", "circuit-not-as-declared"),
             "one reservoir, same reservoir, both feeds", _springs_on_one),
    Operator("modulator-senses-other", "a modulating valve senses the wrong reservoir",
             ("modulating-valve-senses-wrong",), "senses, wrong reservoir, 42", _senses_other),
    Operator("governor-behind-check", "the governor senses a service reservoir", ("governor-misplaced",),
             "governor, senses, behind", _governor_behind_check),
    Operator("auxiliary-teed", "a user on a service reservoir without protection", ("auxiliary-not-protected",),
             "unprotected, protection, auxiliary", _auxiliary_teed),
    Operator("springs-on-tank", "trailer springs fed from the reservoir",
             ("spring-not-applied", "trailer-does-not-brake-itself"), "springs, fed from", _springs_on_tank),
    Operator("other-axle", "springs held off by another axle's service air", ("anti-compound-from-another-axle",),
             "another axle, anti-compound, compound", _other_axle),
    Operator("check-bypassed", "a line round a check valve", ("reservoir-not-held", "circuits-not-separate"),
             "bypass, round, not held", _check_bypassed),
)
