"""The auxiliary block: any branch may burst, and any two, and the brakes keep their air."""

from itertools import combinations

import pytest

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.sim.script import move
from tests.designs import design_of, findings_of, loaded
from tests.examples.held import bar, circuit_of, litres, lost, played, stops, verdict_of, whole

TRUCK = "auxiliary-manifold"


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(TRUCK))


def users(evidence: Evidence) -> list[str]:
    return [user.name for user in evidence.circuit.having(Trait.USES_AIR)]


def test_it_is_clean():
    assert not verdict_of(TRUCK).findings


def test_its_volumes_worked_by_hand(evidence: Evidence):
    """286 in3 = 4.69 L of chambers ask for 56.2 L; 15 + 30 + 25 L are there. The block is no reservoir."""
    share = whole(evidence)
    assert litres(12 * share.chamber_volume) == pytest.approx(56.2, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(70)


def test_there_are_nine_users(evidence: Evidence):
    assert len(users(evidence)) == 9


def test_any_branch_bursts_and_the_brakes_keep_their_air(evidence: Evidence):
    for user in users(evidence):
        assert not lost(evidence, (user, "1")), user
        assert stops(evidence.energised, (user, "1")) == {"aux-guard": 5.2}, user


def test_any_two_branches_burst_and_the_brakes_keep_their_air(evidence: Evidence):
    for one, other in combinations(users(evidence), 2):
        assert not lost(evidence, (one, "1"), (other, "1")), (one, other)


def test_without_its_protection_valve_a_torn_branch_takes_the_wet_reservoir_and_the_check_says_so():
    text = design_of(f"""on: {TRUCK}
- pressure-protection-valve aux-guard
- tube wet -> aux-guard.1
- tube aux-guard.2 -> block
+ tube wet -> block: size 3/8 in, length 1.2 m
""")
    assert lost(Evidence(loaded(text)), ("block", "1")) == {"wet", "purge-tank"}
    assert {rule for _, rule in findings_of(text)} == {"auxiliary-not-protected"}


def test_a_valve_without_current_vents_its_cylinder(evidence: Evidence):
    circuit = evidence.circuit
    assert evidence.driving.vents(circuit.space["pto", "1"], 101325 + 6e5)
    assert evidence.energised.driving.is_charged(circuit.space["pto", "1"])


def test_seats_get_no_more_than_they_are_made_for(evidence: Evidence):
    assert evidence.driving.level[evidence.circuit.space["driver-seat", "1"]] == pytest.approx(101325 + 6e5, abs=1e3)


def test_a_horn_of_its_bore_takes_as_much_as_the_compressor_makes(evidence: Evidence):
    """0.4 L/(s.bar) at 9.6 bar absolute are 230 L/min; 15 cfm at 85 % are 361 L/min."""
    horn, pump = evidence.circuit.by_name["horn"], evidence.circuit.by_name["pump"]
    taken = horn.settings["conductance"] * (8.6e5 + 101325)
    made = pump.settings["displacement"] * pump.settings["efficiency"]
    assert 0.5 < taken / made < 1.5


def test_a_horn_stuck_on_keeps_the_compressor_at_work_most_of_the_time():
    """It takes nearly what the compressor makes: the gauges still fill, so only the noise tells, and any further use
    brings the wet reservoir down to the protection valve's 5.2 bar."""
    trace = played(circuit_of(TRUCK), move("horn", "sounding", 1.0, 1.0), until=600.0, running=True)
    turns = [event for event in trace.events if event.variable == "unloading" and event.time > 60]
    rests = sum(after.time - before.time for before, after in zip(turns, turns[1:]) if before.value == 1)
    busy = 1 - rests / (turns[-1].time - turns[0].time)
    assert 0.8 < busy < 1.0
    assert bar(trace, "pri", 600.0) == pytest.approx(8.5, abs=0.05)
