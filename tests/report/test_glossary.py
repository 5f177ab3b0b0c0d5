"""The words of the trade: each is answered by all its names, says one thing, and leads to something that is there."""

import pytest

from circuit import commands, glossary, kinds, questions, rules, sections
from circuit.cli import main
from circuit.glossary import Word
from circuit.model.forms import FORMS
from circuit.report.explain import Unknown, explain

WORDS = [word for _, words in glossary.groups() for word in words]
ASKED_BY_A_CLASS = ("breather", "strainer", "unloader", "cut-out", "cut-in", "discharge-valve", "slack-adjuster", "push-rod",
                    "S-cam", "diaphragm", "brake-shoe", "brake-drum", "exhaust", "lap", "wet-reservoir", "dry-reservoir",
                    "treadle", "yoke", "water", "pressure")
"""Words of which none was answered when a class tried them."""


def test_there_are_some_hundred_and_fifty():
    assert 140 <= len(WORDS) <= 170 and len({word.name for word in WORDS}) == len(WORDS)


@pytest.mark.parametrize("asked", ASKED_BY_A_CLASS)
def test_what_a_class_asked_is_answered(asked: str):
    page = explain(asked)
    assert "What pushes what" in page and "Also called" in page


@pytest.mark.parametrize("word", WORDS, ids=[word.name for word in WORDS])
def test_a_word_is_whole(word: Word):
    assert word.says[0].isupper() and word.says.endswith(".") and 5 <= len(word.says.split()) <= 42
    assert word.also and (not word.push or word.push.endswith("."))
    assert word.push or word in glossary.groups()[-1][1], "only words of the language push nothing"
    assert not word.part or kinds.find(word.part) is not None
    assert not word.command or word.command in commands.names()
    assert word.part or word.see or word.command or word.name == "chock"
    for topic in word.see:
        assert explain(topic)
    for name in (word.name, *word.also, word.name.upper(), word.name.replace("-", " ")):
        assert glossary.find(name) == word


def test_one_word_for_one_thing():
    """No name of the glossary is a name of something else that `explain` tells."""
    taken = {glossary.plain(name) for name in (*kinds.names(), *FORMS, *questions.names(), *(r.name for r in rules.every()))}
    own = [glossary.plain(name) for word in WORDS for name in (word.name, *word.also)]
    assert len(set(own)) == len(own), sorted({name for name in own if own.count(name) > 1})
    assert not taken & set(own)


def test_what_stands_beside_kinds_is_of_kinds():
    for name in glossary.kinds_told():
        assert kinds.find(name) is not None and kinds.find(name).name == name
        page = " ".join(explain(name).split())
        assert glossary.beside(name).push in page and "What one hears" in page
    assert all(kinds.find(kind) is not None and kinds.find(name) is None for name, kind in glossary.spoken())
    usual = {"compressor", "governor", "relay-valve", "chamber", "spring-chamber", "foot-valve", "quick-release-valve"}
    assert usual <= set(glossary.kinds_told()) & ({*sections.names(), "reservoir"})


def test_near_words_are_offered():
    for wrong, meant in (("brakdrum", "brake-drum"), ("slak-adjuster", "slack-adjuster"), ("diafragm", "diaphragm")):
        with pytest.raises(Unknown, match=meant):
            explain(wrong)


def test_explain_alone_lists(capsys: pytest.CaptureFixture[str]):
    assert main(["explain"]) == 0
    told = capsys.readouterr().out
    assert all(word.name in told for word in WORDS) and all(kind.name in told for kind in kinds.every())
    assert all(f"  {name} " in told for name in ("words", "rules", "kinds", "clauses"))


def test_two_words_are_one_name(capsys: pytest.CaptureFixture[str]):
    assert main(["explain", "slack", "adjuster"]) == 0
    assert capsys.readouterr().out == explain("slack-adjuster")
    assert main(["explain", "lap", "yoke"]) == 0
    assert capsys.readouterr().out == explain("lap") + "\n" + explain("yoke")
