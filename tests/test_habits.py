"""Habits that nobody has to remember: lint, types, examples in docstrings, a version with its list of changes."""

import re
import subprocess
import sys
import tomllib
from importlib.metadata import version
from pathlib import Path

import pytest

import circuit
from tests import doctests

ROOT = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
PINNED = dict(tool.split("==") for tool in PROJECT["optional-dependencies"]["lint"])


def said_by(*command: str) -> tuple[int, str]:
    """Exit status and words of a tool that runs on this interpreter, from the root."""
    done = subprocess.run([sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True)
    return done.returncode, done.stdout + done.stderr


@pytest.mark.parametrize("tool", ["ruff", "mypy"])
def test_the_tools_are_the_pinned_ones(tool: str):
    assert version(tool) == PINNED[tool], "pip install -e '.[lint]' brings the version that pyproject.toml pins"


def test_ruff_finds_nothing():
    assert said_by("ruff", "check", "--quiet", ".") == (0, "")


def test_mypy_finds_nothing():
    status, says = said_by("mypy")
    assert status == 0 and re.search(r"no issues found in \d{3} source files", says), says


MODULES = doctests.modules()


@pytest.mark.parametrize("module", MODULES)
def test_examples_in_docstrings_hold(module: str):
    doctests.run(module)


def test_an_example_that_does_not_hold_is_seen(monkeypatch: pytest.MonkeyPatch):
    assert len(MODULES) >= 16
    from circuit.gas import flow

    monkeypatch.setattr(flow.from_area, "__doc__", ">>> round(from_area(1e-6) * 1e8, 4)\n0.2\n")
    with pytest.raises(AssertionError, match="gives 0.1992, and its docstring says 0.2"):
        doctests.run("circuit.gas.flow")


def test_the_list_of_changes_begins_with_this_version():
    heads = re.findall(r"^## (\d+\.\d+\.\d+)", (ROOT / "CHANGELOG.md").read_text(encoding="utf-8"), re.MULTILINE)
    assert heads[0] == circuit.__version__ and len(heads) >= 2
    numbers = [tuple(map(int, head.split("."))) for head in heads]
    assert numbers == sorted(set(numbers), reverse=True), "each version once, the newest first"


def test_the_pythons_named_are_those_it_asks_for():
    named = [tuple(map(int, word.rpartition(" ")[2].split("."))) for word in PROJECT["classifiers"]
             if word.startswith("Programming Language :: Python :: 3.")]
    least = tuple(map(int, PROJECT["requires-python"].removeprefix(">=").split(".")))
    assert min(named) == least and sys.version_info[:2] in named
