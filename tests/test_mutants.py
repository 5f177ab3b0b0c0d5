"""The bench of mutants: what it changes, what it leaves alone, and that it sees both a test that fails and one that passes."""

import ast
import importlib.util
import sys
from pathlib import Path

import pytest

BENCH = Path(__file__).resolve().parent / "benchmarks" / "mutants.py"
CODE = b'''"""A docstring with 3 numbers."""
SIZE: tuple[int, int] = (1, 2)
WORDS = ("1", "8 L/(s.bar)", "a horn", "2 ways of saying it", f"{SIZE} 4")
MARK = Symbol(6, 4, marks=(line((0, 1), (2, 1)),), grows="2")


def more(a: int, b: int = 5) -> int:
    """Docstring with 1 < 2."""
    if a < b and b:
        note(a)
    return a + min(a, b)
'''


@pytest.fixture(scope="module")
def bench():
    spec = importlib.util.spec_from_file_location("mutants", BENCH)
    module = importlib.util.module_from_spec(spec)
    sys.modules["mutants"] = module
    spec.loader.exec_module(module)
    yield module
    del sys.modules["mutants"]


def changes(bench) -> list[tuple[int, str, str]]:
    return sorted((m.line, CODE[m.start:m.end].decode().strip(), m.text.strip()) for m in bench.mutants_of("a.py", CODE))


def test_each_sort_of_change_is_made_and_only_where_code_decides_something(bench):
    assert changes(bench) == sorted([
        (2, "1", "2"), (2, "2", "3"), (3, '"1"', "'2'"), (3, '"8 L/(s.bar)"', "'9 L/(s.bar)'"),
        (3, '"2 ways of saying it"', "'3 ways of saying it'"), (7, "5", "6"), (9, "<", ">="), (9, "and", "or"),
        (9, "a < b and b", "(not (a < b and b))"), (10, "note(a)", "pass"), (11, "+", "-"), (11, "min", "max"),
        (11, "a + min(a, b)", "None"),
    ])


@pytest.mark.parametrize("room", ["model", "gas", "kinds", "draw"])
def test_every_mutant_of_a_room_is_another_program_that_can_be_read(bench, room):
    every = bench.drawn(room, 10**6, 1)
    assert len(every) > 200
    for mutant in every[::50]:
        text = (bench.ROOT / mutant.path).read_bytes()
        other = text[:mutant.start] + mutant.text.encode() + text[mutant.end:]
        assert ast.dump(ast.parse(other)) != ast.dump(ast.parse(text)), mutant


def test_a_seed_draws_the_same_again_and_another_seed_others(bench):
    assert bench.drawn("gas", 30, 7) == bench.drawn("gas", 30, 7) != bench.drawn("gas", 30, 8)


def test_what_the_tests_see_is_killed_and_what_they_do_not_see_lives(bench, tmp_path, monkeypatch):
    root = tmp_path / "checkout"
    (root / "circuit" / "room").mkdir(parents=True)
    (root / "tests" / "room").mkdir(parents=True)
    code = root / "circuit" / "room" / "sums.py"
    code.write_text("def seen():\n    return True\n\n\ndef unseen():\n    return True\n")
    (root / "circuit" / "__init__.py").write_text("")
    (root / "tests" / "room" / "test_sums.py").write_text(
        "from circuit.room.sums import seen\n\n\ndef test_seen():\n    assert seen()\n")
    monkeypatch.setattr(bench, "ROOT", root)
    copy = bench.Bench(tmp_path / "copy")
    found = bench.held("room", [copy], 30, 1)
    copy.close()
    assert (found["mutants"], found["killed"]) == (2, 1)
    assert code.read_text().startswith("def seen():\n    return True\n"), "the checkout itself is never touched"
