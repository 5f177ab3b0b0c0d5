"""Trials as written: a start state, what is done and what is expected. A simulation runs them."""

from collections.abc import Callable
from typing import Any, NamedTuple

from circuit.mistake import Mistake
from circuit.model.forms import ACTIONS, TRIAL_WORDS
from circuit.model.settings import read
from circuit.near import did_you_mean
from circuit.source import Span
from circuit.syntax.statements import Name, Statement


class Step(NamedTuple):
    """One row of a trial. action: start, press, expect, ...; names: the things; settings: SI values by name."""

    action: str
    names: tuple[str, ...]
    settings: dict[str, Any]
    span: Span


class Trial(NamedTuple):
    name: str
    steps: tuple[Step, ...]
    span: Span


def read_trial(statement: Statement, exists: Callable[[Name], bool], mistakes: list[Mistake]) -> Trial | None:
    """A trial block with its actions, names and quantities checked."""
    if len(statement.names) != 1 or statement.block is None:
        mistakes.append(Mistake(statement.span, "a trial has one name and a block of steps",
                                "write trial full-application { ... }"))
        return None
    steps = []
    for inner in statement.block:
        if inner.broken:
            continue
        action = inner.kind.text
        if action not in ACTIONS:
            mistakes.append(Mistake(inner.kind.span, f"a trial cannot `{action}`",
                                    did_you_mean(action, ACTIONS) or "it can " + ", ".join(ACTIONS)))
            continue
        values, _ = read(inner, ACTIONS[action], action, mistakes)
        subjects = inner.names or _line(inner)
        if not subjects:
            mistakes.append(Mistake(inner.span, f"`{action}` needs a name", f"write {action} NAME: ..."))
        for name in subjects:
            if name.text not in TRIAL_WORDS:
                exists(name)
        if action == "expect" and inner.setting("pressure") is None and inner.setting("state") is None:
            mistakes.append(Mistake(inner.span, "`expect` needs what to expect",
                                    "write pressure at least 60 psi, or state on"))
        steps.append(Step(action, tuple(n.text for n in subjects), values, inner.span))
    return Trial(statement.names[0].text, tuple(steps), statement.span)


def _line(statement: Statement) -> tuple[Name, ...]:
    """A line that has no name of its own, by its ends."""
    if statement.ends is None:
        return ()
    one, other = statement.ends
    return (Name(f"{one.text} -> {other.text}", one.span.to(other.span)),)
