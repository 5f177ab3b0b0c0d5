"""The course: every command, number and row of its pages is produced again, every mistake is found, every word answered."""

import re
import shlex
from functools import cache
from pathlib import Path

import pytest

from circuit import glossary
from circuit.cli import main
from circuit.mistake import Unreadable
from circuit.model import draws
from circuit.pipeline import judged, load, load_source
from circuit.report.course.lesson_paper import blocks
from circuit.report.course.lessons import FIND, MANY, Lesson, changes, every, files, mistaken
from circuit.report.explain import explain
from circuit.source import Source

COURSE = Path(__file__).resolve().parents[2] / "examples" / "course"
LESSONS = every()
SLOW_COMMANDS = ("faults", "report", "respond", "charge", "reserve", "check", "exercise")
"""Commands that play or judge much: their rows are held by the slow tests, but for the lessons of QUICK."""
QUICK = {2}
NUMBER = re.compile(r"(?<![\w.])\d[\d,]*(?:\.\d+)? (?:psi|bar|lb|lbf|L|in|in2|m|s|N|minutes)\b")


def by_number(function):
    return pytest.mark.parametrize("lesson", LESSONS, ids=[f"lesson-{each.number}" for each in LESSONS])(function)


def shown(page: str) -> list[tuple[str, list[str]]]:
    """The commands of a page with the rows that stand under each."""
    found = []
    for block in blocks(page):
        if block[0] != "```":
            continue
        _, first, *rows = block[:-1]
        assert first.startswith("$ airwright "), first
        found.append((first.removeprefix("$ airwright "), rows))
    return found


def fenced(*pages: str) -> str:
    """What stands in the blocks of pages."""
    return "\n".join(row for page in pages for block in blocks(page) if block[0].startswith("```") for row in block)


def plain(page: str) -> str:
    """The sentences of a page."""
    return "\n".join(" ".join(block) for block in blocks(page) if not block[0].startswith("```"))


@cache
def said(command: str) -> str:
    """What a command of a page prints, run in the folder of the course, with as many vehicles as it draws for anybody."""
    import contextlib
    import io
    import os

    out, here, few = io.StringIO(), os.getcwd(), draws.USUAL
    os.chdir(COURSE)
    draws.USUAL = draws.Draws()
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(io.StringIO()):
            assert main(shlex.split(command)) in (0, 1), command
    finally:
        os.chdir(here)
        draws.USUAL = few
    return out.getvalue()


def held(command: str, rows: list[str]) -> None:
    """Every row stands in what the command prints, in this order."""
    printed = iter(row.rstrip() for row in said(command).splitlines())
    for row in rows:
        assert row in printed, f"`airwright {command}` does not print, or not in this order: {row}"


COMMANDS = [(each.number, command, rows) for each in LESSONS for page in (each.page, each.teacher)
            for command, rows in shown(page) if not command.startswith("report ")]


def is_slow(number: int, command: str) -> bool:
    return command.split()[0] in SLOW_COMMANDS and number not in QUICK


def test_there_are_ten_with_commands():
    assert len(LESSONS) == MANY == 10 and len(COMMANDS) > 50
    assert all(rows for _, _, rows in COMMANDS), "every command shows what it prints"


@pytest.mark.parametrize(("number", "command", "rows"), [c for c in COMMANDS if not is_slow(*c[:2])])
def test_a_command_prints_what_its_page_says(number: int, command: str, rows: list[str]):
    held(command, rows)


@pytest.mark.slow
@pytest.mark.parametrize(("number", "command", "rows"), [c for c in COMMANDS if is_slow(*c[:2])])
def test_a_long_command_prints_what_its_page_says(number: int, command: str, rows: list[str]):
    held(command, rows)


def test_a_row_that_is_not_printed_is_seen():
    with pytest.raises(AssertionError, match="does not print"):
        held("section check-valve", ["Check valve: feeding: 1 is 9.9 bar ahead of 2, so 1 feeds 2"])


@by_number
def test_a_page_is_whole(lesson: Lesson):
    for head in ("How it works", "The design", "Try it", "On the board", "Three questions", "Find the mistake"):
        assert f"\n## {head}\n" in lesson.page
    assert "**Take care.**" in lesson.page and f"![Schematic of lesson {lesson.number}]({lesson.number}.svg)" in lesson.page
    questions = re.findall(r"^\d\. .*(?:\n   .*)*", lesson.page.split("## Three questions")[1].split("##")[0], re.M)
    assert len(questions) == 3
    answers = lesson.teacher.split("## The mistake")[0]
    assert answers.count("\n**") == 3 and len(shown(answers)) == 3, "each answer has what shows it"
    for question in questions:
        assert " ".join(question.split())[3:] in " ".join(answers.split())


@by_number
def test_the_design_is_that_of_its_file(lesson: Lesson):
    rows = [row for row in lesson.design.rstrip("\n").split("\n") if not row.startswith("#")]
    (block,) = [each for each in blocks(lesson.page) if each[0] == "```air"]
    assert block[1:-1] == rows
    statements = [row for row in rows if row and not row.startswith((" ", "}"))]
    assert len(statements) <= 20
    if lesson.number > 1:
        assert f'base "{lesson.number - 1}.air"' in rows[0]


@by_number
def test_figures_of_the_text_stand_in_a_row(lesson: Lesson):
    """Every figure with a unit in a sentence is printed by a command of the course up to there, written in a design, or
    answered by `explain` with its source."""
    for page in (lesson.page, lesson.teacher):
        known = fenced(lesson.page, lesson.teacher) + "".join(each.design for each in LESSONS)
        known += "".join(explain(word) for word in re.findall(r"`explain ([a-z-]+)`", page)) + explain("governor-set-low")
        for figure in NUMBER.findall(plain(page)):
            value, unit = figure.split()
            unit = {"lb": "(?:lbf?)?"}.get(unit, unit)
            assert re.search(rf"(?<![\d.]){value}(?:\.0)? ?(?:{unit}|$)", known, re.M), f"{figure} stands nowhere else"


@by_number
def test_words_of_a_lesson_are_answered(lesson: Lesson):
    asked = re.findall(r"`(?:airwright )?explain ([a-z-]+)`", lesson.page + lesson.teacher)
    assert len(asked) >= 3
    for word in asked:
        assert explain(word)
    assert sum(glossary.find(word) is not None for word in asked) >= 2


def rules_found(text: str) -> set[str]:
    source = Source(str(COURSE / FIND), text)
    try:
        circuit = load_source(source)
    except Unreadable as unreadable:
        raise AssertionError(f"the mistake is refused, not found: {unreadable.mistakes[0].says}") from None
    return {each.rule.name for one in judged(circuit).judgements if one.is_open for each in (one, *one.follows)}


@by_number
def test_the_mistake_is_found_by_its_rule_alone_of_all(lesson: Lesson):
    rule = re.search(r"by the rule `([a-z-]+)`", lesson.teacher)
    assert rule and changes(lesson)
    before, after = rules_found(lesson.design), rules_found(mistaken(lesson))
    assert rule[1] in after and rule[1] not in before


@by_number
def test_links_and_pictures_are_there(lesson: Lesson):
    for target in re.findall(r"\]\(([^)#]+)\)", lesson.page + lesson.teacher):
        assert (COURSE / target).exists(), target


def test_from_lesson_eight_on_it_is_a_truck():
    for number in (8, 9, 10):
        assert not [one for one in judged(load(str(COURSE / f"{number}.air"))).judgements if one.is_open]


def test_the_command_lists_shows_and_refuses(capsys: pytest.CaptureFixture[str]):
    assert main(["lesson"]) == 0
    listed = capsys.readouterr().out
    assert all(f"{each.number:>2}  {each.title}" in listed for each in LESSONS)
    assert main(["lesson", "3"]) == 0 and capsys.readouterr().out == LESSONS[2].page
    assert main(["lesson", "3", "--teacher"]) == 0 and capsys.readouterr().out == LESSONS[2].teacher
    for words in (["lesson", "11"], ["lesson", "one"], ["lesson", "--teacher"]):
        assert main(words) == 2 and "airwright: " in capsys.readouterr().err


def test_a_folder_is_written_whole_and_not_over_another(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    target = tmp_path / "two"
    assert main(["lesson", "2", "-o", str(target), "--teacher"]) == 0
    assert {path.name for path in target.iterdir()} == set(files(LESSONS[1], True))
    assert (target / "lesson-2.pdf").read_bytes().startswith(b"%PDF") and (target / FIND).read_text() == mistaken(LESSONS[1])
    assert main(["lesson", "2", "-o", str(target)]) == 2 and "--force" in capsys.readouterr().err
    assert main(["check", str(target / FIND), "--short"]) == 1
    assert "governor-set-low" in capsys.readouterr().out


@pytest.mark.slow
@by_number
def test_a_lesson_prints_on_four_sides_and_its_picture_is_fresh(lesson: Lesson, tmp_path: Path):
    made = files(lesson, teacher=True)
    for name in (f"lesson-{lesson.number}.pdf", f"lesson-{lesson.number}-teacher.pdf"):
        assert len(re.findall(rb"/Type /Page\b", made[name])) <= 4
    target = tmp_path / "drawn.svg"
    assert main(["draw", str(COURSE / f"{lesson.number}.air"), "-o", str(target)]) == 0
    assert re.sub(r"<desc>.*?</desc>", "", target.read_text(), flags=re.S) == re.sub(
        r"<desc>.*?</desc>", "", lesson.picture, flags=re.S)


def test_links_of_the_contents_lead_somewhere():
    contents = (COURSE / "README.md").read_text(encoding="utf-8")
    targets = re.findall(r"\]\(([^)]+)\)", contents)
    assert len(targets) == 2 * MANY and all((COURSE / target).exists() for target in targets)


@pytest.mark.slow
@by_number
def test_a_page_is_easy_to_read(lesson: Lesson):
    """By a library: sentences of some ten words, the automated readability index of a sixth grade at most, and LIX below 30,
    which is called very easy."""
    import textstat

    text = " ".join(re.sub(r"[`*]", "", " ".join(block)).removeprefix("- ") for block in blocks(lesson.page)
                    if not block[0].startswith(("```", "#", "!", "---")))
    assert textstat.lexicon_count(text) / textstat.sentence_count(text) <= 13
    assert textstat.automated_readability_index(text) <= 6.5 and textstat.lix(text) < 30
