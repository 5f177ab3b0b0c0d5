"""The city bus: its volume sum, worked by hand, and what the loss of each comfort leaves of the brakes."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.sim.script import leak, move
from tests.designs import design_of, findings_of
from tests.examples.held import bar, circuit_of, litres, lost, played, still_fed, stops, verdict_of, whole

BUS = "city-bus"
BRAKES = {"wet", "pri", "sec"}


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(BUS))


def test_it_is_clean():
    assert not verdict_of(BUS).findings


def test_its_volumes_worked_by_hand(evidence: Evidence):
    """Two chambers type 24 of 67 in3 and two type 30 of 89 in3 are 312 in3 = 5.11 L; 20 + 40 + 25 L are there."""
    share = whole(evidence)
    assert {tank.name for tank in share.tanks} == BRAKES
    assert litres(share.chamber_volume) == pytest.approx((2 * 67 + 2 * 89) * 0.016387064, abs=1e-6)
    assert litres(share.chamber_volume) == pytest.approx(5.11, abs=0.005)
    assert litres(12 * share.chamber_volume) == pytest.approx(61.4, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(85)
    assert share.ratio == pytest.approx(16.6, abs=0.05)


@pytest.mark.parametrize("hole", [("aux", "1"), ("bag-left-1", "1"), ("bag-front-right", "1"), ("front-door", "12"),
                                  ("rear-door", "11"), ("hold-limit", "1"), ("level-right", "1")])
def test_no_comfort_takes_the_brakes_air(evidence: Evidence, hole: tuple[str, str]):
    assert not lost(evidence, hole) & (BRAKES | {"release-tank"})


def test_the_auxiliaries_burst_and_the_wet_side_stops_at_the_closing_pressure(evidence: Evidence):
    assert stops(evidence, ("aux", "1")) == {"aux-guard": 5.2}
    assert still_fed(evidence, "aux-guard", 5.25) and not still_fed(evidence, "aux-guard", 5.15)


def test_both_service_reservoirs_are_lost_and_the_springs_can_still_be_lifted(evidence: Evidence):
    circuit = evidence.circuit
    assert "release-tank" not in lost(evidence, ("pri", "1"), ("sec", "1"))
    assert not lost(evidence, ("release-tank", "1")) & {"pri", "sec"}
    air = evidence.driving_without(frozenset({circuit.space["pri", "1"], circuit.space["sec", "1"]}))
    assert not air.is_charged(circuit.space["rear-left.can", "12"])
    reached = air.reaches([circuit.space["lift-springs", "2"]], 101325 + 6e5)
    assert circuit.space["rear-left.can", "12"] in reached


def test_without_current_the_interlock_is_off_and_with_it_the_rear_brakes_are_held():
    circuit = circuit_of(BUS)
    off, on = Evidence(circuit), Evidence(circuit).energised
    rear = circuit.space["rear-left.can", "11"]
    assert not off.driving.is_charged(rear)
    assert on.driving.is_charged(rear) and on.driving.level[rear] < 101325 + 3.1e5
    assert not on.driving.is_charged(circuit.space["front-left", "1"])


def test_kneeled_the_front_bags_empty_and_without_current_they_are_filled():
    circuit = circuit_of(BUS)
    bag = circuit.space["bag-front-left", "1"]
    assert Evidence(circuit).driving.level[bag] == pytest.approx(101325 + 3.4e5, abs=1e3)
    kneeled = Evidence(circuit).energised.driving
    assert not kneeled.is_charged(bag) and kneeled.vents(bag, 101325 + 3e5)


def test_a_door_line_breaks_the_doors_can_be_pushed_and_the_brakes_keep_their_air():
    circuit = circuit_of(BUS)
    trace = played(circuit, leak("door-tee", 0.008, 1.0), until=200.0)
    for door in ("front-door", "rear-door"):
        assert max(bar(trace, f"{door}.11", 200.0), bar(trace, f"{door}.12", 200.0)) < 0.1, "no air on either side"
    assert (bar(trace, "pri", 200.0), bar(trace, "sec", 200.0)) == pytest.approx((8.5, 8.5), abs=0.05)
    assert bar(trace, "wet", 200.0) == pytest.approx(5.2, abs=0.05)


def test_driven_off_kneeled_the_body_comes_up_again():
    """The driver's switch keeps it kneeling; that it falls back when the bus moves is the switch's current taken away,
    which no plan of the air shows: what is shown is that without current the bags fill."""
    circuit = circuit_of(BUS)
    assert circuit.by_name["kneel"].settings["without-current"] == "riding"
    trace = played(circuit, move("kneel", "energised", 1.0, 0.0), move("kneel", "energised", 0.0, 60.0), until=100.0)
    assert bar(trace, "bag-front-left", 60.0) < 1.6
    assert bar(trace, "bag-front-left", 100.0) == pytest.approx(3.4, abs=0.05)


def test_what_the_interlock_does_without_current_is_written_down(evidence: Evidence):
    """Which side is the safe one no plan can tell: a held brake stops a bus in traffic, a free one lets it roll with
    its door open. The design says `shut`, so the brakes are let go, and the pedal works as ever."""
    circuit = evidence.circuit
    assert circuit.by_name["interlock"].settings["without-current"] == "shut"
    assert all(evidence.braking.is_charged(circuit.service_space(chamber)) for chamber in evidence.chambers)
    other = Evidence(circuit.with_setting(circuit.by_name["interlock"], "without-current", "open"))
    assert other.driving.is_charged(circuit.space["rear-left.can", "11"])


def test_an_interlock_by_a_tee_is_found():
    """The mistake: a tee instead of the double check valve joins the auxiliaries to the service signal."""
    text = design_of("""on: city-bus
- double-check-valve hold-shuttle
+ tee hold-shuttle
- tube foot.21 -> hold-shuttle.11
+ tube foot.21 -> hold-shuttle: size 3/8 in, length 9 m
- tube hold-shuttle.2 -> rear-relay.4
+ tube hold-shuttle -> rear-relay.4: size 3/8 in, length 0.5 m
- tube hold-limit.2 -> hold-shuttle.12
+ tube hold-limit.2 -> hold-shuttle: size 1/4 in, length 2 m
""")
    assert {rule for _, rule in findings_of(text)}
