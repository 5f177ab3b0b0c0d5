"""Questions that clauses ask of pressures over time or of single faults, one file each.

A file is found by its name; there is no list to edit. It reads procedure and limit of the clause that asks, and knows no
standard.
"""

import os
from functools import cache
from importlib import import_module

from circuit.judging.question import Question


@cache
def names() -> tuple[str, ...]:
    """Every question, sorted; none of the files is read for it."""
    found = (name[:-3] for name in os.listdir(os.path.dirname(__file__)) if name.endswith(".py") and name != "__init__.py")
    return tuple(sorted(name.replace("_", "-") for name in found))


@cache
def find(name: str) -> Question | None:
    """The question of a name, or None."""
    if name not in names():
        return None
    module = name.replace("-", "_")
    found: Question = import_module(f"circuit.questions.{module}").QUESTION
    if found.name != name:
        raise ValueError(f"circuit/questions/{module}.py answers {found.name}: file and question must bear one name")
    return found
