"""The forest truck: the brakes come first, whatever the tyres lose."""

from pathlib import Path

import pytest

from circuit.judging.evidence import Evidence
from circuit.model.trace import Trace
from circuit.studies.hands import apply, let_go
from circuit.units import ATMOSPHERE
from tests.designs import design_of, findings_of
from tests.examples.held import bar, circuit_of, litres, lost, played, stops, verdict_of, whole

TRUCK = "tyre-inflation"
SEAL = ("d1-left-wheel.seal", "1")
RULES = Path(__file__).resolve().parents[1] / "rules"


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(TRUCK))


def test_it_is_clean():
    assert not verdict_of(TRUCK).findings


def test_its_volumes_worked_by_hand(evidence: Evidence):
    """As the straight truck: 464 in3 = 7.60 L of chambers ask for 91.2 L; 102 L are there. Tyres count nothing."""
    share = whole(evidence)
    assert litres(12 * share.chamber_volume) == pytest.approx(91.2, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(102)


def test_the_tyres_fill_to_the_road_pressure(evidence: Evidence):
    level = evidence.driving.level[evidence.circuit.space["d2-right-wheel.tyre", "1"]]
    assert level - ATMOSPHERE == pytest.approx(4.4e5, abs=2e3)


@pytest.mark.parametrize("hole", [SEAL, ("rear-vent", "1"), ("tyre-unit", "1"), ("tyre-dryer", "21")])
def test_a_loss_at_the_tyres_leaves_the_brakes_their_air(evidence: Evidence, hole: tuple[str, str]):
    assert not lost(evidence, hole)
    assert stops(evidence, hole)["tyre-guard"] == 5.6


def test_a_burst_tyre_draws_the_line_down_until_its_wheel_valve_shuts(evidence: Evidence):
    assert not lost(evidence, ("front-right-wheel.tyre", "1"))
    assert stops(evidence, ("front-right-wheel.tyre", "1")) == {"front-right-wheel.keep": 0.7}


def test_below_the_brake_priority_no_tyre_is_fed(evidence: Evidence):
    unit = evidence.circuit.by_name["tyre-unit"]
    feed = unit.kind.passages[0].opening
    assert feed is not None
    levels = {"1": ATMOSPHERE + 7e5, "2": ATMOSPHERE, "3": ATMOSPHERE}
    assert feed({**levels, "4": ATMOSPHERE + 5.95e5}, unit.settings, unit.kind.rest) > 0
    assert feed({**levels, "4": ATMOSPHERE + 5.85e5}, unit.settings, unit.kind.rest) < 0


def test_a_torn_seal_leaves_every_tyre_what_its_wheel_valve_keeps(evidence: Evidence):
    emptied = evidence.emptied(evidence.circuit.space[SEAL])
    assert not {name for name in evidence.circuit.by_name if name.endswith(".tyre")
                and evidence.circuit.space[name, "1"] in emptied}


def test_without_the_protection_valve_a_torn_seal_takes_the_wet_reservoir():
    """The unit's priority watches the primary reservoir, which a check valve keeps: the wet one it does not save."""
    text = design_of("""on: tyre-inflation
- pressure-protection-valve tyre-guard
- tube wet -> tyre-guard.1
- tube tyre-guard.2 -> tyre-dryer.1
+ tube wet -> tyre-dryer.1: size 1/2 in, length 1.2 m
""")
    assert {rule for _, rule in findings_of(text)} == {"auxiliary-not-protected"}


def inflating(*actions, until: float, running: bool) -> Trace:
    """The truck with its tyres at 2 bar, asked for the road's 4.5."""
    circuit = circuit_of(TRUCK)
    soft = {tyre.name: 2.0 for tyre in circuit.devices if tyre.name.endswith(".tyre") and not tyre.is_line}
    assert len(soft) == 6
    return played(circuit, *actions, until=until, running=running, pressures=soft)


def test_braking_again_and_again_while_inflating_the_tyres_get_nothing_below_85_psi():
    """US Army TM 9-2320-363-10: 85 psi (5.9 bar) for the brakes first."""
    circuit = circuit_of(TRUCK)
    strokes = [action for n in range(12) for action in (*apply(circuit, 5.0 + 10 * n), *let_go(circuit, 8.0 + 10 * n))]
    trace = inflating(*strokes, until=130.0, running=False)
    stops_at = trace.first_time("pri", ATMOSPHERE + 5.9e5, rising=False)
    assert stops_at is not None and bar(trace, "pri", 130.0) < 4
    tyre = "d1-left-wheel.tyre"
    assert bar(trace, tyre, 130.0) <= bar(trace, tyre, stops_at) + 0.01
    assert bar(trace, "wet", stops_at) >= 5.55, "the protection valve held the wet reservoir at 5.6 bar until then"


def test_filling_the_tyres_keeps_the_compressor_at_work_for_minutes_so_a_dryer_with_one_tower_is_warned_of():
    """By hand: 6 x 200 L from 2.0 to 4.4 bar are 2,840 L of free air; 32 cfm at 85 % make 770 L/min, 3.7 min of it.

    Where the line is drawn is our choice: users that hold more than all brake reservoirs, 1,200 L against 102 L here.
    """
    trace = inflating(until=600.0, running=True)
    rests = next(event.time for event in trace.events if event.variable == "unloading" and event.value == 1)
    assert 150 < rests < 300
    pump = trace.circuit.by_name["pump"].settings
    minutes = 6 * 0.2 * 2.4e5 / ATMOSPHERE / (pump["displacement"] * pump["efficiency"]) / 60
    assert minutes == pytest.approx(3.7, abs=0.1)
    case = (RULES / "dryer-never-rests" / "fail_one_tower_for_six_tyres.case").read_text(encoding="utf-8")
    assert [rule for _, rule in findings_of(design_of(case))] == ["dryer-never-rests"]
