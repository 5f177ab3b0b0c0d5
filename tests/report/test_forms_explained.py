"""Statements that are no parts are explained too: what they carry, and what a trial can do."""

import pytest

from circuit.model.forms import ACTIONS, FORMS
from circuit.report.explain import explain


@pytest.mark.parametrize("word", sorted(FORMS.keys() - {"rules"}))
def test_a_statement_tells_every_setting(word: str):
    page = explain(word)
    assert page.startswith(f"{word}  (a statement of the language, no part)")
    for setting in FORMS[word]:
        assert f"\n  {setting.name}: " in page


def test_a_trial_tells_its_steps():
    page = explain("trial")
    for action in ACTIONS:
        assert f"\n  {action}" in page


def test_an_axle_tells_what_the_drawing_does_not_show():
    page = " ".join(explain("axle").split())
    assert "air, hydraulic" in page and "drawn, cable" in page
