"""The straight truck: volume sum, applications and compressor worked by hand, and two losses that surprise.

What its other losses leave is held in `tests/faults/test_common_faults.py`.
"""

import pytest

from circuit.faults.effect import Effect
from circuit.judging.evidence import Evidence
from circuit.studies.charge import charge
from circuit.studies.reserve import reserve
from circuit.units import value_in
from tests.examples.held import circuit_of, litres, verdict_of, whole
from tests.faults.studied import effect_of, keeps

TRUCK = "truck-6x4"
FULL = 8.5
"""bar in a service reservoir: the governor's cut-out less what its check valve takes."""


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of(TRUCK))


def brakes(effect: Effect) -> dict[str, bool]:
    """Axle to whether the pedal still gives it air."""
    return {each.name: each.service > 0.95 for each in effect.axles}


def test_it_is_clean():
    assert not verdict_of(TRUCK).findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 2 x 54 + 4 x 89 = 464 in3 = 7.60 L, 12 x 7.60 = 91.2 L; 20 + 50 + 32 = 102 L, 102 / 7.60 = 13.4
    share = whole(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(464)
    assert litres(12 * share.chamber_volume) == pytest.approx(91.2, abs=0.05)
    assert litres(share.tank_volume) == pytest.approx(102)
    assert share.ratio == pytest.approx(13.4, abs=0.05)


def test_the_primary_lasts_for_six_applications_and_the_secondary_for_twelve():
    # by hand: 50 / (4 x 89 in3) = 8.57, (8.57 / 9.57)^6 = 0.516 and ^7 = 0.462; 32 / (2 x 54 in3) = 18.1, ^12 = 0.524
    found = {store.name: store for store in reserve(circuit_of(TRUCK)).stores}
    assert {name: store.counted_halves for name, store in found.items()} == {"pri": 6, "sec": 12}
    assert found["pri"].halves >= 6 and found["sec"].halves >= 12


def test_the_compressor_that_85_to_100_psi_in_time_asks_for():
    # by hand: 25 s x 102 / 91.2 = 28 s; 102 L x 15 psi / 14.7 psi = 104 L of free air, in 28 s 223 L/min
    found = charge(circuit_of(TRUCK))
    assert found.limit == pytest.approx(28.0, abs=0.1)
    free_air = 102 * 15 / 14.696
    assert free_air == pytest.approx(104, abs=0.2)
    assert free_air / found.limit * 60 == pytest.approx(223, abs=1.5)
    pump = circuit_of(TRUCK).by_name["pump"].settings
    assert pump["displacement"] * pump["efficiency"] * 60e3 > 223
    assert found.build.value < found.limit


def test_the_relay_signal_line_off_takes_the_rear_service_brake_and_leaves_the_front():
    """A pulled signal line was asked about as a single failure in NHTSA interpretation nht95-3.52. The pedal held down
    blows the primary out of it, which then leaves the rear to its springs."""
    lost = effect_of(TRUCK, "tube foot.21 -> rear-relay.4: burst")
    assert brakes(lost) == {"front": True, "drive-1": False, "drive-2": False}
    assert keeps(lost)["pri"] == pytest.approx(0, abs=0.05) and keeps(lost)["sec"] == pytest.approx(FULL, abs=0.05)
    blocked = effect_of(TRUCK, "tube foot.21 -> rear-relay.4: blocked")
    assert brakes(blocked) == brakes(lost) and keeps(blocked)["pri"] == pytest.approx(FULL, abs=0.05)


def test_the_park_feed_burst_takes_both_reservoirs_even_past_a_sound_shuttle():
    """A double check guards one feed against the loss of the other, not against a hole behind it: it goes to and fro
    between them until both are empty, unless a protection valve stands before it."""
    lost = effect_of(TRUCK, "tube park-shuttle.2 -> park.1: burst")
    assert not any(brakes(lost).values())
    assert keeps(lost)["pri"] == keeps(lost)["sec"] == pytest.approx(0, abs=0.05)
    assert all(each.springs == 1 for each in lost.axles if each.sprung)
