"""What the trade expects of common faults, held to the study at rest; common practice, no source.

Closing pressures are those that the designs set; what a check valve keeps is the cut-out less the 0.1 bar of its check,
or the 8.5 bar to which a circuit is limited that the service circuits fill through a check.
"""

import pytest

from circuit.faults.study import Rank, rank, worst_in
from circuit.report.faults import losses as report
from tests.faults.studied import axle, bar, effect_of, keeps, study_of


def test_truck_primary_lost_leaves_the_front_and_springs_that_follow_the_pedal():
    lost = effect_of("truck-6x4", "pri: burst")
    assert keeps(lost) == pytest.approx({"wet": 0, "pri": 0, "sec": 8.5}, abs=0.05)
    assert axle(lost, "front").service == pytest.approx(1.0)
    for name in ("drive-1", "drive-2"):
        rear = axle(lost, name)
        assert rear.service == 0 and rear.pedal > 0.9
        assert rear.springs == 0, "held off from the secondary, so that parking can still be released"
        assert rear.parks == 1
    assert lost.warned == ("pri-warning",) and lost.unwarned == ()


def test_truck_secondary_lost_leaves_the_rear():
    lost = effect_of("truck-6x4", "sec: burst")
    assert axle(lost, "front").service == 0
    assert axle(lost, "drive-1").service == pytest.approx(1.0)
    assert keeps(lost)["pri"] == pytest.approx(8.5, abs=0.05)


@pytest.mark.parametrize("fault", ("wet: burst", "hose pump.2 -> dryer.1: burst", "pump: dead"))
def test_truck_without_its_supply_keeps_both_service_reservoirs(fault: str):
    lost = effect_of("truck-6x4", fault)
    assert (keeps(lost)["pri"], keeps(lost)["sec"]) == pytest.approx((8.5, 8.5), abs=0.05)
    assert not any(tank.refilled for tank in lost.tanks if tank.role == "service")
    assert rank(lost) is Rank.AIR


@pytest.mark.parametrize("failure", ("blocked", "burst"))
def test_truck_relay_signal_off_takes_the_rear_service_and_leaves_the_front(failure: str):
    lost = effect_of("truck-6x4", f"tube foot.21 -> rear-relay.4: {failure}")
    assert axle(lost, "drive-1").service == 0 and axle(lost, "drive-2").service == 0
    assert axle(lost, "front").service == pytest.approx(1.0)


def test_truck_park_shuttle_mid_way_makes_either_loss_take_both():
    hidden = effect_of("truck-6x4", "park-shuttle: parked mid way")
    assert rank(hidden) is Rank.UNGUARDED
    when = dict(hidden.unguarded)
    assert "sec" in when["pri"] and "pri" in when["sec"]
    sound = {name: tanks for name, _, tanks, _ in study_of("truck-6x4").whole.losses}
    assert "sec" not in sound["pri"] and "pri" not in sound["sec"]


def test_teaching_board_one_reservoir_is_every_brake():
    lost = effect_of("teaching-board", "dry: burst")
    assert rank(lost) is Rank.NO_BRAKE and lost.braking == 0
    kept = effect_of("teaching-board", "wet: burst")
    assert all(each.service == pytest.approx(1.0) for each in kept.axles)


def test_tractor_supply_hose_off_pops_red_and_keeps_more_than_20_psi():
    lost = effect_of("tractor-6x4", "supply-head: off")
    assert keeps(lost)["pri"] == pytest.approx(3.1, abs=0.05) and keeps(lost)["sec"] == pytest.approx(3.1, abs=0.05)
    assert min(keeps(lost).values()) > 1.38
    assert {head.name: bar(head.braking) for head in lost.heads} == {"supply-head": 0, "control-head": 0}
    assert lost.warned == ("pri-warning", "sec-warning")


def test_tractor_control_hose_off_shows_nothing_until_the_pedal():
    lost = effect_of("tractor-6x4", "control-head: off")
    assert all(bar(tank.driving) > 8.4 for tank in lost.tanks)
    assert all(each.springs == 0 for each in lost.axles)
    control = next(head for head in lost.heads if head.name == "control-head")
    assert bar(control.full_braking) > 8 and bar(control.braking) == 0
    assert keeps(lost)["pri"] == keeps(lost)["sec"] == pytest.approx(3.1, abs=0.05), "where red pops"
    assert all(each.wheels == 1 or each.pedal > 0.5 for each in lost.axles)


def test_semitrailer_supply_lost_puts_the_springs_on_and_keeps_the_reservoirs():
    lost = effect_of("semitrailer-tandem", "supply-head: off")
    assert all(each.springs == 1 and each.parks == 1 for each in lost.axles)
    assert keeps(lost) == pytest.approx({"tank-1": 6.89, "tank-2": 6.89}, abs=0.03)


def test_semitrailer_reservoir_lost_leaves_the_springs_off_while_the_supply_line_is_fed():
    lost = effect_of("semitrailer-tandem", "tank-1: burst")
    assert all(each.service == 0 and each.springs == 0 for each in lost.axles)


def test_semitrailer_crossed_heads_never_fill_and_brake_while_driving():
    crossed = effect_of("semitrailer-tandem", "supply-head and control-head: crossed")
    assert not any(tank.refilled for tank in crossed.tanks)
    assert all(each.drags == 1 and each.stays == 1 for each in crossed.axles)
    assert worst_in(crossed) == "driving" and "comes on by itself" in report.lost(crossed, "bar")


@pytest.mark.parametrize(("fault", "drags"), (("interlock: always energised", 1), ("rear-relay: does not release", 0)))
def test_bus_a_brake_that_is_fed_comes_on_by_itself_and_one_that_hangs_only_after_the_pedal(fault: str, drags: int):
    effect = effect_of("city-bus", fault)
    assert (axle(effect, "rear").drags, axle(effect, "rear").stays) == (drags, 1)
    assert worst_in(effect) == ("driving" if drags else "after braking")


def test_tractor_springs_are_not_lifted_again_with_what_a_burst_signal_line_leaves_under_a_held_pedal():
    both = effect_of("tractor-6x4", "tube hand-shuttle.2 -> signal-tee: burst")
    one = effect_of("tractor-6x4", "front-left: diaphragm torn")
    assert keeps(both) == pytest.approx({"wet": 0, "pri": 0, "sec": 0}, abs=0.05)
    assert axle(both, "drive-1").parks == 1 and axle(both, "drive-1").lifts == 0
    assert axle(one, "drive-1").lifts == 1, "the primary still lifts them"
    assert "can be released" in report.left(one, "bar") and "can be released" not in report.left(both, "bar")


def test_old_semitrailer_supply_lost_brakes_on_its_own_air_and_has_no_springs():
    lost = effect_of("semitrailer-old", "supply-head: off")
    assert 6.0 < keeps(lost)["tank"] < 6.85, "less what the brakes take that come on by themselves"
    assert all(each.stays == 1 and not each.sprung for each in lost.axles)


@pytest.mark.parametrize(("example", "fault", "kept"), (
    ("city-bus", "aux: burst", {"wet": 5.2, "pri": 8.5, "sec": 8.5}),
    ("city-bus", "tube door-limit.2 -> door-tee: burst", {"wet": 5.2, "pri": 8.5, "sec": 8.5}),
    ("lift-axle", "aux: burst", {"wet": 5.2, "pri": 8.5, "exp": 8.5}),
    ("air-suspension", "bag-left: burst", {"sec": 5.2}),
    ("auxiliary-manifold", "horn: stuck on", {"wet": 5.2, "pri": 8.5, "sec": 8.5}),
    pytest.param("truck-europe", "front-tank: burst", {"rear-tank": 5.4, "park-tank": 8.5}, marks=pytest.mark.slow),
    ("truck-europe", "rear-tank: burst", {"front-tank": 5.4, "park-tank": 8.5}),
    ("truck-europe", "aux-tank: burst", {"front-tank": 5.4, "rear-tank": 5.4, "park-tank": 8.5}),
))
def test_a_protection_valve_keeps_its_closing_pressure(example: str, fault: str, kept: dict[str, float]):
    lost = effect_of(example, fault)
    assert {name: keeps(lost)[name] for name in kept} == pytest.approx(kept, abs=0.05)


@pytest.mark.parametrize(("example", "guard", "fault", "feeds"), (
    ("city-bus", "aux-guard", "aux", "wet"), ("air-suspension", "susp-guard", "susp", "sec")))
def test_without_its_protection_valve_the_auxiliary_takes_its_feed_along(
    example: str, guard: str, fault: str, feeds: str
):
    stuck = effect_of(example, f"{guard}: stuck open")
    assert feeds in dict(stuck.unguarded)[fault]
    assert f"when {fault}, " in report.lost(stuck, "bar")


def test_words_leave_no_second_fault_out():
    stuck = effect_of("city-bus", "aux-guard: stuck open")
    assert len(stuck.unguarded) == 7, "the reservoir and the six bags"
    assert "bag-left-1 or any of 3 more is lost, wet is lost with it" in report.lost(stuck, "bar")


def test_four_circuit_outlet_stuck_open_gives_up_what_it_guards():
    from circuit.faults.single import both

    found = study_of("truck-europe")
    second = effect_of("truck-europe", "tube dryer.21 -> feed: burst").fault
    alone = effect_of("truck-europe", second.name)
    stuck = effect_of("truck-europe", "protection: 21 stuck open").fault
    assert keeps(alone)["front-tank"] == pytest.approx(5.4, abs=0.05)
    assert keeps(found.whole.effect(both(stuck, second)))["front-tank"] == 0
