"""Springs are held off during braking by the service air of another axle.

Why
---
A double check valve in the spring line keeps spring and service force from adding up in one brake. It must see the
service pressure of the same brake; that of another axle comes sooner, later or not at all.

What happens
------------
The two forces add up when the other axle is not braked, or the springs stay off when this axle has no service brake.

What is not checked
-------------------
Whether the brake's parts would stand both forces at once.
Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    axle rear: position 2
    foot-valve foot: deliveries 2
    tube dry -> foot.1: size 1/2 in, length 5 m
    quick-release-valve front-release
    tube foot.2 -> front-release.1: size 3/8 in, length 2 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    hose front-release.2 -> left: bore 3/8 in, length 1 m
    relay-valve relay: deliveries 1
    tube foot.2 -> relay.4: size 3/8 in, length 6 m
    tube dry -> relay.1: size 1/2 in, length 1 m
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    hose relay.2 -> rear-left.11: bore 3/8 in, length 1 m
    park-valve park
    tube dry -> park.1: size 3/8 in, length 3 m
    anti-compound-release release: deliveries 1
    tube park.2 -> release.1: size 3/8 in, length 6 m
    tube front-release.2 -> release.4: size 3/8 in, length 6 m
    hose release.2 -> rear-left.12: bore 3/8 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    axle rear: position 2
    foot-valve foot: deliveries 2
    tube dry -> foot.1: size 1/2 in, length 5 m
    quick-release-valve front-release: deliveries 1
    tube foot.2 -> front-release.1: size 3/8 in, length 2 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    hose front-release.2 -> left: bore 3/8 in, length 1 m
    relay-valve relay: deliveries 2
    tube foot.2 -> relay.4: size 3/8 in, length 6 m
    tube dry -> relay.1: size 1/2 in, length 1 m
    spring-chamber rear-left: type 30/30, stroke 2.5 in, axle rear, side left
    hose relay.2 -> rear-left.11: bore 3/8 in, length 1 m
    park-valve park
    tube dry -> park.1: size 3/8 in, length 3 m
    anti-compound-release release: deliveries 1
    tube park.2 -> release.1: size 3/8 in, length 6 m
    tube relay.2 -> release.4: size 3/8 in, length 6 m
    hose release.2 -> rear-left.12: bore 3/8 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.kind import OUTSIDE
from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import listed, move
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.devices import SPACE_OUTSIDE, Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for valve in circuit.devices:
        if valve.is_line or valve.has(Trait.MODULATES_SPRINGS):
            continue
        for number in _service_ports(evidence, valve):
            springs = _behind(evidence, valve, number)
            own = evidence.zone(circuit.space_of(valve, number))
            if not springs:
                continue
            braked = evidence.braking.commanded_by(own)
            if any(circuit.service_space(spring) in braked for spring in springs):
                yield met(valve.name, valve.span, f"{valve.name} holds the springs off by their own axle's service air")
                continue
            axles = list(dict.fromkeys(c.settings["axle"] for c in evidence.chambers
                                       if circuit.service_space(c) in own | braked))
            line = next((d for d in circuit.devices if d.ends and (valve.name, number) in d.ends), valve)
            yield not_met(valve.name, line.span,
                        f"{valve.name} holds off the springs of {listed(s.name for s in springs)} with service air of "
                        f"{'axle ' + listed(axles) if axles else 'another brake'}",
                        f"take {valve.name}.{number} from the service delivery of axle {springs[0].settings['axle']}",
                        also=((springs[0].span.outermost, "one of the springs"),),
                        mend=move((valve.name, number), _service_port(springs[0])))


def _service_port(spring: Device) -> tuple[str, str]:
    return spring.name, spring.kind.ports[0].number


def _service_ports(evidence: Evidence, valve: Device) -> list[str]:
    """The ports by which a valve takes air that is there only while the pedal is down."""
    found = []
    for port in valve.kind.ports_as(Role.SUPPLY, Role.CONTROL):
        space = evidence.circuit.space_of(valve, port.number)
        if space != SPACE_OUTSIDE and evidence.braking.is_charged(space) and not evidence.driving.is_charged(space):
            found.append(port.number)
    return found


def _behind(evidence: Evidence, valve: Device, number: str) -> list[Device]:
    """The springs whose air comes through a valve by one of its ports, or is commanded there."""
    circuit = evidence.circuit
    port = valve.kind.port(number)
    assert port is not None
    deliveries = {circuit.space_of(valve, p.end) for p in valve.kind.passages
                  if p.start == number or (port.role is Role.CONTROL and p.end != OUTSIDE)} - {SPACE_OUTSIDE}
    held = evidence.driving.commanded_by(deliveries)
    return [spring for space in sorted(held) for spring in evidence.springs_at.get(space, ())]


RULE = Rule("anti-compound-from-another-axle",
            "springs are held off in braking by their own axle's service air", "warning", check)
