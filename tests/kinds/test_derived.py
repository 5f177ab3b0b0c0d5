"""Values that follow from settings: chambers by trade number, holes and fittings by bore, outlets by what is set for all."""

import pytest

from circuit import kinds
from circuit.declaring.following import following
from circuit.gas.flow import tube
from circuit.model.settings import typical_value
from circuit.tables import chambers
from circuit.units import ATMOSPHERE

INCH = 0.0254


def derived(name: str, **settings: object) -> dict[str, object]:
    kind = kinds.find(name)
    assert kind is not None
    typical = {s.name: typical_value(s) if s.typical else None for s in kind.settings}
    return dict(following(kind, {**typical, **settings}))


def test_a_chamber_by_its_trade_number():
    """Type 30 with 2.5 in: 30 in2 and 75 in3 swept; 89 in3 rated (49 CFR 571.121, table V, as its row of shared/chambers)."""
    found = derived("chamber", type="30", stroke=2.5 * INCH)
    assert found["area"] == pytest.approx(30 * INCH**2) and found["rated-volume"] == pytest.approx(89 * INCH**3)
    assert found["full-volume"] == found["rated-volume"] and found["prefill"] == pytest.approx(14 * INCH**3)


def test_a_chamber_without_a_row_or_with_its_makers_volume():
    none = derived("chamber", type="27", stroke=2.5 * INCH)
    assert none["rated-volume"] is None and none["full-volume"] == pytest.approx(1.15 * 27 * 2.5 * INCH**3)
    odd = derived("chamber", type="30", stroke=5 * INCH)
    assert odd["rated-volume"] is None, "a stroke far from any of its row"
    own = derived("chamber", type="30", stroke=2.5 * INCH, holds=80 * INCH**3)
    assert own["full-volume"] == pytest.approx(80 * INCH**3) and own["prefill"] == pytest.approx(5 * INCH**3)
    tight = derived("chamber", type="30", stroke=2.5 * INCH, holds=70 * INCH**3)
    assert tight["prefill"] == pytest.approx(0.05 * 75 * INCH**3), "less than is swept cannot be: a twentieth of it stays"


def test_the_strokes_of_a_row_are_taken_to_a_thousandth_of_a_millimetre():
    low, high = chambers()[30].strokes
    for stroke, fits in ((low, True), (high, True), (low - 5e-7, True), (high + 5e-7, True), (low - 5e-6, False),
                         (high + 5e-6, False)):
        assert (derived("chamber", type="30", stroke=stroke)["rated-volume"] is not None) is fits


@pytest.mark.parametrize(("name", "settings", "says"), [
    ("chamber", {"type": "30/30", "stroke": 2.5 * INCH}, "type 30/30 is a double chamber: write type 30, or use spring-chamber"),
    ("spring-chamber", {"type": "30", "stroke": 2.5 * INCH}, "type 30 is a single chamber: write type 30/30, or use chamber"),
    ("chamber", {"type": "30", "stroke": 1.5 * INCH}, "`working-stroke` 1.50 in .* is not below `stroke` 1.50 in"),
    ("hydraulic-booster", {"type": "30", "stroke": 2 * INCH}, "`working-stroke` 2.00 in .* is not below `stroke` 2.00 in"),
    ("pressure-ratio-valve", {"full-from": 5e5}, "`full-from` says where 2 catches up, and without a `knee` it never does"),
    ("pressure-ratio-valve", {"knee": 5e5, "full-from": 5e5}, "`knee` .* is not below `full-from`"),
    ("two-circuit-protection-valve", {"opens-at": 6e5, "shuts-at": 6e5}, "`shuts-at-21` .* is not below `opens-at-21`"),
    ("two-circuit-protection-valve", {"shuts-at-22": ATMOSPHERE}, "outlet 22 would never shut"),
])
def test_settings_that_contradict_each_other_are_refused(name: str, settings: dict[str, object], says: str):
    with pytest.raises(ValueError, match=says):
        derived(name, **settings)


def test_a_booster_counts_its_stroke_volume():
    found = derived("hydraulic-booster", type="16", stroke=3 * INCH)
    assert found["area"] == pytest.approx(16 * INCH**2) and found["rated-volume"] is None
    assert found["full-volume"] == pytest.approx(1.15 * 48 * INCH**3) and found["prefill"] == pytest.approx(0.15 * 48 * INCH**3)
    own = derived("hydraulic-booster", type="16", stroke=3 * INCH, holds=48.5 * INCH**3)
    assert own["prefill"] == pytest.approx(0.05 * 48 * INCH**3)


def test_a_fitting_is_as_wide_as_a_piece_of_line():
    """C = 0.029 d2 / sqrt(L / d^1.25), the line's own formula without its ends: an elbow is 0.6 m of its bore, a bulkhead 0.3."""
    bore = 0.0095
    for name, length in (("elbow", 60 * bore), ("bulkhead", 0.3)):
        expected = 0.029 * bore**2 / (length / bore**1.25) ** 0.5
        assert derived(name, bore=bore)["conductance"] == pytest.approx(expected, rel=1e-9)
        assert derived(name, bore=bore, conductance=3e-8)["conductance"] == 3e-8
    assert derived("elbow", bore=bore)["conductance"] == pytest.approx(1.8e-7, rel=0.1), "18 L/(s.bar) through 9.5 mm"


def test_a_hole_is_as_wide_as_a_sharp_one():
    """0.65 of its area, 0.2 L/(s.bar) for each mm2: 1.5 mm give 0.23."""
    for name in ("restrictor", "throttle-check-valve", "kneel-valve"):
        assert derived(name, bore=1.5e-3)["conductance"] == pytest.approx(0.23e-8, rel=0.02)
        assert derived(name, bore=1.5e-3, conductance=1e-8)["conductance"] == 1e-8


def test_outlets_of_a_protection_valve_take_what_is_set_for_all_or_for_each():
    found = derived("four-circuit-protection-valve", **{"shuts-at-23": ATMOSPHERE + 4e5, "opens-at-24": ATMOSPHERE + 8e5})
    assert found["opens-at-21"] == pytest.approx(ATMOSPHERE + 7e5) and found["opens-at-24"] == ATMOSPHERE + 8e5
    assert found["shuts-at-22"] == pytest.approx(ATMOSPHERE + 4.8e5) and found["shuts-at-23"] == ATMOSPHERE + 4e5
    assert found["shuts-at"] == ATMOSPHERE + 4e5, "the valve as a whole keeps no more than its lowest outlet"


def test_a_line_with_elbows_resists_like_a_longer_one():
    found = derived("tube", length=2.0, elbows=3, bore=0.00638)["resisting-length"]
    assert found == pytest.approx(2.0 + 3 * 60 * 0.00638), "60 times its bore"
    assert derived("hose", length=2.0, bore=0.01)["resisting-length"] == 2.0


def test_inserts_in_the_ends_of_a_tube_resist_as_heads_of_the_speed_in_them():
    """At 80 % of the bore: (0.5 + 0.36^2 + 0.5 0.36 + 1) / 0.64^2 heads of the tube, 1.5 of which its fit has."""
    heads = (0.5 + 0.36**2 + 0.5 * 0.36 + 1.0) / 0.64**2
    more = 510 * 0.00638**1.25 * (heads / 1.5 - 1)
    assert derived("tube", length=3.0, bore=0.00638, inserts=0.8)["resisting-length"] == pytest.approx(3.0 + more)
    assert derived("tube", length=3.0, bore=0.00638, inserts=1.0)["resisting-length"] == 3.0
    passes = [tube(0.00638, derived("tube", length=3.0, bore=0.00638, inserts=share)["resisting-length"])[0]
              for share in (0.75, 0.8, 0.85, 1.0)]
    assert passes == sorted(passes) and 0.7 < passes[1] / passes[3] < 0.9
