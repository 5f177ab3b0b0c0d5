"""The place for measured records: what is there holds, and what is put in wrongly is refused."""

import pytest

from tests.outside.records import outside, pairs

BEFORE = """
design = "bench.air"
predicted_on = 2026-01-02
[[time]]
place = "can"
what = "apply"
level_psi = 60
low_s = 0.3
median_s = 0.4
high_s = 0.5
"""
AFTER = """
source = "made up for this test"
measured_on = 2025-05-01
added_on = 2026-01-03
conditions = "none"
uncertainty_s = 0.01
uncertainty_psi = 1
uncertainty_from = "none"
[[time]]
place = "can"
what = "apply"
level_psi = 60
measured_s = 0.505
"""


def put(folder, before=BEFORE, after=AFTER):
    (folder / "x.toml").write_text(after, encoding="utf-8")
    if before:
        (folder / "x.predicted.toml").write_text(before, encoding="utf-8")
    return folder


def test_every_record_that_is_here_lies_in_what_was_predicted_before():
    assert [row for pair in pairs() for row in outside(pair)] == []


def test_a_record_is_read_and_held(tmp_path):
    (pair,) = pairs(put(tmp_path))
    assert outside(pair) == []
    (pair,) = pairs(put(tmp_path, after=AFTER.replace("0.505", "0.6")))
    assert outside(pair) == ["('can', 'apply', 60): measured 0.6 s, predicted 0.3 to 0.5 s"]
    (pair,) = pairs(put(tmp_path, after=AFTER.replace("0.505", "0.6") + 'reason = "the hose was kinked"\n'))
    assert outside(pair) == []


@pytest.mark.parametrize("before, after, says", [
    ("", AFTER, "no prediction was frozen"),
    (BEFORE.replace("2026-01-02", "2026-01-03"), AFTER, "not before it was added"),
    (BEFORE, AFTER.replace("uncertainty_from", "from"), "lacks uncertainty_from"),
])
def test_a_record_without_its_prediction_or_its_uncertainty_is_refused(tmp_path, before, after, says):
    with pytest.raises(ValueError, match=says):
        pairs(put(tmp_path, before, after))
