"""The compiled kernel against its own text, and the language that the text is written in."""

import json
import subprocess
import sys
from dataclasses import replace
from importlib import import_module
from math import isclose, log
from pathlib import Path
from random import Random

import numpy as np
import pytest

from circuit.sim import Engine, Script, engines, machine, press, release, translate
from circuit.sim.expressions import NotKnown
from circuit.sim.power import power
from circuit.sim.run import prepare, run
from tests.sim.designs import EXAMPLES, example, gauge

ROOT = Path(__file__).resolve().parents[2]
ALL = sorted(path.parent.name for path in EXAMPLES.glob("*/design.air"))


def both(problem):
    """The problem run as plain text and compiled."""
    return [run(problem._replace(options=replace(problem.options, engine=name))) for name in ("plain", "compiled")]


def same(problem):
    plain, compiled = both(problem)
    assert list(plain.times) == list(compiled.times)
    assert np.array_equal(np.array(plain.pressures), np.array(compiled.pressures))
    assert np.array_equal(np.array(plain.rates), np.array(compiled.rates))
    assert plain.events == compiled.events and plain.balance == compiled.balance
    return plain


def charging(name):
    return prepare(example(name), Script(situation="parked"), 60.0, start="empty", engine=Engine(True))


def braking(name):
    circuit = example(name)
    foot = next((d.name for d in circuit.devices if "foot" in d.name and d.kind.when.get("braking")), None)
    moves = (press(foot, 1.0, 0.0), release(foot, 0.6)) if foot else ()
    return prepare(circuit, Script(moves, pressures={"reservoirs": gauge(100)}), 1.2)


@pytest.mark.parametrize("name", ["teaching-board", "truck-6x4"])
def test_the_compiled_kernel_is_its_text_to_the_last_digit(name):
    """Every step, pressure and event; nothing is rounded otherwise."""
    assert same(braking(name)).steps > 20


@pytest.mark.slow
@pytest.mark.parametrize("name", ALL)
def test_of_every_example_the_compiled_kernel_is_its_text(name):
    same(braking(name))
    same(charging(name))


def test_powers_are_those_of_the_library():
    """Against Python's own, over what the kernel raises: pressures' ratios, errors, numbers near 1."""
    random = Random(5)
    for _ in range(5000):
        x, y = 10.0 ** random.uniform(-12.0, 12.0), random.uniform(-3.0, 3.0)
        assert isclose(power(x, y), x**y, rel_tol=4e-16 * (4.0 + abs(y * log(x)))), (x, y)
    assert power(1.0, 0.3) == 1.0


def test_the_text_is_translated_whole():
    """Every function of the kernel, and as many loops two at a time as there are plain ones in it."""
    text = machine.text()
    names = [f.__name__ for part in machine.PARTS for f in import_module(f"circuit.sim.{part}").FUNCTIONS]
    assert all(f"(func ${name} " in text for name in names)
    assert text.count("(block $@pair") >= 12


def refused(line, before=""):
    """What is said of a function with this line."""
    source = f"def it(x: float, n: int, row: list[float]) -> float:\n    {before or 'pass'}\n    {line}\n    return x\n"
    path = Path(refused.folder) / "text.py"
    path.write_text(source)
    space: dict = {}
    exec(compile(source, str(path), "exec"), space)
    with pytest.raises(NotKnown) as said:
        translate.module_text([space["it"]], [], [])
    return str(said.value)


@pytest.mark.parametrize("line", [
    "x, n = x, n", "x = row", "n = 'word'", "del n", "with x: pass", "row.append(x)", "x = [x][0]", "x = sum(row)",
    "n = x", "x = x // 3.0", "x = x ** 2", "n = n % 2", "for n in row: pass", "for n in range(0, 9, 2): pass",
    "import math", "x = (lambda: x)()", "x = row[x]", "try:\n        x = 1.0\n    finally:\n        pass", "assert x",
    "while x > 0.0:\n        break\n    else:\n        x = 1.0", "x = unknown", "x = n if row else x", "x: float = 1.0",
    "x = print(x)", "raise ValueError", "n = min(n, 2)", "x = f'{x}'", "yield x", "x = x.real",
])
def test_what_the_translator_does_not_know_is_refused(line, tmp_path):
    """With file and line; nothing is guessed."""
    refused.folder = tmp_path
    assert refused(line).startswith(f"{tmp_path / 'text.py'}:")


def test_two_at_a_time_only_where_results_do_not_touch():
    """A loop whose results go on into the next place, or are read afterwards, is done one place at a time."""
    code = translate.module_text([_running_total, _apart], [], [])
    before, after = code.split("(func $_apart")
    assert "$@pair" not in before and after.count("(block $@pair") == 1


def _running_total(row: list[float], other: list[float], n: int) -> float:
    total = 0.0
    for i in range(n):
        total = total + row[i]
        other[i] = total
    return total


def _apart(row: list[float], other: list[float], n: int) -> float:
    for i in range(n):
        twice = row[i] + row[i]
        other[i] = max(twice, 1.0)
    return other[0]


def test_the_module_is_kept_between_processes(tmp_path):
    """Translated and compiled once; a later process takes what was kept, and what is broken is made again."""
    code = ("from circuit.sim import machine, translate\n"
            "made = []; whole = translate.module_text\n"
            "translate.module_text = lambda *a: made.append(1) or whole(*a)\n"
            "machine.home(); print(len(made))")

    def process():
        environment = {"XDG_CACHE_HOME": str(tmp_path), "PATH": "/usr/bin:/bin", "HOME": str(tmp_path)}
        return subprocess.run([sys.executable, "-c", code], cwd=ROOT, text=True, capture_output=True, check=True,
                              env=environment).stdout.strip()

    assert [process(), process()] == ["1", "0"]
    for kept in (tmp_path / "airwright").iterdir():
        kept.write_bytes(kept.read_bytes()[:-7])
    assert process() == "1"


def test_an_engine_that_is_none():
    with pytest.raises(ValueError, match="there is no engine `steam`"):
        engines.choose("steam")


def test_the_balance_is_printed_on_request():
    """In words and for other programs; what came in, less what went, is what is held more, but for roundings."""
    command = [sys.executable, "-m", "circuit", "run", str(EXAMPLES / "truck-6x4" / "design.air"), "--balance"]
    said = subprocess.run(command, cwd=ROOT, text=True, capture_output=True, timeout=60).stdout
    assert "Air balance, g: predicted" in said and "with the accuracy asked for" in said
    data = json.loads(subprocess.run([*command, "--format", "json"], cwd=ROOT, text=True, capture_output=True, timeout=60).stdout)
    assert [row["run"] for row in data["balance"]] == ["full-application", "primary-lost"]
    for row in data["balance"]:
        assert row["first"] - row["vented"] + row["made"] + row["fed"] == pytest.approx(row["last"], abs=1e-12)
        assert row["vented"] > 0.01 and abs(row["drift"]) < 1e-12
