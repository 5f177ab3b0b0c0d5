"""The examples in docstrings of the package, run as tests: `>>>` lines and what stands under them."""

import doctest
import importlib
from pathlib import Path

import circuit

PACKAGE = Path(circuit.__file__).resolve().parent


def modules(room: str = "") -> list[str]:
    """The modules of a room, or of the whole package, whose text holds an example."""
    return [".".join(path.relative_to(PACKAGE.parent).with_suffix("").parts) for path in sorted((PACKAGE / room).rglob("*.py"))
            if ">>> " in path.read_text(encoding="utf-8")]


def run(module: str) -> None:
    """Runs a module's examples. Raises AssertionError with the first that gives something else, or where none ran."""
    parser = doctest.DocTestFinder(exclude_empty=True)
    runner = doctest.DebugRunner(verbose=False)
    for example in parser.find(importlib.import_module(module)):
        try:
            runner.run(example)
        except doctest.DocTestFailure as failure:
            raise AssertionError(
                f"{module}, {example.name}: {failure.example.source.strip()} gives {failure.got.strip()}, "
                f"and its docstring says {failure.example.want.strip()}") from None
    assert runner.tries, f"no example of {module} ran"
