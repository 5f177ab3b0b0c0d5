"""Rules, one file per fault. A file that declares a RULE is a rule; there is no list to edit."""

from functools import cache
from importlib import import_module
from pathlib import Path

from circuit.judging.rule import Rule


@cache
def every() -> tuple[Rule, ...]:
    """All rules, sorted by name."""
    found = []
    for path in sorted(Path(__file__).resolve().parent.glob("*.py")):
        if path.stem == "__init__":
            continue
        rule: Rule = import_module(f"circuit.rules.{path.stem}").RULE
        if rule.name != path.stem.replace("_", "-"):
            raise ValueError(f"circuit/rules/{path.name} declares the rule {rule.name}: file and rule name must agree")
        found.append(rule)
    return tuple(found)


def find(name: str) -> Rule | None:
    """The rule of a name, or None."""
    return next((rule for rule in every() if rule.name == name), None)
