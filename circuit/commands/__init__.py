"""The commands of `airwright`, one file each. A file is found by its name; there is no list to edit.

A command is a module with `HELP` (one line), `arguments(parser)` and `run(options) -> exit status`. Nothing is decided in
one: it calls the library and prints.
"""

from importlib import import_module
from pathlib import Path
from types import ModuleType

_NOT_COMMANDS = {"__init__", "say"}


def names() -> tuple[str, ...]:
    """Every command's name, sorted."""
    found = (path.stem for path in Path(__file__).resolve().parent.glob("*.py"))
    return tuple(sorted(name.replace("_", "-") for name in found if name not in _NOT_COMMANDS))


def command(name: str) -> ModuleType:
    """The module of a command."""
    return import_module(f"circuit.commands.{name.replace('-', '_')}")
