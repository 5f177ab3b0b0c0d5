"""Response times: what must make them longer, what is symmetric, soft bounds, and the rigs' own calibration."""

from dataclasses import replace

import pytest

from circuit.clauses import clause
from circuit.gas.flow import THROATS, mass_flow
from circuit.model.draws import Draws
from circuit.sim import Options, Script, press, simulate
from circuit.studies.application import procedure_of
from circuit.studies.hands import RIG_VALVE, CannotAsk
from circuit.studies.respond import respond
from tests.designs import loaded
from tests.studies.examples import ATMOSPHERE, PSI, bench, example


def slowest(circuit, **more):
    return respond(circuit, **more).applied[0].time.value


@pytest.mark.parametrize("short, long", [({"length": 1}, {"length": 3}), ({"length": 3}, {"length": 9}),
                                         ({"size": "1/2 in"}, {"size": "3/8 in"}),
                                         ({"size": "3/8 in"}, {"size": "1/4 in"}), ({"type": 20}, {"type": 30})])
def test_a_longer_or_thinner_tube_and_a_larger_chamber_are_slower(short, long):
    quick, slow = respond(bench(**short)), respond(bench(**long))
    assert quick.applied[0].time.value < slow.applied[0].time.value
    assert quick.released[0].time.value < slow.released[0].time.value


def test_a_higher_supply_is_faster():
    def time(psi):
        script = Script((press("foot", 1.0, 0.0),), pressures={"reservoirs": ATMOSPHERE + psi * PSI})
        return simulate(bench(), script, 3.0).first_time("left", ATMOSPHERE + 60 * PSI)

    assert time(80) > time(100) > time(120)


def test_less_flow_is_slower_than_more():
    for timed in respond(replace(example("truck-6x4"), draws=Draws(runs=40))).applied:
        assert timed.time.quick < timed.time.value < timed.time.slow


def test_left_and_right_agree():
    found = {timed.name: timed.time.value for timed in respond(example("truck-6x4")).applied}
    assert found["front-left"] == pytest.approx(found["front-right"], abs=1e-6)
    assert found["d1-left.can"] == pytest.approx(found["d2-right.can"], abs=1e-6)


def test_the_truck_stands_within_what_is_usual():
    # soft bounds from memory: rear by a relay 0.20 to 0.40 s, front by a thin tube 0.25 to 0.45 s, release 0.3 to 0.6 s
    found = respond(example("truck-6x4"))
    applied = {timed.name: timed for timed in found.applied}
    assert 0.20 < applied["d1-left.can"].time.value < 0.40
    assert 0.25 < applied["front-left"].time.value < 0.45
    assert 0.26 < found.released[-1].time.value < found.released[0].time.value < 0.60
    assert found.complete


def test_limits_follow_the_class_of_vehicle():
    limits = {name: {timed.limit for timed in respond(example(name)).applied if not timed.name.startswith("pot")}
              for name in ("truck-6x4", "city-bus", "semitrailer-tandem", "converter-dolly")}
    assert limits == {"truck-6x4": {0.45}, "city-bus": {0.45}, "semitrailer-tandem": {0.60}, "converter-dolly": {0.55}}
    released = {name: {timed.limit for timed in respond(example(name)).released if not timed.name.startswith("pot")}
                for name in ("truck-6x4", "semitrailer-tandem", "converter-dolly")}
    assert released == {"truck-6x4": {0.55}, "semitrailer-tandem": {1.20}, "converter-dolly": {1.10}}


def test_a_towing_vehicle_is_timed_with_the_pot_on_its_control_line():
    found = {timed.name: timed for timed in respond(example("tractor-6x4")).applied}
    assert found["pot on control-head"].limit == 0.35
    assert found["pot on control-head"].clause.key == "us-federal/S5.3.3.1(b)"


def test_release_begins_with_95_psi_in_the_lowest_chamber():
    assert respond(example("city-bus")).lets_go_from == pytest.approx(ATMOSPHERE + 95 * PSI, abs=0.3 * PSI)


def test_the_european_way_counts_to_three_quarters_of_the_final_pressure():
    found = respond(example("city-bus"), ("un-r13",))
    assert found.method == "un-r13" and found.target is None and not found.released
    assert {timed.limit for timed in found.applied} == {0.6}
    trailer = respond(example("semitrailer-europe"), ("un-r13",))
    assert {timed.limit for timed in trailer.applied} == {0.4}


def test_a_trailer_without_a_set_of_rules_has_no_limit():
    assert {timed.limit for timed in respond(example("semitrailer-old"), ("good-practice",)).applied} == {None}


def test_without_a_chamber_there_is_no_answer():
    with pytest.raises(CannotAsk, match="no brake chamber"):
        respond(loaded("vehicle x: class truck\nreservoir tank: volume 9 L, rated 9 bar, role service\n"))


def fills(conductance, volume, supply, start, end, exponent):
    """s that a volume takes through one valve, step by step."""
    gas, pressure, time, step = 287.05 * 293.15, start, 0.0, 1e-5
    sign = 1.0 if end > start else -1.0
    while sign * (end - pressure) > 0:
        flow = mass_flow(conductance, THROATS["fitting"].ratio, supply, pressure)
        pressure += exponent * gas * flow / volume * step
        time += step
    return time


@pytest.mark.parametrize("key", ["un-r13/Annex 6 3.5", "eu-2015-68/Annex III 4.5.1"])
def test_the_simulator_of_annex_6_is_set_as_the_annex_says(key):
    how = procedure_of(example("semitrailer-europe"), clause(key).procedure)
    assert (how.start, how.clock, how.foot) == (ATMOSPHERE + 650e3, ATMOSPHERE + 65e3, 0.2)
    # 65 to 490 kPa in 0.20 s with 385 cm3 joined to its own 385 cm3, and 0.38 s with 1155 cm3
    for joined, seconds in ((385e-6, 0.20), (1155e-6, 0.38)):
        found = fills(how.valve, how.rig_pipe + joined, how.start, how.clock, ATMOSPHERE + 490e3, 1.2)
        assert found == pytest.approx(seconds, abs=0.02)


def test_the_rig_fills_its_pot_as_remembered():
    how = procedure_of(example("truck-6x4"), clause("us-federal/S5.3.3").procedure)
    assert how.valve == pytest.approx(RIG_VALVE), "as in runs that no clause describes"
    assert fills(how.valve, how.vessel, ATMOSPHERE + 100 * PSI, ATMOSPHERE, ATMOSPHERE + 60 * PSI, 1.2) == pytest.approx(
        0.06, abs=0.005)
    assert fills(how.valve, how.vessel, ATMOSPHERE, ATMOSPHERE + 95 * PSI, ATMOSPHERE + 5 * PSI, 1.2) == pytest.approx(
        0.20, abs=0.03)


def test_less_heat_passing_is_faster():
    assert slowest(bench(), options=Options(exponent=1.4)) < slowest(bench(), options=Options(exponent=1.0))


def test_a_dolly_s_control_line_is_held_to_its_balance_and_a_truck_s_is_not():
    dolly = respond(example("converter-dolly")).balance
    assert dolly.is_met and dolly.clause.key == "us-federal/S5.3.5" and 0 <= dolly.figure.found < dolly.figure.limit
    assert respond(example("truck-towing")).balance is None


NEVER = """
vehicle bench: class truck
rules us-federal
axle front: position 1
reservoir tank: volume 200 L, rated 10 bar, role service
dual-foot-valve foot: deliveries 1
tube tank -> foot.11: size 1/2 in, length 1 m
tube tank -> foot.12: size 1/2 in, length 1 m
pressure-limiting-valve low: limits-to 3 bar
chamber left: type 30, stroke 2.5 in, axle front, side left
chamber right: type 30, stroke 2.5 in, axle front, side right
tube foot.21 -> left: size 3/8 in, length 2 m
tube foot.22 -> low.1: size 3/8 in, length 1 m
tube low.2 -> right: size 3/8 in, length 1 m
"""


def test_a_place_that_is_never_reached_comes_first_and_is_said_so():
    from circuit.report import account
    from circuit.report.studies import respond as told

    circuit = loaded(NEVER)
    found = respond(circuit)
    assert [timed.name for timed in found.applied] == ["right", "left"]
    assert found.applied[0].time[:4] == (None,) * 4 and found.applied[0].is_met is False
    answer = told.account(circuit)
    text = account.text(answer)
    row = next(row for row in text.split("\n") if row.startswith("right "))
    assert "NOT MET, never reached" in row
    assert dict(zip(answer.tables[0].columns, answer.tables[0].rows[0]))["time s"] == ""
    assert "nan" not in text.lower().replace("governance", "") and "NaN" not in account.json(answer)
    assert not any("nan" in chart.title for _, chart in answer.charts())
