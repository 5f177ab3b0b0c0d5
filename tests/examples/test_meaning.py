"""The summary of what changed in the frozen tables: it reads all of every table, and says what a change means."""

import re

import pytest

from tests import doctests
from tests.designs import EXAMPLES, example_names
from tests.examples import meaning
from tests.examples.meaning import brakes_lost, faults_of, rows_of, summary, told, working_tree

FAULTS = """Faults: a truck
2 single faults, 2 outcomes, the worst first

SOME BRAKES LOST
  lost  braking: no service brake on front and rear; wet
        and pri empty
  left  parks on all its springs; wet 8.6 bar
  by    pri: burst, leaks

ALL WHEELS BRAKE, SOME WITH LESS FORCE
  lost  front brakes with 90 % of its push-rod force
  by    tube pri -> foot.1: leaks
"""
PREDICTED = """Charging: a truck

85 to 100 psi: 25.3 s
  limit 27.9 s, 2.7 s to spare: met, but it turns within the band
  front-left  0.404 s  0.45 s  +0.046 s  met
"""


def changed(faults: tuple[str, str] = ("", ""), predicted: tuple[str, str] = ("", "")) -> dict[str, list[str]]:
    """What is said where a word of a table is another now."""
    before = {"examples/e/faults.txt": FAULTS, "examples/e/predicted.txt": PREDICTED}
    now = {"examples/e/faults.txt": FAULTS.replace(*faults), "examples/e/predicted.txt": PREDICTED.replace(*predicted)}
    return told("e", before.__getitem__, now.__getitem__)


@pytest.mark.parametrize("example", example_names())
def test_every_fault_of_a_table_is_read(example: str):
    text = (EXAMPLES / example / "faults.txt").read_text(encoding="utf-8")
    count = re.search(r"^(\d+) single faults", text, re.MULTILINE)
    assert count and len(faults_of(text)) == int(count[1])


@pytest.mark.parametrize("example", example_names())
def test_verdicts_are_told_from_other_words(example: str):
    text = (EXAMPLES / example / "predicted.txt").read_text(encoding="utf-8")
    verdicts = {row.verdict.partition(" within")[0] for row in rows_of(text)}
    assert verdicts <= {"", "met", "NOT MET", "met, a guide", "NOT MET, a guide", "met, but turns",
                        "NOT MET, though it turns"}, verdicts


def test_what_is_worse_later_counts():
    then = "  then  in time, the pedal held down: no service brake on front, rear and lift\n"
    text = FAULTS.replace("  left  parks", f"{then}  left  parks")
    assert faults_of(text)["pri: burst"].brakes == 3.0 and faults_of(FAULTS)["pri: burst"].brakes == 2.0


def test_nothing_changed_says_nothing():
    assert changed() == {}
    assert summary(working_tree, working_tree, example_names()) == f"none of {len(example_names())} examples changed in meaning"


def test_a_fault_that_loses_a_brake_more_or_less():
    more = "no service brake on front, middle and rear"
    assert changed(faults=("no service brake on front and rear", more)) == {
        "faults that lose a brake more, or part of one: 2":
            [f"pri: burst; pri: leaks: no service brake on front and rear -> {more}"]}
    (sort,) = changed(faults=("no service brake on front and rear", "no service brake on rear"))
    assert sort == "faults that lose a brake less, or part of one: 2"
    (sort,) = changed(faults=("with 90 %", "with 80 %"))
    assert sort == "faults that lose a brake more, or part of one: 1"


def test_a_fault_in_another_class_named_newly_or_no_more():
    assert changed(faults=("ALL WHEELS BRAKE, SOME WITH LESS FORCE\n", "")) == {
        "faults in a worse class: 1": ["tube pri -> foot.1: leaks: all wheels brake, some with less force -> some brakes lost"]}
    assert list(changed(faults=("burst, leaks", "burst, seeps"))) == [
        "faults named for the first time: 1", "faults not named any more: 1"]


def test_words_of_an_outcome_count_and_its_figures_do_not():
    assert changed(faults=("wet\n        and pri empty", "wet empty")) == {
        "faults told otherwise: 2": ["pri: burst; pri: leaks: wet and pri empty -> wet empty"]}
    assert changed(faults=("wet 8.6 bar", "wet 8.5 bar")) == {}


def test_a_verdict_that_turned_and_a_figure_that_moved():
    assert changed(predicted=("s  met", "s  NOT MET")) == {
        "verdicts turned: 1": ["front-left 0.404 s 0.45 s +0.046 s NOT MET   (was: met)"]}
    assert changed(predicted=("0.404 s", "0.436 s")) == {
        "lines with a figure moved by more than 1 %: 1": ["front-left 0.436 s 0.45 s +0.046 s met   (0.404 -> 0.436)"]}
    assert changed(predicted=("0.404 s", "0.405 s")) == {}
    assert changed(predicted=("85 to 100 psi", "from empty")) == {
        "lines of predicted.txt that came, went or say something else: 1": []}


def test_a_table_that_was_not_there_before():
    assert told("e", lambda path: "", lambda path: FAULTS if "faults" in path else "") == {"faults.txt is new: 1": []}


def test_how_many_brakes_an_outcome_takes():
    assert brakes_lost("half of the brakes of front do nothing; no service brake on a, b and c") == 3.5
    assert brakes_lost("with the pedal down no service brake on front and rear brakes with 20 % of its push-rod force") == 1.8
    assert brakes_lost("springs of rear come on by themselves; wet empty") == 0.0
    doctests.run("tests.examples.meaning")


def test_a_revision_that_git_does_not_know(capsys: pytest.CaptureFixture[str]):
    assert meaning.main(["no-such-revision"]) == 2
    assert "git knows no revision `no-such-revision` here" in capsys.readouterr().err
