"""Standards are data: no code names one, every clause asks a question, and a further standard is one file."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import circuit
from circuit import pipeline, questions, rules
from circuit.clauses import ALWAYS, Clause, rule_set, set_names
from circuit.cli import main
from circuit.judging.rule import Result
from circuit.studies.charge import charge
from circuit.studies.reserve import reserve
from circuit.studies.respond import respond
from circuit.units import ATMOSPHERE
from circuit.verdict.answering import answered_by, unanswered
from circuit.verdict.coverage import coverage
from tests.designs import EXAMPLES, example_text, loaded
from tests.further import forget, further_clauses

EVERY = [one for name in set_names() for one in rule_set(name).clauses]
NUMBERS = frozenset(one.number for one in EVERY if one.set_name != ALWAYS)
"""Good practice numbers its clauses by words, which are also kinds and operators."""
PACKAGE = Path(circuit.__file__).parent
FILES = sorted(PACKAGE.rglob("*.py"))


def named_in(text: str, sets: tuple[str, ...], numbers: frozenset[str]) -> list[str]:
    """Set names anywhere in a file, and strings that are a clause's number; docstrings may cite a source in words."""
    found = [name for name in sets if re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", text)]
    tree = ast.parse(text)
    return found + [node.value for node in ast.walk(tree)
                    if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value in numbers]


@pytest.mark.parametrize("path", FILES, ids=[str(path.relative_to(PACKAGE)) for path in FILES])
def test_no_set_and_no_clause_is_named_in_code(path: Path):
    assert named_in(path.read_text(encoding="utf-8"), set_names(), NUMBERS) == []


def test_a_standard_in_code_would_be_seen():
    assert named_in('"""As 571.121 S5.3.5 has it."""\n', set_names(), NUMBERS) == []
    assert named_in('asking = "us-federal/" + "S5.3.5"\n', set_names(), NUMBERS) == ["us-federal", "S5.3.5"]
    assert len(FILES) > 300 and len(NUMBERS) > 120


# --- every clause asks -----------------------------------------------------------------------------------------------

UNANSWERED = {
    "air-applied-parking", "antilock-fitted", "brake-performance", "braking-rate-bands", "check-valve-shown",
    "electric-line-warning", "foot-valve-sections-vented", "hose-tests", "leak-rate", "lines-secured", "lock-actuators",
    "parked-from-the-ground", "parking-force", "reserve-behind-protection", "reservoir-make", "reservoir-plate",
    "reservoir-temperature", "retardation-and-fade", "shunting-valve-returns", "springs-are-no-service-brake",
    "springs-released-by-hand", "standard-taken-over", "stopping-distance", "towed-vehicle-brakes-as-supply-falls",
    "trailer-braked-without-engine", "trailer-reserve-against-cut-out", "trailer-springs-act-before-warning",
    "vehicle-out-of-the-standard", "warning-heard", "whose-hoses",
}
"""Questions of the sets that nothing answers: the clauses that ask them are not decided."""


def test_questions_that_nothing_answers_are_listed():
    assert {name for one in EVERY for name in unanswered(one)} == UNANSWERED


def test_every_clause_asks_and_what_answers_it_is_what_it_says():
    for one in EVERY:
        assert one.questions and len(set(one.questions)) == len(one.questions), one.key
        simulated = [name for name in answered_by(one) if name in questions.names()]
        drawn = [name for name in answered_by(one) if rules.find(name)]
        if one.decided == "drawing":
            assert drawn or one.unused, one.key
        elif one.decided == "simulation":
            assert simulated and not drawn, one.key
        else:
            assert not simulated and not drawn, one.key


def test_every_question_is_asked_and_bears_its_files_name():
    asked = {name for one in EVERY for name in one.questions}
    assert len(questions.names()) > 30 and set(questions.names()) <= asked
    both = {rule.name for rule in rules.every() if rule.name in questions.names()}
    assert both == {rule.name for rule in rules.every() if rule.bound}, "a count bounds what a simulation decides"
    for name in questions.names():
        found = questions.find(name)
        assert found is not None and found.name == name and not found.title[0].isupper()
    assert questions.find("no-such-question") is None


# --- a further standard is one file ----------------------------------------------------------------------------------

NEW = '''
[set]
title = "Made up for a test"
document = "Rules of Nowhere"
edition = "1"
basis = "common practice, no source"
source = "made up"

[procedures.put-on]
start_bar = 7.5
to_bar = 4
vessel_cm3 = 700
application_s = 0.15

[[clause]]
id = "1"
asks = "Every brake has 4 bar within 0.9 s, from 7.5 bar."
question = "application-time"
procedure = "put-on"
limit = { within_s = 0.9 }
vehicles = ["truck"]
decided = "simulation"
needs = "a simulation"

[[clause]]
id = "2"
asks = "The warning is on at 9 bar."
question = "no-low-pressure-warning"
limit = { warning_bar = 9 }
vehicles = ["truck"]
decided = "drawing"

[[clause]]
id = "3"
asks = "The air goes from 5 to 6 bar within 2 min."
question = "air-builds-slowly"
procedure = { from_bar = 5, to_bar = 6 }
limit = { within_min = 2 }
vehicles = ["truck"]
decided = "drawing"

[[clause]]
id = "4"
asks = "Three full applications from 7 bar give the last one a tenth of the first."
question = "reserve-too-small"
procedure = { applications = 3, start_bar = 7, demand_bar = 6 }
limit = { share_of_first = 0.1 }
vehicles = ["truck"]
decided = "drawing"

[[clause]]
id = "5"
asks = "The springs are on within a tenth of a second."
question = "parking-time"
procedure = { start_bar = 7, vessel_cm3 = 700 }
limit = { within_s = 0.1 }
vehicles = ["truck"]
decided = "simulation"
needs = "a simulation"

[[clause]]
id = "6"
asks = "A leak leaves brakes, and so do both circuits apart."
questions = ["braking-with-a-leak", "circuits-not-separate"]
vehicles = ["truck"]
decided = "drawing"

[[clause]]
id = "7"
asks = "The tubes are blue."
question = "colour-of-the-tubes"
vehicles = ["truck"]
decided = "declared"
needs = "a declaration of the colour"

[[clause]]
id = "8"
asks = "Trailers brake by themselves."
question = "trailer-does-not-brake-itself"
vehicles = ["semi-trailer"]
decided = "drawing"
'''


@pytest.fixture
def nowhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """The name of a tenth set: one file beside the others."""
    further_clauses(tmp_path, monkeypatch, {"nowhere": NEW})
    yield "nowhere"
    monkeypatch.undo()
    forget()


def test_a_tenth_standard_is_one_file(nowhere: str):
    assert nowhere in set_names() and len(set_names()) == 10
    judged = pipeline.judged(loaded(example_text("truck-6x4")), (nowhere,), simulate=True)
    outcomes = {row.clause.number: row.outcome for row in coverage(judged) if row.clause.set_name == nowhere}
    assert outcomes == {"1": Result.MET, "2": Result.NOT_MET, "3": Result.MET, "4": Result.MET, "5": Result.NOT_MET,
                        "6": Result.MET, "7": Result.UNDECIDED}
    told: dict[str, list[Clause]] = {each.clause.number: [] for each in judged.predicted}
    assert set(told) == {"1", "3", "4", "5", "6"}, "both of the questions of 6 are answered"
    assert judged.fails("error")


def test_its_procedures_are_what_is_played(nowhere: str):
    truck = loaded(example_text("truck-6x4"))
    own, other = respond(truck, (nowhere,)), respond(truck, ("us-federal",))
    assert (own.method, own.start, own.target, own.foot) == (nowhere, ATMOSPHERE + 7.5e5, ATMOSPHERE + 4e5, 0.15)
    assert own.start != other.start and own.applied[0].time != other.applied[0].time
    assert own.applied[0].limit == 0.9 and own.is_met is True and own.released == ()
    filling = charge(truck, (nowhere,))
    assert (filling.between, filling.limit) == ("5 to 6 bar", 120.0) and filling.build is not None
    left = reserve(truck, (nowhere,))
    assert (left.start, left.demand) == (ATMOSPHERE + 7e5, ATMOSPHERE + 6e5)
    assert [each.clause.number for each in left.held] == ["4"]


def test_what_nothing_answers_is_said(nowhere: str, capsys: pytest.CaptureFixture[str]):
    design = str(EXAMPLES / "truck-6x4" / "design.air")
    assert main(["check", design, "--rules", nowhere, "--clauses"]) == 1
    out = " ".join(capsys.readouterr().out.split())
    assert "The tubes are blue." in out and "Missing: a declaration of the colour" in out
    assert main(["explain", f"{nowhere}/7"]) == 0
    assert "nothing here answers its question, colour-of-the-tubes" in " ".join(capsys.readouterr().out.split())
    assert main(["standards", nowhere]) == 0
    assert "by application-time" in capsys.readouterr().out
