"""The tables of shared data against the documents they are from, and the worked figures of the volume rules."""

from pathlib import Path

import pytest

from circuit.files import folder
from circuit.judging.evidence import Evidence
from circuit.judging.volumes import shares
from circuit.kinds.chamber import sizes
from circuit.tables import chambers, table, tubes
from circuit.units import value_in
from tests.designs import completed, example_text, loaded

INCH = 0.0254
TABLE_V = {9: (1.75, 2.10, 25), 12: (1.75, 2.10, 30), 14: (2.25, 2.70, 40), 16: (2.25, 2.70, 46), 18: (2.25, 2.70, 50),
           20: (2.25, 2.70, 54), 24: (2.50, 3.20, 67), 30: (2.50, 3.20, 89), 36: (3.00, 3.60, 135)}
"""49 CFR 571.121 Table V: nominal area, in2, to least and greatest full stroke, in, and rated volume, in3."""
TABLE_VII = {"1/8": 0.079, "5/32": 0.092, "3/16": 0.117, "1/4": 0.170, "5/16": 0.232, "3/8": 0.251, "1/2": 0.376,
             "5/8": 0.441, "3/4": 0.566}
"""49 CFR 571.106 Table VII: nominal outside diameter to nominal inside diameter, in inches."""
TABLE_VII_METRIC = {"6x1": 4, "8x1": 6, "12x1.5": 9, "16x2": 12}
"""The same table's metric tubes, outside diameter x wall to inside diameter, mm."""
TABLE_VIII_BURST = {"1/8": 1000, "5/32": 1200, "3/16": 1200, "1/4": 1200, "5/16": 1000, "3/8": 1400, "1/2": 950,
                    "5/8": 900, "3/4": 800}
"""49 CFR 571.106 Table VIII: burst pressure at room temperature, psi."""
STROKE_LIMITS = {9: 1.375, 12: 1.375, 16: 1.75, 20: 1.75, 24: 1.75, 30: 2.0, 36: 2.5}
"""49 CFR 393.47(e): push-rod stroke limits of standard clamp-type chambers, inches."""


def test_chambers_are_those_of_table_v():
    assert set(chambers()) == set(TABLE_V)
    for number, (least, most, rated) in TABLE_V.items():
        row = chambers()[number]
        assert row.area == pytest.approx(number * INCH**2)
        assert row.rated == pytest.approx(rated * INCH**3)
        assert row.strokes == pytest.approx((least * INCH, most * INCH))


def test_stroke_limits_are_those_of_the_rule():
    limits = {row["type"]: row["stroke_limit_in"] for row in table("chambers")["chamber"] if "stroke_limit_in" in row}
    assert limits == STROKE_LIMITS


def test_inch_tubes_are_those_of_table_vii():
    inch = {size: row for size, row in tubes().items() if "x" not in size}
    assert {size: bore / INCH for size, (_, bore) in inch.items()} == pytest.approx(TABLE_VII)
    for size, (outside, bore) in inch.items():
        over, under = size.split("/")
        assert outside == pytest.approx(int(over) / int(under) * INCH) and bore < outside
    assert {row["size"]: row["burst_psi"] for row in table("tubes")["inch"]} == TABLE_VIII_BURST


def test_metric_tubes_are_their_outside_less_two_walls():
    for size, bore in TABLE_VII_METRIC.items():
        assert tubes()[size][1] == pytest.approx(bore * 1e-3)
    for size, (outside, bore) in tubes().items():
        if "x" in size:
            assert outside - bore == pytest.approx(2e-3 * float(size.split("x")[1]))


def test_every_table_has_a_source():
    for name in ("chambers", "tubes"):
        assert table(name)["source"] and table(name)["basis"] == "read"


def _settings(number: str, stroke: float, holds: float | None = None) -> dict[str, object]:
    return {"type": number, "stroke": stroke * INCH, "holds": holds and holds * INCH**3, "working-stroke": 1.5 * INCH}


def test_a_stroke_outside_its_row_has_no_rated_volume():
    """A type 24 counts by the table from 2.50 to 3.20 in; at 2.25 in its actual volume is due (571.121 S5.1.2.1)."""
    assert sizes(_settings("24", 2.25))["rated-volume"] is None
    assert sizes(_settings("24", 2.50))["rated-volume"] == pytest.approx(67 * INCH**3)
    assert sizes(_settings("24", 3.20))["rated-volume"] == pytest.approx(67 * INCH**3)
    assert sizes(_settings("24", 3.25))["rated-volume"] is None
    assert sizes(_settings("22", 2.50))["rated-volume"] is None


def test_a_full_chamber_holds_at_least_what_it_sweeps():
    for number, (least, most, _) in TABLE_V.items():
        for stroke in (least, most):
            found = sizes(_settings(str(number), stroke))
            assert found["prefill"] > 0
            assert found["full-volume"] == pytest.approx(max(chambers()[number].rated, 0))


@pytest.mark.parametrize("settings, double, says", [
    (_settings("30/30", 2.5), False, "type 30/30 is a double chamber: write type 30, or use spring-chamber"),
    (_settings("30", 2.5), True, "type 30 is a single chamber: write type 30/30, or use chamber"),
])
def test_chambers_that_contradict_themselves_are_refused(settings: dict[str, object], double: bool, says: str):
    with pytest.raises(ValueError) as refused:
        sizes(settings, double)
    assert str(refused.value) == says


def test_the_6x4_asks_for_5568_cubic_inches():
    """Two type 20 and four type 30: 464 in3, twelve times 5,568 in3 or 91.2 L; the example has 102 L, ratio 13.4."""
    whole, *alone = shares(Evidence(loaded(example_text("truck-6x4"))))
    assert value_in(whole.chamber_volume, "in3", "volume") == pytest.approx(464)
    assert value_in(12 * whole.chamber_volume, "in3", "volume") == pytest.approx(5568)
    assert value_in(12 * whole.chamber_volume, "L", "volume") == pytest.approx(91.2, abs=0.05)
    assert whole.ratio == pytest.approx(13.4, abs=0.05)
    assert {share.name: round(share.ratio, 1) for share in alone} == {"pri": 8.6, "sec": 18.1}


def test_the_tandem_asks_for_2848_cubic_inches():
    """Four type 30: 356 in3, eight times 2,848 in3 or 46.7 L; the example has 60 L, ratio 10.3."""
    (share,) = shares(Evidence(loaded(example_text("semitrailer-tandem"))))
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(356)
    assert value_in(8 * share.chamber_volume, "L", "volume") == pytest.approx(46.7, abs=0.05)
    assert share.ratio == pytest.approx(10.3, abs=0.05)


def test_the_board_has_286_cubic_inches():
    """Two type 20 and two type 30: 286 in3 or 4.69 L, twelve times 56.2 L; 69 L are there, ratio 14.7."""
    whole, _ = shares(Evidence(loaded(example_text("teaching-board"))))
    assert value_in(whole.chamber_volume, "in3", "volume") == pytest.approx(286)
    assert value_in(whole.chamber_volume, "L", "volume") == pytest.approx(4.69, abs=0.005)
    assert whole.ratio == pytest.approx(14.7, abs=0.05)


BRAKES = """
compressor pump: displacement 12 cfm
reservoir tank: volume {litres} L, rated 10 bar, role service
hose pump.2 -> tank: bore 5/8 in, length 3 m
foot-valve foot
manifold block: holes 5
tube tank -> foot.1: size 1/2 in, length 5 m
tube foot.2 -> block: size 3/8 in, length 5 m
axle rear: position 2
{chambers}
"""


def _bus(first: str, second: str, stroke: float = 2.5) -> str:
    rows = []
    for axle, number in (("front", first), ("rear", second)):
        for side in ("left", "right"):
            rows.append(f"chamber {axle}-{side}: type {number}, stroke {stroke} in, axle {axle}, side {side}")
            rows.append(f"hose block -> {axle}-{side}: bore 3/8 in, length 1 m")
    return completed(BRAKES.format(litres=62, chambers="\n".join(rows)))


def test_a_4x2_bus_with_24s_and_30s_asks_for_3744():
    """Two type 24 and two type 30: 312 in3, twelve times 3,744 in3 or 61.4 L."""
    whole = shares(Evidence(loaded(_bus("24", "30"))))[0]
    assert value_in(whole.chamber_volume, "in3", "volume") == pytest.approx(312)
    assert value_in(12 * whole.chamber_volume, "L", "volume") == pytest.approx(61.4, abs=0.05)


def test_a_pair_of_30s_asks_for_1424():
    """A dolly's single axle, two type 30: 178 in3, eight times 1,424 in3 or 23.3 L."""
    assert 2 * TABLE_V[30][2] == 178
    assert value_in(8 * 2 * chambers()[30].rated, "in3", "volume") == pytest.approx(1424)
    assert value_in(8 * 2 * chambers()[30].rated, "L", "volume") == pytest.approx(23.3, abs=0.05)


def test_the_lower_of_table_and_published_volume_counts():
    """A long-stroke chamber is not punished: of the table's and the actual volume the lower counts (S5.1.2.1)."""
    text = _bus("24", "30").replace("axle rear, side left", "axle rear, side left, holds 80 in3").replace(
        "axle rear, side right", "axle rear, side right, holds 100 in3")
    whole = shares(Evidence(loaded(text)))[0]
    assert value_in(whole.chamber_volume, "in3", "volume") == pytest.approx(67 + 67 + 80 + 89)


def test_data_is_found_beside_the_package():
    assert folder("shared") == Path(__file__).resolve().parent.parent / "shared"
    with pytest.raises(FileNotFoundError, match="install again"):
        folder("nowhere")
