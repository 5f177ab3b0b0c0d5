"""Clauses that speak of a single failure, answered by the study; the examples, and one of them spoilt."""

import pytest

from circuit.studies.fault_clauses import answers
from circuit.studies.faults import study
from circuit.units import to_si
from tests.faults.studied import study_of


@pytest.mark.parametrize(("example", "clauses"), (
    ("truck-6x4", {"S5.6.3.1": True, "S5.7.1": True}),
    ("teaching-board", {"S5.7.1": False}),
    ("semitrailer-tandem", {"S5.6.3.1": True, "S5.8.2": True}),
))
def test_examples(example: str, clauses: dict[str, bool]):
    found = {answer.clause.split("/")[1]: answer.met for answer in answers(study_of(example))}
    assert found == clauses


def test_a_trailer_valve_that_shuts_at_60_psi_does_not_keep_70():
    circuit = study_of("semitrailer-tandem").circuit
    valve = circuit.by_name["springs"]
    spoilt = circuit.with_setting(valve, "shuts-at", to_si("60 psi", "pressure"))
    answer = next(a for a in answers(study(spoilt)) if a.clause.endswith("S5.8.2"))
    assert not answer.met and "60 psi" in answer.says
