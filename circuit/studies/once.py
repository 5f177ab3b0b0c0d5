"""A study's answer kept with the circuit that it is about, so that plots, tables and clauses share one simulation."""

from collections.abc import Callable
from functools import wraps
from typing import Concatenate, ParamSpec, TypeVar

from circuit.model.circuit import Circuit

Asked = ParamSpec("Asked")
Result = TypeVar("Result")


def once(study: Callable[Concatenate[Circuit, Asked], Result]) -> Callable[Concatenate[Circuit, Asked], Result]:
    """A study that is worked out once for each circuit and each way of asking; what it raises is not kept."""

    @wraps(study)
    def asked(circuit: Circuit, *more: Asked.args, **named: Asked.kwargs) -> Result:
        answers = circuit.__dict__.setdefault("_answers", {})
        key = (study, more, tuple(sorted(named.items())))
        if key not in answers:
            answers[key] = study(circuit, *more, **named)
        answer: Result = answers[key]
        return answer

    return asked  # type: ignore[return-value]
