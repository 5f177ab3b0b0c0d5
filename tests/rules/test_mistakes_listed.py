"""The table of mistakes people make, held to the cases it names."""

import re
from pathlib import Path

import pytest

from circuit import rules
from circuit.mistake import Unreadable
from tests.designs import design_of, findings_of, loaded, marks

HERE = Path(__file__).parent
ROW = re.compile(r"^\| (\d+) \| ([^|]+) \| ([^|]+) \|$", re.M)
TABLE = (HERE / "README.md").read_text("utf-8")
ROWS = [(int(number), mistake, shown) for number, mistake, shown in ROW.findall(TABLE)]
NAMED = [(number, shown) for number, _, shown in ROWS if "/" in shown and " " not in shown]
UNSEEN = [(number, shown) for number, _, shown in ROWS if (number, shown) not in NAMED]


def test_all_seventy_nine_are_there():
    assert [number for number, _, _ in ROWS] == list(range(1, 80))
    assert len(NAMED) > 55


@pytest.mark.parametrize("number, shown", NAMED, ids=[f"{number}-{shown}" for number, shown in NAMED])
def test_a_mistake_has_its_rule_and_its_case(number: int, shown: str):
    rule, case = shown.split("/")
    assert rules.find(rule) is not None
    text = design_of((HERE / rule / f"{case}.case").read_text("utf-8"))
    assert (rule in {name for _, name in marks(text)}) == case.startswith("fail_")
    if case.startswith("pass_"):
        assert findings_of(text) == []


@pytest.mark.parametrize("number, shown", UNSEEN, ids=[str(number) for number, _ in UNSEEN])
def test_what_no_case_shows_has_a_reason(number: int, shown: str):
    assert shown.startswith(("needs ", "refused by the language: ")) or " no part of " in shown or "drawn" in shown \
        or "not written" in shown or "choice" in shown


@pytest.mark.parametrize("wrong, says", [("reservoir wet: volume 20 L, rated 10.3 bar, role supply\n" * 2, "wet"),
                                         ("reservoir wet: volume 20 L, rated 10.3, role supply\n", "needs a unit")])
def test_the_language_refuses_two_names_and_a_figure_without_its_unit(wrong: str, says: str):
    with pytest.raises(Unreadable) as refused:
        loaded("vehicle x: class truck\n" + wrong)
    assert says in refused.value.mistakes[0].says
