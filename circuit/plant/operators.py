"""Every class of mistake there is an operator for."""

from circuit.plant import joined, misset, missing, sized, towing, treated, turned
from circuit.plant.planting import Operator

OPERATORS: tuple[Operator, ...] = (
    *turned.OPERATORS, *missing.OPERATORS, *joined.OPERATORS, *misset.OPERATORS, *sized.OPERATORS,
    *towing.OPERATORS, *treated.OPERATORS,
)


def named(name: str) -> Operator | None:
    """The operator of a class of mistakes, or None."""
    return next((operator for operator in OPERATORS if operator.name == name), None)
