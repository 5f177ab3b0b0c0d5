"""The air at rest, against cases worked by hand. Pressures are gauge, in bar.

What each valve does is common practice, no source, where nothing else is said; the numbers follow from the settings
that stand in each design.
"""

import pytest

from circuit.declaring.kind import SITUATIONS
from circuit.judging.evidence import Evidence
from circuit.model.air import Air
from circuit.model.settling import charged, outside_sources, settle
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.loss import emptied_by
from circuit.units import ATMOSPHERE
from tests.designs import completed, example_text, loaded

NEAR = 0.01
"""bar; how near the search for a balance comes."""


def circuit_of(text: str) -> Circuit:
    return loaded(completed(text))


def bar(air: Air, port: str) -> float:
    """The gauge pressure at a port, written `device.port`."""
    name, _, number = port.partition(".")
    circuit = air.circuit
    device = circuit.by_name[name]
    space = circuit.space_of(device, number or device.kind.ports[0].number)
    return (air.level.get(space, ATMOSPHERE) - ATMOSPHERE) / 1e5


def held(circuit: Circuit, situation: str, **pressures: float) -> Air:
    """The circuit at rest with some spaces held at a pressure; `_` stands for the dot and the hyphen is not used."""
    sources = {}
    for port, pressure in pressures.items():
        name, _, number = port.rpartition("_")
        sources[circuit.space_of(circuit.by_name[name], number)] = ATMOSPHERE + pressure * 1e5
    return settle(circuit, situation, sources)


RELAY = """
relay-valve relay: opens-at 0.25 bar, lap 0.15 bar, deliveries 1
reservoir tank: volume 40 L, rated 10 bar, role service
tube tank -> relay.1: size 1/2 in, length 1 m
manifold signal: holes 2
tube signal -> relay.4: size 3/8 in, length 5 m
plug signal
chamber left: type 30, stroke 2.5 in, axle front, side left
hose relay.2 -> left: bore 3/8 in, length 1 m
"""


@pytest.mark.parametrize("signal, delivery", [(3.0, 2.75), (0.5, 0.25), (0.25, 0.0), (0.1, 0.0), (9.0, 8.0)])
def test_a_relay_gives_its_signal_less_the_opening_difference(signal: float, delivery: float):
    """3 bar less 0.25 bar; nothing up to 0.25 bar; never more than its supply of 8 bar."""
    air = held(circuit_of(RELAY), "braking", tank_1=8.0, signal_1=signal)
    assert bar(air, "left.1") == pytest.approx(delivery, abs=NEAR)


CHECKS = """
reservoir wet: volume 20 L, rated 10 bar, role supply
reservoir dry: volume 40 L, rated 10 bar, role service
check-valve guard: opens-at 0.1 bar
tube wet -> guard.1: size 1/2 in, length 1 m
tube guard.2 -> dry: size 1/2 in, length 1 m
"""


def test_a_check_valve_costs_its_opening_difference():
    assert bar(held(circuit_of(CHECKS), "driving", wet_1=8.6), "dry") == pytest.approx(8.5, abs=NEAR)


def test_a_check_valve_gives_nothing_back():
    air = held(circuit_of(CHECKS), "driving", dry_1=8.0)
    assert bar(air, "wet") == 0.0 and bar(air, "dry") == 8.0


MODULATOR = """
axle rear: position 2
manifold park and pedal and pri: holes 2
plug park and pedal and pri
spring-brake-modulating-valve modulator: shifts-at 3.8 bar, holds 6.6 bar, gain 1, lap 0.2 bar
tube park -> modulator.1: size 3/8 in, length 6 m
tube pedal -> modulator.41: size 1/4 in, length 6 m
tube pri -> modulator.42: size 1/4 in, length 1 m
spring-chamber can: type 30/30, stroke 2.5 in, axle rear, side left
hose modulator.2 -> can.12: bore 3/8 in, length 1 m
"""


@pytest.mark.parametrize("park, pedal, pri, springs", [
    (8.5, 0.0, 8.5, 6.6),  # healthy: it limits the springs to what it holds (US Army TM 5-3820-256-24-4: 95 psi)
    (8.5, 6.0, 8.5, 6.6),  # healthy and braking: the pedal does nothing to the springs
    (8.5, 0.0, 0.0, 6.6),  # primary lost, pedal up: the springs are still held off
    (8.5, 2.0, 0.0, 4.6),  # primary lost, 2 bar of pedal: 6.6 - 2
    (8.5, 6.6, 0.0, 0.0),  # primary lost, pedal hard down: all let on
    (8.5, 2.0, 3.7, 4.6),  # below 3.8 bar counts as lost (same source: 55 psi)
    (8.5, 2.0, 3.9, 6.6),
    (5.0, 0.0, 8.5, 5.0),  # never more than the park control gives
    (0.0, 0.0, 8.5, 0.0),  # parked
])
def test_a_modulating_valve_lets_the_springs_on_with_the_pedal_once_the_primary_is_lost(
    park: float, pedal: float, pri: float, springs: float
):
    air = held(circuit_of(MODULATOR), "driving", park_1=park, pedal_1=pedal, pri_1=pri)
    assert bar(air, "can.12") == pytest.approx(springs, abs=NEAR)


ANTI_COMPOUND = """
axle rear: position 2
manifold park and service: holes 2
plug park and service
anti-compound-release release: opens-at 0.1 bar, deliveries 1
tube park -> release.1: size 3/8 in, length 1 m
tube service -> release.4: size 3/8 in, length 1 m
spring-chamber can: type 30/30, stroke 2.5 in, axle rear, side left
hose release.2 -> can.12: bore 3/8 in, length 1 m
"""


@pytest.mark.parametrize("park, service, springs", [
    (6.6, 0.0, 6.5), (0.0, 6.0, 5.9), (6.6, 8.0, 7.9), (6.6, 3.0, 6.5), (0.0, 0.0, 0.0)
])
def test_springs_get_the_higher_of_park_and_service_air(park: float, service: float, springs: float):
    """Parked and pressing the pedal, the service air holds the springs off: the two forces do not add up."""
    air = held(circuit_of(ANTI_COMPOUND), "driving", park_1=park, service_1=service)
    assert bar(air, "can.12") == pytest.approx(springs, abs=NEAR)


SHUTTLE = """
manifold one and other: holes 2
plug one and other
double-check-valve shuttle: shifts-at 0.2 bar
tube one -> shuttle.11: size 3/8 in, length 1 m
tube other -> shuttle.12: size 3/8 in, length 1 m
consumer user: use "a gauge"
tube shuttle.2 -> user: size 1/4 in, length 1 m
"""


@pytest.mark.parametrize("one, other, higher", [(8.0, 5.0, 8.0), (5.0, 8.0, 8.0), (8.0, 0.0, 8.0), (0.0, 3.0, 3.0)])
def test_a_double_check_valve_passes_the_higher(one: float, other: float, higher: float):
    air = held(circuit_of(SHUTTLE), "driving", one_1=one, other_1=other)
    assert bar(air, "user") == pytest.approx(higher, abs=NEAR)
    assert bar(air, "one") == one and bar(air, "other") == other


PARK = """
axle rear: position 2
reservoir tank: volume 40 L, rated 10 bar, role service
park-valve park: pops-out-at 2.1 bar
tube tank -> park.1: size 3/8 in, length 1 m
spring-chamber can: type 30/30, stroke 2.5 in, axle rear, side left
hose park.2 -> can.12: bore 3/8 in, length 1 m
"""


@pytest.mark.parametrize("tank, situation, springs", [
    (8.0, "driving", 8.0), (2.2, "driving", 2.2), (2.0, "driving", 0.0), (8.0, "parked", 0.0), (8.0, "braking", 8.0),
])
def test_the_park_valve_feeds_while_pushed_and_pops_at_its_pressure(tank: float, situation: str, springs: float):
    """It pops out between 20 and 45 psi; here 2.1 bar."""
    assert bar(held(circuit_of(PARK), situation, tank_1=tank), "can.12") == pytest.approx(springs, abs=NEAR)


PROTECTION = """
compressor pump: displacement 12 cfm
reservoir tank: volume 40 L, rated 10 bar, role service
hose pump.2 -> tank: bore 5/8 in, length 3 m
pressure-protection-valve guard: opens-at 5.9 bar, shuts-at 5.2 bar
tube tank -> guard.1: size 1/4 in, length 0.2 m
consumer horn: use "horn"
tube guard.2 -> horn: size 1/4 in, length 3 m
"""


def test_a_protection_valve_keeps_its_feed_when_the_far_side_bursts():
    evidence = Evidence(circuit_of(PROTECTION))
    circuit = evidence.circuit
    horn, tank = circuit.store(circuit.by_name["horn"]), circuit.store(circuit.by_name["tank"])
    assert evidence.driving.is_charged(horn)
    assert tank not in emptied_by(evidence.driving, horn)
    assert {horn, circuit.space["guard", "2"]} <= emptied_by(evidence.driving, horn)


def test_a_plain_tube_does_not():
    guard = "pressure-protection-valve guard: opens-at 5.9 bar, shuts-at 5.2 bar"
    evidence = Evidence(circuit_of(PROTECTION.replace(guard, "cut-out-cock guard: state open")))
    circuit = evidence.circuit
    horn, tank = circuit.store(circuit.by_name["horn"]), circuit.store(circuit.by_name["tank"])
    assert tank in emptied_by(evidence.driving, horn)


@pytest.mark.parametrize("tank, horn", [(8.0, 8.0), (5.8, 0.0)])
def test_a_protection_valve_opens_at_its_opening_pressure(tank: float, horn: float):
    air = held(circuit_of(PROTECTION), "driving", tank_1=tank)
    circuit = air.circuit
    without_pump = settle(circuit, "driving", {circuit.store(circuit.by_name["tank"]): ATMOSPHERE + tank * 1e5})
    assert bar(without_pump, "horn") == pytest.approx(horn, abs=NEAR)


def test_a_trailer_valve_fills_and_holds_off_while_coupled_and_lets_on_when_not():
    """Coupled, the supply line at 100 psi fills the reservoirs and holds the springs off; uncoupled, the springs are
    let on and the reservoirs keep what they have."""
    evidence = Evidence(loaded(example_text("semitrailer-tandem")))
    hundred = 100 * 6894.757293168361 / 1e5
    assert bar(evidence.driving, "tank-1") == pytest.approx(hundred, abs=NEAR)
    assert bar(evidence.driving, "springs.22") == pytest.approx(hundred, abs=NEAR)
    assert bar(evidence.parked, "tank-1") == pytest.approx(hundred, abs=NEAR)
    assert bar(evidence.parked, "springs.1") == 0.0
    assert bar(evidence.parked, "springs.22") == 0.0


TRAILER = """
vehicle semi: class semi-trailer
manifold line: holes 2
plug line
trailer-spring-brake-valve valve: opens-at 5.2 bar, shuts-at 4.9 bar, vents-below 3.1 bar, deliveries 1
tube line -> valve.1: size 1/2 in, length 9 m
reservoir tank: volume 40 L, rated 10 bar, role service
tube valve.21 -> tank: size 1/2 in, length 1 m
spring-chamber can: type 30/30, stroke 2.5 in, axle front, side left
hose valve.22 -> can.12: bore 3/8 in, length 1 m
"""


@pytest.mark.parametrize("line, tank, springs", [(7.0, 7.0, 7.0), (5.0, 0.0, 5.0), (3.0, 0.0, 0.0)])
def test_a_trailer_valve_holds_the_springs_off_before_it_fills(line: float, tank: float, springs: float):
    """Below 5.2 bar only the springs get air; below 3.1 bar (20 to 45 psi) they get none."""
    air = held(circuit_of(TRAILER), "driving", line_1=line)
    assert bar(air, "tank") == pytest.approx(tank, abs=NEAR)
    assert bar(air, "can.12") == pytest.approx(springs, abs=NEAR)


FOOT = """
reservoir pri and sec: volume 40 L, rated 10 bar, role service
dual-foot-valve foot: lead 0.15 bar, full-delivery 6 bar
tube pri -> foot.11: size 1/2 in, length 5 m
tube sec -> foot.12: size 1/2 in, length 5 m
manifold rear and front: holes 2
plug rear and front
tube foot.21 -> rear: size 3/8 in, length 5 m
tube foot.22 -> front: size 3/8 in, length 5 m
"""


@pytest.mark.parametrize("pri, sec, situation, rear, front", [
    (8.0, 8.0, "driving", 0.0, 0.0), (8.0, 8.0, "braking", 6.0, 5.85), (0.0, 8.0, "braking", 0.0, 5.85),
    (8.0, 0.0, "braking", 6.0, 0.0), (4.0, 8.0, "braking", 4.0, 5.85),
])
def test_the_halves_of_a_dual_foot_valve_are_two_circuits(
    pri: float, sec: float, situation: str, rear: float, front: float
):
    """Full stroke asks for 6 bar here, the lower half for 0.15 bar less; a half without air takes none of the other."""
    air = held(circuit_of(FOOT), situation, pri_1=pri, sec_1=sec)
    assert (bar(air, "rear"), bar(air, "front")) == pytest.approx((rear, front), abs=NEAR)


def test_the_truck_stands_as_its_settings_say():
    """Cut-out 8.6 bar; two check valves cost 0.1 bar; relay 0.2, quick release 0.1; springs held with 6.6 less 0.1."""
    evidence = Evidence(loaded(example_text("truck-6x4")))
    driving, braking, parked = evidence.driving, evidence.braking, evidence.parked
    assert [bar(driving, p) for p in ("wet", "pri", "sec")] == pytest.approx([8.6, 8.5, 8.5], abs=NEAR)
    assert bar(driving, "foot.21") == 0.0 and bar(driving, "front-left") == 0.0
    assert bar(driving, "spring-release.2") == pytest.approx(6.5, abs=NEAR)
    assert bar(braking, "rear-relay.2") == pytest.approx(8.3, abs=NEAR)
    assert bar(braking, "front-left") == pytest.approx(8.5 - 0.1, abs=NEAR)
    assert bar(parked, "spring-release.2") == 0.0 and bar(parked, "pri") == pytest.approx(8.5, abs=NEAR)


def test_after_a_plugged_exhaust_the_air_stays():
    free = Evidence(loaded(example_text("truck-6x4")))
    shut = Evidence(loaded(example_text("truck-6x4") + "plug rear-relay.3\n"))
    assert bar(free.released, "rear-relay.2") == 0.0
    assert bar(shut.released, "rear-relay.2") == pytest.approx(8.3, abs=NEAR)
    assert bar(shut.released, "front-left") == 0.0


@pytest.mark.parametrize("situation", SITUATIONS)
@pytest.mark.parametrize("name", ["truck-6x4", "semitrailer-tandem", "teaching-board", "tractor-6x4"])
def test_no_pressure_rises_above_its_sources_and_equal_ends_stay(name: str, situation: str):
    circuit = loaded(example_text(name))
    air = charged(circuit, situation)
    assert air.level and SPACE_OUTSIDE not in air.level
    highest = max({**air.sources, **outside_sources(circuit, "driving")}.values())
    assert all(ATMOSPHERE < pressure <= highest + 1 for pressure in air.level.values())
    for device in circuit.devices:
        if device.is_line and device.kind.passages:
            one, other = (air.level.get(circuit.space[device.name, end], ATMOSPHERE) for end in ("1", "2"))
            assert one == pytest.approx(other), f"{device.name} has two pressures at rest"
