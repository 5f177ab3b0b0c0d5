"""The forest truck: the brakes come first, whatever the tyres lose."""

import pytest

from circuit.rules.evidence import Evidence
from circuit.units import ATMOSPHERE
from tests.designs import design_of, findings_of
from tests.examples.held import circuit_of, litres, lost, stops, verdict_of, whole

TRUCK = "tyre-inflation"
SEAL = ("d1-left-wheel.seal", "1")


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
