"""Every class of mistake there is an operator for."""

from circuit.plant import joined, misset, missing, sized, towing, treated, turned
from circuit.plant.planting import Operator

OPERATORS: tuple[Operator, ...] = (
    *turned.OPERATORS, *missing.OPERATORS, *joined.OPERATORS, *misset.OPERATORS, *sized.OPERATORS,
    *towing.OPERATORS, *treated.OPERATORS,
)


MOST_LEVEL = 5
"""Two mistakes in one design."""
_SEEN, _FOLLOWED, _PRESSURE, _TIME = 1, 2, 3, 4
_LEVELS = {
    **{each.name: _SEEN for each in missing.OPERATORS},
    **{each.name: _FOLLOWED for each in (*turned.OPERATORS, *joined.OPERATORS, *towing.OPERATORS, *treated.OPERATORS)},
    **{each.name: _PRESSURE for each in misset.OPERATORS},
    **{each.name: _TIME for each in sized.OPERATORS},
    **dict.fromkeys(("cock-shut", "discharge-dips", "tube-hot", "discharge-plastic", "tube-moves", "tube-bent", "line-weak",
                     "drain-high", "exhaust-plugged", "chambers-unequal"), _SEEN),
    "axles-exchanged": _FOLLOWED,
}


def level_of(operator: Operator) -> int:
    """What finding a mistake of a class takes: 1 a rule at sight, 2 a path followed, 3 a pressure, 4 volumes and times."""
    return _LEVELS[operator.name]


def of_level(level: int) -> tuple[Operator, ...]:
    """The classes of a level; of MOST_LEVEL all."""
    return tuple(each for each in OPERATORS if level in (MOST_LEVEL, level_of(each)))


def named(name: str) -> Operator | None:
    """The operator of a class of mistakes, or None."""
    return next((operator for operator in OPERATORS if operator.name == name), None)
