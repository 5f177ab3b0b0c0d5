"""The table of single faults against the story of each: two printings of one stop, simulated apart from each other."""

import random
import re

import pytest

from circuit.declaring.traits import Trait
from circuit.faults.outcome import Outcome, outcomes
from circuit.faults.reading import pushed
from circuit.faults.study import Rank, differs
from circuit.faults.telling import Told, tell
from circuit.model.air import Air
from circuit.report.faults.losses import later, left, lost
from circuit.report.faults.mending import in_unit
from circuit.report.faults.stop import stop
from circuit.report.account import text
from circuit.report.situations import unit_of
from circuit.report.studies.faults import account
from circuit.sim import Engine, Script, Variant, simulate_many
from circuit.studies.effort import spring_share
from circuit.studies.hands import apply, let_go
from circuit.units import ATMOSPHERE
from tests.faults.studied import effect_of, study_of

NEAR = 0.02e5
"""Pa by which two simulations of one stop may differ; a tenth of a bar is printed."""
SAMPLE = 25
"""Faults of each example that are told here, drawn by seed, beside all that block something; the slow test tells every one."""


def blocked(name: str) -> list[str]:
    return [effect.fault.name for effect in study_of(name).effects if effect.fault.name.endswith("blocked")]


def sampled(name: str) -> list[str]:
    every = [effect.fault.name for effect in study_of(name).effects]
    return sorted({*random.Random(12).sample(every, SAMPLE), *random.Random(7).sample(blocked(name), 12)})


def agree(name: str, faults: list[str]) -> None:
    """Every figure that the table has of a fault's stop, beside that of its story."""
    study = study_of(name)
    chosen = [effect for effect in study.effects if effect.fault.name in faults]
    assert len(chosen) == len(set(faults))
    for found in outcomes(study, chosen):
        assert found.first is not None and found.following is not None
        told = tell(study, found.effect)
        pressures_agree(found, told)
        forces_agree(found, told)
        words_agree(found, told)


def pressures_agree(found: Outcome, told: Told) -> None:
    acts, first, following = told.acts, found.first, found.following
    assert first is not None and following is not None
    said = [(head.name, time, pressure) for head, again in zip(first.heads, following.heads) for time, pressure in (
        (acts.pedal, head.driving), (acts.up, head.braking), (acts.release, head.parked), (acts.last, again.braking))]
    said += [(tank.name, time, pressure) for tank in first.tanks if tank.role != "regeneration"
             for time, pressure in ((acts.pedal, tank.driving), (acts.up, tank.braking))]
    for place, time, pressure in said:
        assert pressure == pytest.approx(told.trace.pressure(place, time), abs=NEAR), (found.effect.fault.name, place, time)


def forces_agree(found: Outcome, told: Told) -> None:
    """Shares of force, worked out here from the story's run."""
    circuit, acts, first = told.study.circuit, told.acts, found.first
    assert first is not None
    idle = {name for name, failure in found.effect.fault.parts if any(
        f.idle for f in circuit.by_name[name].kind.failures if f.name == failure)}
    for axle, told_of in ((axle, each) for axle in first.axles for each in told.stops if axle.name == each.axle):
        wheels = [w for w in study_wheels(told) if w.settings["axle"] == axle.name and w.name not in idle]
        if axle.served and wheels and not idle:
            shares = []
            for wheel in wheels:
                space = circuit.service_space(wheel)
                now, sound = (pushed(wheel, Air(circuit, "braking", {}, {space: trace.pressure(space, acts.up)}), space)
                              for trace in (told.trace, told.sound))
                shares.append(min(1.0, now / sound))
            assert axle.service == pytest.approx(sum(shares) / len(shares), abs=0.01), (found.effect.fault.name, axle.name)
        if told_of.springs and axle.sprung and not idle:
            assert (axle.parks > 0.9) == (told_of.springs[3] > 0.9), (found.effect.fault.name, axle.name)


def study_wheels(told: Told):
    return told.study.whole.wheels


def words_agree(found: Outcome, told: Told) -> None:
    """What both print of a head, in the same digits."""
    unit = unit_of(told.study.circuit)
    row, page = (" ".join(words.split()).replace("\u00a0", " ") for words in (
        f"{lost(found.seen, unit)}; {later(found, told.study.circuit, unit)}", ". ".join(stop(told))))
    for head in found.seen.heads:
        if differs(head.braking, head.full_braking) and not differs(head.driving, head.full_driving):
            has, normal = (in_unit(p, unit).replace("\u00a0", " ") for p in (head.braking, head.full_braking))
            assert f"{has} while braking instead of {normal}" in row
            assert re.search(rf"{re.escape(head.name)}[\w.\- ,]* ha(s|ve) {has} for what is towed, instead of {normal}", page), (
                found.effect.fault.name, head.name, has)


@pytest.mark.parametrize("name", [pytest.param("combination-semi", marks=pytest.mark.slow), "converter-dolly"])
def test_table_and_story_agree(name: str):
    agree(name, sampled(name))


def test_table_and_story_of_the_european_truck_s_blocked_lines_agree():
    agree("truck-europe", ["tube hand-brake.trailer -> trailer-valve.43: blocked",
                           "tube trailer-valve.supply-head -> supply-block: blocked"])


@pytest.mark.slow
@pytest.mark.parametrize("name", ["combination-semi", "converter-dolly", "truck-europe", "truck-6x4", "teaching-board",
                                  "semitrailer-tandem", "semitrailer-single", "semitrailer-old"])
def test_table_and_story_agree_over_every_single_fault(name: str):
    agree(name, [effect.fault.name for effect in study_of(name).effects])


def outcome_of(name: str, fault: str) -> Outcome:
    (found,) = outcomes(study_of(name), [effect_of(name, fault)])
    return found


def test_a_blocked_supply_line_keeps_what_it_holds_and_loses_it_stop_by_stop():
    fault = "tube tractor.dash.trailer -> tractor.supply-block: blocked"
    found = outcome_of("combination-semi", fault)
    heads = {head.name: head for head in found.seen.heads}
    assert heads["tractor.supply-head"].driving == pytest.approx(ATMOSPHERE + 8.5e5, abs=0.1e5)
    assert 3e5 < heads["tractor.supply-head"].braking - ATMOSPHERE < 6e5
    axles = {axle.name: axle for axle in found.seen.axles}
    assert axles["tractor.drive-1"].service == 1.0 and 0.3 < axles["semi.front"].service < 0.8
    assert axles["semi.front"].parks < 0.05
    says, then = lost(found.seen, "bar"), later(found, study_of("combination-semi").circuit, "bar")
    assert "0.0 bar instead" not in says.replace("\u00a0", " ")
    assert then.startswith("at the next stop, parked and released in between") and "tractor.drive-1" in then
    following = {head.name: head.braking for head in found.following.heads}
    assert following["tractor.supply-head"] < heads["tractor.supply-head"].braking - 0.5e5


def test_no_row_of_a_blocked_line_has_an_empty_line_and_springs_that_stay_off():
    """What the table once said at the same time."""
    for name in ("combination-semi", "converter-dolly"):
        for found in outcomes(study_of(name), [e for e in study_of(name).effects if e.fault.name.endswith("blocked")]):
            off = any(axle.sprung and axle.parks < 0.05 for axle in found.seen.axles)
            empty = [head.name for head in found.seen.heads if head.line == "supply" and head.driving < ATMOSPHERE + 0.3e5]
            assert not (off and empty), found.effect.fault.name


@pytest.mark.slow
def test_a_trailer_that_is_not_told_to_park_is_told():
    found = outcome_of("truck-europe", "tube hand-brake.trailer -> trailer-valve.43: blocked")
    assert found.rank is Rank.TOWED
    head = next(head for head in found.seen.heads if head.line == "control")
    assert head.parked < ATMOSPHERE + 0.5e5 and head.full_parked > ATMOSPHERE + 7e5
    words = text(account(study_of("truck-europe").circuit, "trailer-valve.43: blocked"))
    assert "control-head has 0.2 bar when parked instead of 7.5 bar" in words


def test_in_time_a_leak_takes_more_than_a_stop_shows():
    found = outcome_of("converter-dolly", "tank: leaks")
    assert not any(tank.is_lost for tank in found.seen.tanks) and found.later is not None
    assert found.later.tanks == ("tank",) and not found.later.pedal
    assert later(found, study_of("converter-dolly").circuit, "bar").startswith("in time, no air coming from the towing vehicle")
    hose = outcome_of("combination-semi", "hose semi.relay.2 -> semi.front-left.service: burst")
    assert hose.later is not None and hose.later.pedal and "semi.tank-1" in hose.later.tanks
    assert found.worst is found.effect


def test_springs_that_stay_on_do_not_follow_the_pedal():
    name, fault = "tractor-6x4", "tube pedal-shuttle.2 -> hand-shuttle.11: burst"
    for each in (outcome_of(name, fault).seen, effect_of(name, fault)):
        said = f"{lost(each, 'bar')}; {left(each, 'bar')}"
        for axle in each.axles:
            if axle.pedal > 0.05 and axle.lifts < 0.95:
                assert "follow the pedal" not in left(each, "bar") and "come on with the pedal" in said
    assert spring_share(ATMOSPHERE, ATMOSPHERE + 5e5) == 1.0


def test_springs_follow_the_pedal_only_where_part_of_it_gives_part_of_their_force():
    follow, snap = (outcome_of("truck-6x4", fault).seen for fault in (
        "pri: burst", "tube rear-relay.2 -> spring-release.4: burst"))
    assert [axle.pedal > 0.9 for axle in follow.axles] == [axle.pedal > 0.9 for axle in snap.axles] == [False, True, True]
    assert "springs of drive-1 and drive-2 follow the pedal" in left(follow, "bar")
    assert "springs of drive-1 and drive-2 come on with the pedal down, with all their force" in left(snap, "bar")
    circuit = study_of("truck-6x4").circuit
    script = Script((*apply(circuit, 60.0, ATMOSPHERE + 3e5), *let_go(circuit, 70.0)))
    springs = [circuit.spring_space(s) for s in circuit.having(Trait.SPRING_ACTUATOR)]
    held = max(s.settings["holds-off-at"] for s in circuit.having(Trait.SPRING_ACTUATOR))
    faults = [effect_of("truck-6x4", fault.fault.name).fault.parts for fault in (follow, snap)]
    traces = simulate_many(circuit, script, [Variant("", parts) for parts in faults], 75.0, engine=Engine(False))
    for trace, follows in zip(traces, (True, False)):
        for space in springs:
            partly = ATMOSPHERE + 0.5e5 < trace.pressure(space, 69.0) < held
            assert partly is follows and trace.pressure(space, 59.0) > held


@pytest.mark.parametrize(("name", "fault", "at_once"), [
    ("truck-6x4", "park: leaks", True),
    ("tractor-6x4", "tube hand-shuttle.2 -> signal-tee: burst", False),
    pytest.param("combination-semi", "tube tractor.signal-tee -> tractor.signal-relay.4: burst", False, marks=pytest.mark.slow),
])
def test_a_fault_that_takes_every_service_brake_stands_first(name: str, fault: str, at_once: bool):
    found = outcome_of(name, fault)
    assert found.rank is Rank.NO_BRAKE and found.effect.force < 0.05
    assert (found.seen.force < 0.05) is at_once
    words = text(account(study_of(name).circuit, fault))
    assert words.index("NO SERVICE BRAKE LEFT") < words.index("no service brake on")


def test_crossed_hoses_stand_at_the_heads_to_what_is_towed():
    """The table read the heads as they are without the fault, and told of nothing."""
    found = outcome_of("converter-dolly", "rear-supply-head and rear-control-head: crossed")
    heads = {head.line: head for head in found.seen.heads}
    assert found.rank is Rank.TOWED
    assert heads["supply"].driving < ATMOSPHERE + 1e4 < heads["supply"].full_driving
    assert heads["control"].driving == pytest.approx(heads["supply"].full_driving, abs=NEAR)


def test_in_the_next_stop_a_sound_vehicle_has_less_air_too_and_nothing_is_made_of_it():
    for fault in ("tractor.pri-warning: dead", "tractor.dryer: purge stuck shut", "tractor.pri-check: stuck shut"):
        assert outcome_of("combination-semi", fault).later is None


def test_what_a_line_traps_does_not_last():
    for name, fault, word in (
            ("truck-europe", "tube supply-block -> supply-head: blocked", "supply-head is not filled up again"),
            ("auxiliary-manifold", "tube seat-tee -> driver-seat: blocked", "driver-seat gets no more air than it holds")):
        found = outcome_of(name, fault)
        assert word in lost(found.seen, "bar") and found.rank is not Rank.NOTHING


@pytest.mark.parametrize("name", [
    "truck-6x4", pytest.param("truck-europe", marks=pytest.mark.slow), "converter-dolly"])
def test_no_row_says_two_things_of_one_reservoir_or_spring(name: str):
    for found in outcomes(study_of(name)):
        takes, keeps = lost(found.seen, "bar"), left(found.seen, "bar")
        kept = {each for part in keeps.split("; ") if "keep" in part for each in re.split(r", | and | keeps? ", part)}
        gone = {each for part in takes.split("; ") if re.search(r" empt| falls? | loses? ", part)
                for each in re.split(r", | and | empt\w+.*| falls? .*| loses? .*", part)}
        assert not kept & gone - {""}, found.effect.fault.name
        assert not ("come on by themselves and stay" in takes and ("follow the pedal" in keeps or "can be released" in keeps))
        assert not ("not come on when parked" in takes and "parks on all" in keeps)


def test_behind_a_clogged_dryer_no_safety_valve_helps():
    assert "no safety valve stands there" in lost(outcome_of("truck-6x4", "dryer: blocked").seen, "bar")
