"""A study's answer and a run's trace kept with their circuit: plots, tables and clauses share one simulation."""

from collections.abc import Callable, Hashable, Mapping, Sequence
from dataclasses import fields, is_dataclass
from functools import wraps
from inspect import signature
from typing import Any, Concatenate, ParamSpec, TypeVar

from circuit import sim
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Script, Variant

Asked = ParamSpec("Asked")
Result = TypeVar("Result")


def once(study: Callable[Concatenate[Circuit, Asked], Result]) -> Callable[Concatenate[Circuit, Asked], Result]:
    """A study that is worked out once for each circuit and each way of asking; what it raises is not kept."""
    ways = signature(study)

    @wraps(study)
    def asked(circuit: Circuit, *more: Asked.args, **named: Asked.kwargs) -> Result:
        asking = ways.bind(circuit, *more, **named)
        asking.apply_defaults()
        asked_for = list(asking.arguments.values())[1:]
        return circuit.answers.once(_question(study, *asked_for), lambda: study(circuit, *more, **named))

    return asked  # type: ignore[return-value]


def simulate(circuit: Circuit, script: Script, until: float, **how: Any) -> Trace:
    """As `sim.simulate`, but what is played once is not played again for the same circuit."""
    return circuit.answers.once(_question(simulate, script, until, how),
                                lambda: sim.simulate(circuit, script, until, **how))


def simulate_many(circuit: Circuit, script: Script, variants: Sequence[Variant], until: float, **how: Any) -> list[Trace]:
    """As `sim.simulate_many`, but what is played once is not played again for the same circuit."""
    return circuit.answers.once(_question(simulate_many, script, tuple(variants), until, how),
                                lambda: sim.simulate_many(circuit, script, variants, until, **how))


def _question(*parts: object) -> Hashable:
    return tuple(map(_named, parts))


def _named(value: Any) -> Hashable:
    """A value, or what stands for one that cannot be looked up: its type and all that is in it."""
    if isinstance(value, Mapping):
        return frozenset((key, _named(each)) for key, each in value.items())
    if is_dataclass(value) and not isinstance(value, type):
        return type(value), *(_named(getattr(value, each.name)) for each in fields(value))
    if isinstance(value, tuple | list):
        return type(value), *map(_named, value)
    found: Hashable = value
    return found
