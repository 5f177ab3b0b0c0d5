"""The commands of `airwright`, one file each. A file is found by its name; there is no list to edit.

A command is a module with `GROUP` (a key of `GROUPS`), `HELP` (one line), `arguments(parser)` and `run(options) -> exit
status`. Nothing is decided in one: it calls the library and prints.
"""

import os
from importlib import import_module

TYPE_CHECKING = False
if TYPE_CHECKING:
    from types import ModuleType

GROUPS = {
    "hold": "to hold a plan to the rules",
    "hand-in": "to see it and hand it in",
    "ask": "to ask what the pressures do (all predicted)",
    "write": "to write and to teach",
}
"""What commands are for, in the order in which they are listed."""


def names() -> tuple[str, ...]:
    """Every command's name, sorted."""
    found = (name[:-3] for name in os.listdir(os.path.dirname(__file__)) if name.endswith(".py") and name != "__init__.py")
    return tuple(sorted(name.replace("_", "-") for name in found))


def command(name: str) -> "ModuleType":
    """The module of a command."""
    return import_module(f"circuit.commands.{name.replace('-', '_')}")
