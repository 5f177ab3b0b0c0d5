"""The tipper: a chassis changed and added to by its own rows, and what is predicted of the whole."""

import pytest

from circuit.faults.diagnosis import asked_first, diagnosis
from circuit.faults.library import library
from circuit.faults.measured import measured
from circuit.pipeline import load
from circuit.report.studies.order import tables
from circuit.report.table import as_one
from circuit.studies.commission import commission
from circuit.studies.ordering import order
from circuit.syntax.read import read
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


def test_its_order_is_what_the_program_lists_now():
    made = as_one(tables(order(load(str(TIPPER)), added=True)))
    assert (TIPPER.parent / "order.csv").read_text(encoding="utf-8").split() == made.split()


def test_its_readings_fill_the_form_of_today():
    asked = commission(load(str(TIPPER)))
    values = measured(read(str(TIPPER.parent / "readings.csv")), asked.readings)
    assert len(values.values) == len(asked_first(asked.circuit, asked.readings)) and not values.unweighed


@pytest.mark.slow
def test_its_hidden_fault_is_found():
    known = library(load(str(TIPPER)))
    said = diagnosis(known, measured(read(str(TIPPER.parent / "readings.csv")), known.commission.readings).values)
    assert not said.as_designed and said.candidates[0].name == "tube signal-tee -> tag-relay.4: crushed"
    assert said.candidates[0].name in (TIPPER.parent / "diagnosis.txt").read_text(encoding="utf-8")
