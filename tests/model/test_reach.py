"""Where air goes in a circuit at rest, on circuits small enough to see by eye. Pressures are gauge, in bar.

Which way each valve lets pass is common practice, no source; everything else follows from who is joined to whom.
"""

import pytest

from circuit.model.air import Air, full_pressure, leaves, path
from circuit.model.settling import after, charged, outside_sources, settle
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.loss import emptied_by
from circuit.units import ATMOSPHERE
from tests.designs import completed, example_text, loaded

TRUCK = completed("""
compressor pump: displacement 12 cfm
governor gov: cut-in 7 bar, cut-out 8 bar
reservoir wet: volume 20 L, rated 10 bar, role supply
reservoir dry: volume 40 L, rated 10 bar, role service
check-valve guard: opens-at 0.1 bar
hose pump.2 -> wet: bore 5/8 in, length 3 m
tube wet -> gov.1: size 1/4 in, length 1 m
tube gov.2 -> pump.4: size 1/4 in, length 1 m
tube wet -> guard.1: size 1/2 in, length 1 m, name up
tube guard.2 -> dry: size 1/2 in, length 1 m, name down
foot-valve foot: deliveries 1, full-delivery 6 bar
tube dry -> foot.1: size 1/2 in, length 1 m
relay-valve relay: opens-at 0.25 bar, deliveries 1
tube dry -> relay.1: size 1/2 in, length 1 m
tube foot.2 -> relay.4: size 3/8 in, length 1 m
chamber left: type 30, stroke 2.5 in, axle front, side left
hose relay.2 -> left: bore 3/8 in, length 1 m
cut-out-cock cock: state open
tube dry -> cock.1: size 3/8 in, length 1 m
consumer horn: use "horn"
tube cock.2 -> split: size 3/8 in, length 1 m
manifold split: holes 4
tube split -> horn: size 3/8 in, length 1 m
""")
FED = {"wet", "gov.1", "up.2", "guard.1", "pump.2"}
"""What stands at the governor's cut-out: the wet side."""


@pytest.fixture(scope="module")
def truck() -> Circuit:
    return loaded(TRUCK)


def at(circuit: Circuit, *places: str) -> set[int]:
    """The spaces of places written `device`, `device.port` or by a line's own name."""
    found = set()
    for place in places:
        name, _, port = place.partition(".")
        device = circuit.by_name.get(name) or next(d for d in circuit.devices if d.settings.get("name") == name)
        found.add(circuit.space_of(device, port or device.kind.ports[0].number))
    return found


def bar(air: Air, place: str) -> float:
    (space,) = at(air.circuit, place)
    return (air.level.get(space, ATMOSPHERE) - ATMOSPHERE) / 1e5


def held(circuit: Circuit, situation: str = "driving", **places: float) -> Air:
    """The circuit at rest with some spaces held at a pressure; `_` stands for the dot."""
    return settle(circuit, situation, {next(iter(at(circuit, place.replace("_", ".")))): ATMOSPHERE + pressure * 1e5
                                       for place, pressure in places.items()})


def one(circuit: Circuit, place: str) -> int:
    (space,) = at(circuit, place)
    return space


# --- sources ---------------------------------------------------------------------------------------------------------


def test_a_circuit_is_full_at_the_lowest_cut_out_and_a_trailer_at_100_psi(truck: Circuit):
    assert full_pressure(truck) == pytest.approx(ATMOSPHERE + 8e5)
    two = loaded(TRUCK + "governor other: cut-in 6 bar, cut-out 7.5 bar\n")
    assert full_pressure(two) == pytest.approx(ATMOSPHERE + 7.5e5)
    assert full_pressure(loaded(example_text("semitrailer-tandem"))) == pytest.approx(ATMOSPHERE + 6.894757e5, rel=1e-6)


def test_air_comes_from_the_compressor_always_and_by_coupling_heads_while_coupled(truck: Circuit):
    for situation in ("parked", "driving", "braking"):
        assert outside_sources(truck, situation) == {one(truck, "pump.2"): pytest.approx(ATMOSPHERE + 8e5)}
    trailer = loaded(example_text("semitrailer-tandem"))
    supply, control = one(trailer, "supply-head"), one(trailer, "control-head")
    assert outside_sources(trailer, "parked") == {}
    assert set(outside_sources(trailer, "driving")) == {supply}
    assert set(outside_sources(trailer, "braking")) == {supply, control}
    asked = outside_sources(trailer, "braking", ATMOSPHERE + 2e5)
    assert asked[control] == ATMOSPHERE + 2e5 and asked[supply] == full_pressure(trailer)
    assert outside_sources(trailer, "braking", ATMOSPHERE + 20e5)[control] == full_pressure(trailer), "no more than full"


def test_a_reservoir_keeps_what_driving_filled_unless_it_stands_open():
    closed = "reservoir tank: volume 20 L, rated 10 bar, role service\ncoupling-head red: line supply\n" \
        "check-valve guard\ntube red -> guard.1: size 1/2 in, length 1 m\ntube guard.2 -> tank: size 1/2 in, length 1 m\n"
    trailer = loaded(completed("vehicle x: class semi-trailer\n" + closed))
    parked = charged(trailer, "parked")
    assert bar(parked, "tank") == pytest.approx(6.79, abs=0.01), "100 psi less the check valve's 0.1 bar"
    assert bar(parked, "red") == 0.0
    drained = loaded(completed("vehicle x: class semi-trailer\n" + closed + "open-end tail\n"
                               "tube tank -> tail: size 1/4 in, length 1 m\n"))
    assert bar(charged(drained, "parked"), "tank") == 0.0, "nothing comes from outside, and the air is gone"
    assert bar(charged(drained, "driving"), "tank") == pytest.approx(6.79, abs=0.01), "while it is fed it stands charged"
    assert bar(charged(trailer, "parked", frozenset(at(trailer, "tank"))), "tank") == 0.0, "one that is held empty"


def test_what_is_known_of_the_filling_is_not_worked_out_again(truck: Circuit):
    filled = settle(truck, "driving", {one(truck, "dry"): ATMOSPHERE + 3e5})
    assert bar(charged(truck, "driving", filling=filled), "dry") == pytest.approx(7.9, abs=0.01)
    nothing = charged(loaded(TRUCK.replace("hose pump.2 -> wet", "hose pump.2 -> cock.3")), "driving", filling=filled)
    assert bar(nothing, "dry") == pytest.approx(3.0, abs=0.01), "what it had when it was filled, and no pump reaches it"


# --- settling --------------------------------------------------------------------------------------------------------


def test_pressures_settle_along_the_line(truck: Circuit):
    air = charged(truck, "braking")
    assert [round(bar(air, place), 2) for place in ("wet", "dry", "horn", "foot.2", "left")] == [8.0, 7.9, 7.9, 6.0, 5.75]
    assert all(round(bar(air, place), 2) == 8.0 for place in FED)
    resting = charged(truck, "driving")
    assert bar(resting, "foot.2") == bar(resting, "left") == 0.0
    assert resting.is_charged(one(truck, "dry")) and not resting.is_charged(one(truck, "left"))
    assert not resting.is_charged(SPACE_OUTSIDE)


def test_half_a_bar_is_where_a_space_counts_as_charged(truck: Circuit):
    assert held(truck, dry=0.51).is_charged(one(truck, "dry"))
    assert not held(truck, dry=0.49).is_charged(one(truck, "dry"))


def test_a_shut_cock_keeps_air_out_and_an_emptied_space_stays_empty(truck: Circuit):
    shut = loaded(TRUCK.replace("state open", "state shut"))
    assert bar(charged(shut, "driving"), "horn") == 0.0
    sources = {one(truck, "dry"): ATMOSPHERE + 7e5}
    burst = settle(truck, "driving", sources, frozenset(at(truck, "cock.2")))
    assert bar(burst, "cock.1") == pytest.approx(7.0) and bar(burst, "horn") == 0.0
    assert bar(settle(truck, "driving", sources, frozenset(at(truck, "dry"))), "cock.1") == 0.0


def test_a_hundredth_of_a_bar_is_no_air(truck: Circuit):
    """What is left behind a valve's opening difference when nothing worth speaking of comes through."""
    assert one(truck, "guard.2") not in held(truck, wet=0.105).level
    assert one(truck, "guard.2") in held(truck, wet=0.12).level


def test_a_shuttle_that_air_has_opened_stays_open():
    """8 bar at one side and 7.95 at the other: within `shifts-at` of each other both may feed, and the outlet has 8."""
    circuit = loaded(completed("""
manifold a and b: holes 2
plug a and b
double-check-valve shuttle: shifts-at 0.2 bar
tube a -> shuttle.11: size 3/8 in, length 1 m
tube b -> shuttle.12: size 3/8 in, length 1 m
consumer user: use "x"
tube shuttle.2 -> user: size 3/8 in, length 1 m
"""))
    assert bar(held(circuit, a=8.0, b=7.95), "user") == pytest.approx(8.0, abs=0.02)
    assert bar(held(circuit, a=7.95, b=8.0), "user") == pytest.approx(8.0, abs=0.02)


# --- who gets air from whom ------------------------------------------------------------------------------------------


def test_air_reaches_what_lies_behind_open_ways_only(truck: Circuit):
    resting, braking = charged(truck, "driving"), charged(truck, "braking")
    supplied = at(truck, "dry", "foot.1", "relay.1", "cock.1", "horn", "cock.2")
    assert supplied <= resting.reaches(at(truck, "dry"), ATMOSPHERE + 7e5)
    assert not resting.reaches(at(truck, "dry"), ATMOSPHERE + 7e5) & at(truck, "wet", "foot.2", "left", "gov.2")
    assert supplied | at(truck, "foot.2", "relay.4", "left") <= braking.reaches(at(truck, "dry"), ATMOSPHERE + 7e5)
    assert at(truck, "dry", "horn") <= resting.reaches(at(truck, "wet"), ATMOSPHERE + 7e5)
    assert resting.reaches([], ATMOSPHERE + 7e5) == frozenset()


def test_air_that_opens_a_relay_on_its_way_opens_it_for_what_follows():
    """From `pedal` by the signal and, as the supply comes from there too, through the relay to the chamber."""
    circuit = loaded(completed("""
manifold pedal: holes 4
plug pedal
relay-valve relay: opens-at 0.25 bar, deliveries 1
tube pedal -> relay.1: size 3/8 in, length 1 m
tube pedal -> relay.4: size 3/8 in, length 1 m
chamber left: type 30, stroke 2.5 in, axle front, side left
hose relay.2 -> left: bore 3/8 in, length 1 m
"""))
    air = settle(circuit, "driving", {})
    assert at(circuit, "left") <= air.reaches(at(circuit, "pedal"), ATMOSPHERE + 5e5)
    assert not air.reaches(at(circuit, "pedal"), ATMOSPHERE + 0.1e5) & at(circuit, "left")


def test_a_released_brake_vents_and_an_applied_one_does_not(truck: Circuit):
    resting, braking = charged(truck, "driving"), charged(truck, "braking")
    assert resting.vents(one(truck, "left"), ATMOSPHERE + 5e5) and resting.vents(one(truck, "foot.2"), ATMOSPHERE + 5e5)
    assert not braking.vents(one(truck, "left"), ATMOSPHERE + 5e5)
    assert braking.vents(one(truck, "left"), ATMOSPHERE + 7e5), "more than the signal asks for is let go"
    assert not resting.vents(one(truck, "dry"), ATMOSPHERE + 5e5)


def test_a_leak_of_the_design_bleeds_and_its_way_is_named():
    circuit = loaded(TRUCK + "open-end tail\ntube cock.3 -> tail: size 1/4 in, length 1 m\n"
                     "open-end other\ntube split -> other: size 1/4 in, length 1 m\n")
    air = charged(circuit, "driving")
    assert air.bleeds(one(circuit, "dry")) and not charged(loaded(TRUCK), "driving").bleeds(one(circuit, "dry"))
    assert [way.device.name for way in air.escapes(one(circuit, "dry"))] == ["other"]
    assert [way.device.name for way in air.escapes(one(circuit, "horn"))] == ["other"]
    assert not air.bleeds()


def test_who_is_fed_by_whom(truck: Circuit):
    air = charged(truck, "braking")
    behind = at(truck, "dry", "foot.1", "relay.1", "cock.1", "cock.2", "horn", "foot.2", "relay.4", "relay.2", "left")
    assert behind <= air.fed_by(one(truck, "dry"), frozenset())
    assert not air.fed_by(one(truck, "dry"), frozenset()) & at(truck, "wet", "guard.1")
    assert not air.fed_by(one(truck, "dry"), frozenset(at(truck, "foot.2"))) & at(truck, "foot.2", "relay.4")
    assert at(truck, "left") <= air.fed_by(one(truck, "dry"), frozenset(at(truck, "foot.2"))), "the relay has its own supply"
    both = air.fed_by_any(at(truck, "wet", "foot.2"))
    assert both == air.fed_by(one(truck, "wet"), frozenset()) | air.fed_by(one(truck, "foot.2"), frozenset())
    assert charged(truck, "driving").fed_by(one(truck, "foot.1"), frozenset()) >= at(truck, "dry"), "a tube lets back"


def test_who_feeds_a_place_within_bounds(truck: Circuit):
    air = charged(truck, "braking")
    everywhere = frozenset(air.level)
    found = air.leading_to(at(truck, "left"), everywhere)
    assert at(truck, "left", "relay.2", "relay.1", "dry", "guard.2", "guard.1", "wet") <= found
    assert at(truck, "horn") <= found, "by the open cock its air could go back"
    assert not air.leading_to(at(truck, "foot.2"), everywhere) & at(truck, "left"), "a signal is no air"
    narrow = everywhere - at(truck, "dry")
    assert not air.leading_to(at(truck, "left"), narrow) & at(truck, "wet", "guard.2", "dry")
    assert air.leading_to(at(truck, "dry"), narrow) == frozenset(), "the goal is out of bounds itself"


def test_who_commands_a_brake(truck: Circuit):
    air = charged(truck, "braking")
    found = air.commanding(at(truck, "left"))
    assert at(truck, "left", "relay.2", "relay.1", "relay.4", "foot.2", "foot.1", "dry", "wet") <= found
    assert not found & at(truck, "gov.2"), "an empty signal commands nothing"
    assert at(truck, "horn") <= found, "what stands behind a cock is one with it"
    assert charged(truck, "driving").commanding(at(truck, "left")) == frozenset(), "nothing stands in the brake"


def test_what_a_place_commands(truck: Circuit):
    air = charged(truck, "braking")
    assert at(truck, "foot.2", "relay.4", "relay.2", "left") <= air.commanded_by(at(truck, "foot.2"))
    assert not air.commanded_by(at(truck, "foot.2")) & at(truck, "dry", "wet", "horn")
    assert at(truck, "left", "horn", "foot.2") <= air.commanded_by(at(truck, "wet"))
    assert not air.commanded_by(at(truck, "dry")) & at(truck, "wet")


@pytest.mark.parametrize("example", ["truck-6x4", "semitrailer-tandem", "teaching-board"])
def test_commanding_and_commanded_are_the_same_said_from_both_ends(example: str):
    circuit = loaded(example_text(example))
    air = charged(circuit, "braking")
    spaces = sorted(air.level)
    commands = {here: air.commanding([here]) for here in spaces}
    assert sum(map(len, commands.values())) > 3 * len(spaces)
    for here in spaces:
        followers = air.commanded_by([here])
        assert {there for there in spaces if here in commands[there]} == set(followers)


# --- the way from one place to another -------------------------------------------------------------------------------


def names(ways: tuple | None) -> list[str] | None:
    return None if ways is None else [way.device.name for way in ways]


def test_the_way_goes_through_open_valves_in_order(truck: Circuit):
    air = charged(truck, "braking")
    assert names(path(air, one(truck, "wet"), one(truck, "left"))) == [
        "wet -> guard.1", "guard", "guard.2 -> dry", "dry -> relay.1", "relay", "relay.2 -> left"]
    assert names(path(air, one(truck, "dry"), one(truck, "dry"))) == []
    assert path(air, one(truck, "dry"), one(truck, "wet")) is None, "the check valve gives nothing back"
    assert path(air, one(truck, "wet"), one(truck, "left"), frozenset(at(truck, "relay.1"))) is None
    assert path(charged(truck, "driving"), one(truck, "dry"), one(truck, "left")) is None, "the relay is shut"


def test_the_way_into_the_open_is_one_only_when_it_is_asked_for(truck: Circuit):
    air = charged(truck, "driving")
    assert names(path(air, one(truck, "left"), SPACE_OUTSIDE)) == ["relay.2 -> left", "relay"]
    assert path(air, one(truck, "left"), one(truck, "foot.2")) is None, "both open into the air, and air does not come back"


def test_of_two_ways_the_shorter_counts():
    circuit = loaded(TRUCK + "tube wet -> dry: size 1/2 in, length 9 m\n")
    air = charged(circuit, "braking")
    assert names(path(air, one(circuit, "wet"), one(circuit, "dry"))) == ["wet -> dry"]


def test_air_leaves_by_a_way_from_its_own_side(truck: Circuit):
    air = charged(truck, "driving")
    (guard,) = [way for way in truck.ways if way.device.name == "guard"]
    assert leaves(air, guard, guard.start, ATMOSPHERE + 5e5, air.level)
    assert not leaves(air, guard, guard.end, ATMOSPHERE + 5e5, air.level), "from behind it would be pushed shut"
    assert air.opening(guard, ATMOSPHERE + 5e5, ATMOSPHERE + 2e5) == pytest.approx(2.9e5)
    (tube,) = [way for way in truck.ways if way.device.name == "wet -> guard.1"]
    assert air.opening(tube, 0.0, 0.0) > 0, "always open"


# --- one state of rest after another ---------------------------------------------------------------------------------

TRAPPED = completed("""
manifold line: holes 3
plug line
check-valve guard: opens-at 0.1 bar
tube line -> guard.1: size 1/2 in, length 1 m
reservoir tank: volume 20 L, rated 10 bar, role service
tube guard.2 -> tank: size 1/2 in, length 1 m
manifold side: holes 2
tube tank -> side: size 1/4 in, length 1 m
""")


def test_what_a_check_valve_shuts_in_stays_when_the_line_falls():
    circuit = loaded(TRAPPED)
    before, now = held(circuit, line=8.0), held(circuit, line=5.0)
    assert bar(now, "tank") == pytest.approx(4.9, abs=0.01)
    left = after(before, now)
    assert bar(left, "tank") == bar(left, "side") == pytest.approx(7.9, abs=0.01)
    assert bar(left, "line") == pytest.approx(5.0)
    assert bar(after(now, before), "tank") == pytest.approx(7.9, abs=0.01), "and what rises, rises"


def test_what_stands_open_falls_to_what_feeds_it():
    circuit = loaded(TRAPPED + "tube line -> tank: size 1/4 in, length 1 m\n")
    left = after(held(circuit, line=8.0), held(circuit, line=5.0))
    assert bar(left, "tank") == pytest.approx(5.0, abs=0.01)
    drained = loaded(TRAPPED + "open-end tail\ntube side -> tail: size 1/4 in, length 1 m\n")
    left = after(held(drained, line=8.0), held(drained, line=5.0))
    assert bar(left, "tank") == pytest.approx(4.9, abs=0.01)


def test_what_is_left_when_a_way_out_shuts_again():
    """A check valve that opens at 2 bar lets what stands before it down to 2 bar, and what stands behind it away."""
    circuit = loaded(completed("""
manifold line and end: holes 3
plug line
check-valve stiff: opens-at 2 bar
tube line -> stiff.1: size 1/2 in, length 1 m
tube stiff.2 -> end: size 1/2 in, length 1 m
open-end tail
tube end -> tail: size 1/2 in, length 1 m
"""))
    before = held(circuit, line=6.0, end=6.0)
    left = after(before, settle(circuit, "driving", {}))
    assert bar(left, "line") == pytest.approx(2.0, abs=0.01) and bar(left, "end") == 0.0
    assert bar(after(held(circuit, line=1.5), settle(circuit, "driving", {})), "line") == pytest.approx(1.5, abs=0.01)
    assert bar(after(before, held(circuit, line=6.0)), "line") == pytest.approx(6.0), "a source goes on feeding it"


def test_a_brake_is_let_off_and_a_plugged_exhaust_holds_it(truck: Circuit):
    braking = charged(truck, "braking")
    assert bar(after(braking, charged(truck, "driving")), "left") == 0.0
    plugged = loaded(TRUCK + "plug relay.3\n")
    left = after(charged(plugged, "braking"), charged(plugged, "driving"))
    assert bar(left, "left") == pytest.approx(5.75, abs=0.01) and bar(left, "foot.2") == 0.0
    assert left.situation == "driving" and bar(left, "dry") == pytest.approx(7.9, abs=0.01)


# --- what a hole empties ---------------------------------------------------------------------------------------------


def test_a_hole_empties_what_flows_to_it_and_no_more(truck: Circuit):
    air = charged(truck, "driving")
    assert emptied_by(air, one(truck, "dry")) >= at(truck, "dry", "wet", "horn", "cock.1", "guard.2", "foot.1", "relay.1")
    upstream = emptied_by(air, one(truck, "wet"))
    assert at(truck, "wet", "guard.1", "pump.2") <= upstream and not upstream & at(truck, "dry", "horn")
    assert emptied_by(air, one(truck, "left")) & at(truck, "dry", "wet") == set(), "a released relay is shut"
    braking = charged(truck, "braking")
    assert at(truck, "left", "dry", "wet") <= emptied_by(braking, one(truck, "left"))


def test_two_holes_empty_what_each_does(truck: Circuit):
    shut = loaded(TRUCK.replace("state open", "state shut"))
    air = charged(shut, "driving")
    both = emptied_by(air, one(shut, "wet"), one(shut, "split"))
    assert both == emptied_by(air, one(shut, "wet")) | emptied_by(air, one(shut, "split"))
    assert not both & at(shut, "dry")


def test_a_protection_valve_shuts_on_the_way_down_and_a_stuck_latch_is_seen():
    """The park valve pops out when its line is empty, so that what it held goes too: 2.1 bar is below what snaps it."""
    circuit = loaded(completed("""
axle rear: position 2
reservoir tank: volume 40 L, rated 10 bar, role service
park-valve park: pops-out-at 2.1 bar
tube tank -> park.1: size 3/8 in, length 1 m
spring-chamber can: type 30/30, stroke 2.5 in, axle rear, side left
check-valve lock
manifold line: holes 3
tube park.2 -> line: size 3/8 in, length 1 m
tube line -> lock.1: size 3/8 in, length 1 m
tube lock.2 -> can.12: size 3/8 in, length 1 m
chamber other: type 20, stroke 2.25 in, axle front, side left
tube line -> other: size 3/8 in, length 1 m
"""))
    air = held(circuit, tank=8.0)
    assert bar(air, "other") == 8.0
    lost = emptied_by(air, one(circuit, "tank"))
    assert at(circuit, "tank", "park.1", "park.2", "other") <= lost, "popped out, its exhaust lets the line go"
    assert not lost & at(circuit, "can.12"), "behind a check valve the springs stay off"
