"""Designs that nobody would write: every command has an answer, no fault of its own and no hang. `tests/fuzz.py` runs more."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from circuit import cli
from circuit.mistake import Unreadable
from circuit.pipeline import load_source
from circuit.source import Source
from tests import fuzz
from tests.designs import EXAMPLES

GRAMMAR = fuzz.Grammar()
SMALL = fuzz.Grammar(("semitrailer-single", "semitrailer-old", "teaching-board"))
CASES = st.builds(SMALL.case, st.randoms(use_true_random=False), st.just(fuzz.CHECKS))

HANGS = 30.0
"""s of processor time: a hang on the busiest machine, where five, which the script tells, may be the load."""


@pytest.fixture(scope="module")
def runner(tmp_path_factory: pytest.TempPathFactory) -> Iterator[fuzz.Runner]:
    yield fuzz.Runner(tmp_path_factory.mktemp("fuzz"), HANGS)


def statuses(runner: fuzz.Runner, count: int, seed: int, commands: tuple[str, ...]) -> Counter[int | None]:
    found: Counter[int | None] = Counter()
    for number in range(count):
        case = GRAMMAR.case(Random(f"{seed}-{number}"), commands)
        came = runner.run(case)
        assert not came.trouble, f"{came.trouble}\n{case.words} on {case.base}, case {number} of seed {seed}\n{case.text}"
        found[came.status] += 1
    return found


@settings(max_examples=8, deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck))
@given(case=CASES)
def test_every_check_has_an_answer(runner: fuzz.Runner, case: fuzz.Case) -> None:
    assert not runner.run(case).trouble, case.words


def test_a_third_reaches_the_rules() -> None:
    reached = 0
    for number in range(40):
        case = SMALL.case(Random(f"7-{number}"), fuzz.CHECKS)
        try:
            load_source(Source(str(EXAMPLES / case.base / "case.air"), case.text))
        except Unreadable:
            continue
        reached += 1
    assert 12 <= reached < 40


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(10, 14))
def test_many_more_checks_have_an_answer(runner: fuzz.Runner, seed: int) -> None:
    found = statuses(runner, 1000, seed, fuzz.CHECKS)
    assert found[0] + found[1] >= 300


@pytest.mark.slow
def test_deeper_commands_have_an_answer(tmp_path: Path) -> None:
    found = statuses(fuzz.Runner(tmp_path, fuzz.LONGEST_DEEP), 150, 10, fuzz.DEEP)
    assert found[0] + found[1] >= 30


def test_what_must_not_be_is_seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    runner = fuzz.Runner(tmp_path, 0.05)
    case = fuzz.Case(GRAMMAR.texts["teaching-board"], "teaching-board", fuzz.CHECKS[0])

    def endless(words: list[str]) -> int:
        while True:
            pass

    monkeypatch.setattr(cli, "main", endless)
    assert runner.run(case) == (None, "more than 0.05 s of processor time")
    monkeypatch.setattr(cli, "main", lambda words: 3)
    assert runner.run(case).status == 3
    monkeypatch.setattr(cli, "main", lambda words: print("Traceback (most recent call last)") or 1)
    assert runner.run(case).trouble == "a traceback is printed"
    monkeypatch.setattr(cli, "main", lambda words: 2)
    assert runner.run(case).trouble == "status 2 without a word"
    monkeypatch.setattr(cli, "main", lambda words: 1 // 0)
    assert runner.run(case).trouble.startswith("ZeroDivisionError")
