"""What `explain` shows of a rule is true: its bad design has the fault and its good one has not."""


import pytest

from circuit import rules
from circuit.clauses import GRADES, asking, rule_set, set_names
from circuit.judging.rule import SEVERITIES, Rule
from circuit.verdict.judge import judge
from circuit.verdict.lesson import lesson, lesson_of
from tests.designs import completed, loaded

RULES = rules.every()
named = pytest.mark.parametrize("rule", RULES, ids=[rule.name for rule in RULES])


def found_in(design: str) -> set[str]:
    """The names of what is found; a row that is said to be laid wrong beside another finding counts as that."""
    verdict = judge(loaded(completed(design)))
    found = [f for j in verdict.judgements if j.is_open for f in (j, *j.follows)]
    beside = {"laid-wrong" for f in found for _, says in f.answer.also if says.startswith("laid wrong")}
    return {f.rule.name for f in found} | beside


def test_there_are_rules():
    assert len(RULES) >= 28


@named
def test_the_bad_design_has_the_fault(rule: Rule):
    assert rule.name in found_in(lesson_of(rule.name).bad)


@named
def test_the_good_design_has_it_not(rule: Rule):
    assert rule.name not in found_in(lesson_of(rule.name).good)


@named
def test_the_prose_is_made_of_sentences(rule: Rule):
    told = lesson_of(rule.name)
    for text in (told.fault, told.why, told.consequence, told.not_checked):
        assert text[0].isupper() and text.endswith("."), text
    assert not rule.title[0].isupper() and not rule.title.endswith(".")
    assert rule.severity in SEVERITIES


@named
def test_its_clauses_are_known_and_decided_by_a_drawing(rule: Rule):
    assert asking(rule.name)
    for one in asking(rule.name):
        assert one.decided == "drawing" and not one.unused, one.key


def test_every_clause_that_a_drawing_decides_has_a_rule():
    cited = {one.key for rule in RULES for one in asking(rule.name)}
    every = [c for name in set_names() for c in rule_set(name).clauses]
    drawn = {c.key for c in every if c.decided == "drawing"}
    unused = {c.key for c in every if c.unused}
    assert len(drawn) > 100 and drawn - cited == unused and len(unused) < 4


def test_every_other_clause_says_what_is_missing():
    for name in set_names():
        for each in rule_set(name).clauses:
            assert each.decided in ("drawing", "simulation", "declared", "physical test"), each.key
            assert each.decided == "drawing" or each.needs, each.key
            assert each.basis in ("read", "read in a parallel text", "seen in a copy", "from memory",
                                  "common practice, no source"), each.key
            assert each.grade in ("", *GRADES) and bool(each.grade) == (each.basis == "from memory"), each.key
            assert each.source and each.asks.endswith("."), each.key


def test_a_docstring_without_a_heading_is_refused():
    with pytest.raises(ValueError, match="Why, Good"):
        lesson("Fault.\n\nWhat happens\n---\nx\n\nWhat is not checked\n---\nx\n\nBad\n---\n    x\n")
