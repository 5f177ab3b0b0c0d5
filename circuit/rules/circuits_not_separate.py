"""The loss of one part empties every service circuit.

Why
---
A split brake system is only split when no single burst, loose nut or leaking tank can cost both halves. A tee instead
of a double check valve, one reservoir for both supplies, or a line between the two is enough to join them.

What happens
------------
One burst empties every service reservoir: no service brake is left on any axle.

What is not checked
-------------------
A valve's body and a chamber's housing by themselves: the body of a valve of one circuit leaks where its lines do, and
what both circuits share the federal clause leaves out. A double check valve that rests half way at a slow leak; the study
of single faults is for that.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    check-valve guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> guard.1: size 1/2 in, length 1 m
    tube guard.2 -> dry: size 1/2 in, length 1 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir pri and sec: volume 30 L, rated 10 bar, role service
    check-valve pri-guard and sec-guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> pri-guard.1: size 1/2 in, length 1 m
    tube pri-guard.2 -> pri: size 1/2 in, length 1 m
    tube wet -> sec-guard.1: size 1/2 in, length 1 m
    tube sec-guard.2 -> sec: size 1/2 in, length 1 m
    dual-foot-valve foot
    tube pri -> foot.11: size 1/2 in, length 5 m
    tube sec -> foot.12: size 1/2 in, length 5 m
    axle rear: position 2
    chamber left: type 20, stroke 2.25 in, axle front, side left
    chamber rear-left: type 20, stroke 2.25 in, axle rear, side left
    tube foot.21 -> rear-left: size 3/8 in, length 6 m
    tube foot.22 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping
from itertools import combinations

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import listed, move
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Mend, Rule, met, not_met, undecided
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, PortKey, Way


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    tanks = evidence.service_reservoirs
    if not tanks:
        return
    if len(evidence.stores) == 1:
        yield _joined(evidence, tanks[0], tanks[1]) if len(tanks) > 1 else _hanging(evidence, tanks[0])
        return
    shared = [space for space in sorted(evidence.service_system) if _loses_all(evidence, space)]
    if shared:
        one, other = next(((a, b) for a, b in combinations(tanks, 2) if evidence.joining(a, b)), tanks[:2])
        if evidence.joining(one, other):
            yield _joined(evidence, one, other)
        else:
            yield not_met("service brakes", tanks[0].span,
                        f"a burst at {circuit.space_name(shared[0])} empties {' and '.join(t.name for t in tanks)}",
                        "keep the two circuits apart there, with a double check valve or two check valves",
                        also=tuple((t.span, "loses its air") for t in tanks))
        return
    pair = next((p for p in combinations(tanks, 2) if _lost_together(evidence, *p) and evidence.joining(*p)), None) \
        if len(evidence.stores) > 2 else None
    if pair is not None:
        yield _joined(evidence, *pair)
        return
    bare = next((group for group, lost in evidence.losses if _leaves_none(evidence, lost)), None)
    if bare is not None:
        yield _joined(evidence, bare[0], bare[1]) if len(bare) > 1 else _hanging(evidence, bare[0])
        return
    names = " and ".join("+".join(t.name for t in group) for group in evidence.stores)
    yield met("service brakes", circuit.vehicle.span,
              f"{names} are separate: no loss of one part of the service brakes empties both",
              remark=_remark(evidence))
    if "signal_lines" in limits and (lines := [name for name, follows in _drawing_on_all(evidence) if follows]):
        yield undecided("lines that follow the pedal", circuit.vehicle.span,
                        f"a burst of {listed(lines)} would draw on all service reservoirs in turn",
                        f"a reading of the clause: signal lines {limits['signal_lines']}")


def _lost_together(evidence: Evidence, one: Device, other: Device) -> bool:
    """Whether one hole in the service brakes empties two reservoirs that are not one store."""
    stores = {evidence.circuit.store(one), evidence.circuit.store(other)}
    if min(stores) in evidence.zone(max(stores)):
        return False
    return any(stores <= evidence.emptied(hole, situation) for situation in ("driving", "braking")
               for hole in {min(evidence.zone(space)) for space in evidence.service_system})


def _leaves_none(evidence: Evidence, lost: frozenset[int]) -> bool:
    """Whether no service brake is applied any more with some spaces empty: all are fed, or commanded, from there."""
    spaces = [evidence.circuit.service_space(chamber) for chamber in evidence.chambers]
    air = evidence.braking_without(lost)
    return any(evidence.braking.is_charged(space) for space in spaces) and not any(map(air.is_charged, spaces))


def _loses_all(evidence: Evidence, space: int) -> bool:
    stores = {evidence.circuit.store(tank) for tank in evidence.service_reservoirs}
    hole = min(evidence.zone(space))  # all of a zone empties together, so one answer serves all its spaces
    return any(stores <= evidence.emptied(hole, situation) for situation in ("driving", "braking", "parked"))


def _hanging(evidence: Evidence, tank: Device) -> Answer:
    """All brakes on one reservoir: a valve with two supplies that are one, or a circuit that was never two."""
    circuit = evidence.circuit
    chambers = evidence.chambers
    for valve in circuit.having(Trait.SERVICE_CONTROL):
        ports = [port.number for port in valve.kind.ports_as(Role.SUPPLY)
                 if circuit.store(tank) in evidence.zone(circuit.space_of(valve, port.number))]
        if len(ports) > 1:
            idle = [other for other in circuit.reservoirs_for("service")
                    if other is not tank and evidence.filling.is_charged(circuit.store(other))]
            mends = [(number, move((valve.name, number), (other.name, "1")))
                     for other in idle for number in reversed(ports)]
            number, mend = min(mends, key=lambda each: _undeclared(Evidence(each[1](circuit))),
                               default=(ports[-1], None))
            line = next((d for d in circuit.devices if d.ends and (valve.name, number) in d.ends), valve)
            return not_met(tank.name, line.span,
                         f"{valve.name}.{' and '.join(ports)} are both fed from {tank.name}: when it is lost no "
                         "service brake is left",
                         f"feed {valve.name}.{number} from {idle[0].name if idle else 'a second service reservoir'}",
                         also=((tank.span, "the reservoir"), (valve.span, valve.kind.title.lower())), mend=mend)
    return not_met(tank.name, tank.span,
                 f"all {len(chambers)} service brakes hang on {tank.name}: when it is lost none is left",
                 "give the vehicle two service reservoirs, each with its own check valve, and a dual foot valve",
                 also=((chambers[0].span, "the first of its brakes"),) if chambers else ())


def _undeclared(evidence: Evidence) -> int:
    """How many axles are not braked from the reservoirs that their declared circuit names."""
    return sum(
        {tank.name for tank in evidence.service_reservoirs for chamber in evidence.served[tank.name]
         if chamber.settings["axle"] == axle} != set(intent.reservoirs)
        for intent in evidence.circuit.intents if intent.role == "service" for axle in intent.axles
    )


def _joined(evidence: Evidence, one: Device, other: Device) -> Answer:
    circuit = evidence.circuit
    chain = evidence.joining(one, other) or ()
    parts = [circuit.by_name[name] for name in dict.fromkeys(way.device.name for way in chain)]
    steps = [circuit.store(one)]
    for way in chain:
        steps.append(way.end if way.start == steps[-1] else way.start)
    names = list(dict.fromkeys(circuit.space_name(space) for space in steps))
    fittings = list({d.name: d for space in steps for d in circuit.on_space(space, Trait.JOINS)}.values())
    lines = [device for device in parts if device.is_line]
    culprit = next(iter(fittings), None) or next((device for device in parts if not device.is_line), None)
    cut = _cut(circuit, culprit, chain, steps) if culprit in fittings else \
        [(culprit.name, port.number) for port in culprit.kind.ports] if culprit else \
        [(lines[0].name, "1")] if lines else []
    valve = culprit is not None and culprit not in fittings
    instead = " or of ".join(fitting.name for fitting in fittings[:3]) or (culprit.name if culprit else "")
    return not_met(f"{one.name} and {other.name}", (culprit or next(iter(lines), one)).span,
                 f"{one.name} and {other.name} are one circuit: {' - '.join(names)}",
                 f"part them: a double check valve instead of {instead}" if instead else "take the joining line out",
                 also=((one.span, "one reservoir"), (other.span, "the other"),
                       *((line.span, "part of the way") for line in lines[:4])),
                 mends=() if valve else (_parted(cut),), guesses=(_parted(cut),) if valve else ())


def _parted(cut: list[PortKey]) -> Mend:
    return lambda c: c.apart(*cut)


def _cut(circuit: Circuit, fitting: Device, chain: tuple[Way, ...], steps: list[int]) -> list[PortKey]:
    """The end of the line by which the chain leaves a fitting."""
    here = circuit.store(fitting)
    for way, space in zip(chain, steps):
        if space == here and way.device.is_line:
            return [(way.device.name, way.passage.start if way.start == here else way.passage.end)]
    return [(fitting.name, port.number) for port in fitting.kind.ports]


def _remark(evidence: Evidence) -> str:
    """Places outside the service brakes whose loss draws on every service reservoir: not asked for, worth knowing."""
    names = [name for name, _ in _drawing_on_all(evidence)]
    if not names:
        return ""
    more = f" and {len(names) - 3} more" if len(names) > 3 else ""
    return (f"outside the service brakes, a burst of {', '.join(names[:3])}{more} would draw on all service reservoirs "
            "in turn")


def _drawing_on_all(evidence: Evidence) -> list[tuple[str, bool]]:
    """The lines outside the service brakes whose loss draws on every service reservoir, or the places where none is a line;
    and whether each has air only with the pedal down."""
    circuit = evidence.circuit
    shared = [space for space in sorted(circuit.ports_of)
              if space != SPACE_OUTSIDE and space not in evidence.service_system and _loses_all(evidence, space)]

    def follows(space: int) -> bool:
        return evidence.braking.is_charged(space) and not evidence.driving.is_charged(space)

    lines = []
    for device in circuit.devices:
        if device.is_line and circuit.space[device.name, "1"] in shared and circuit.space[device.name, "2"] in shared:
            lines.append((device.title, follows(circuit.space[device.name, "1"])))
    return lines or [(circuit.space_name(space), follows(space)) for space in shared]


RULE = Rule("circuits-not-separate", "the service circuits are really separate", "error", check)
