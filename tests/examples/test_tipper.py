"""The tipper: a chassis changed and added to by its own rows, and what is predicted of the whole."""

from circuit.pipeline import load
from circuit.verdict.compare import compare
from circuit.verdict.judge import judge
from tests.examples.held import EXAMPLES, circuit_of, whole

TIPPER = EXAMPLES / "tipper" / "tipper.air"


def test_it_has_at_most_sixty_rows_on_an_untouched_chassis():
    text = TIPPER.read_text(encoding="utf-8")
    rows = [row for row in text.split("\n") if row.strip() and not row.startswith("#")]
    assert len(rows) <= 60 and f"in {len(rows)} rows" in (TIPPER.parent / "README.md").read_text(encoding="utf-8")


def test_it_is_clean_by_the_drawing_and_its_volumes_are_those_of_its_page():
    verdict = judge(load(str(TIPPER)))
    assert not verdict.findings
    assert round(whole(verdict.evidence).ratio, 1) == 14.1


def test_what_was_done_to_the_chassis_is_told():
    found = compare(judge(circuit_of("truck-6x4")), judge(load(str(TIPPER))))
    done = [change.what for change in found.changes]
    assert done.count("cut") == 2 and done.count("lengthened") == 4 and "removed" not in done
    assert any(change.says.startswith("pump: displacement was 15 cfm") for change in found.changes)
