"""Test point: lets a workshop read the pressure of its space without opening a line."""

from circuit.declaring.common import LEAKS_AT_THREAD, ON, THREAD
from circuit.declaring.kind import Failure, Kind, Port, Store
from circuit.declaring.symbol import Symbol, line
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="test-point",
    title="Test point",
    group=Group.GUARD,
    purpose="Lets a workshop read the pressure of its space without opening a line.",
    behaviour="Capped; opens only for a test hose.",
    ports=(Port("4", Role.SPACE, ("sense",)),),
    settings=(
        ON,
    ),
    stores=(Store("4", THREAD),),
    failures=(
        Failure("cap-lost", "dirt gets in"),
        LEAKS_AT_THREAD,
    ),
    traits=frozenset({Trait.TESTS_PRESSURE}),
    symbol=Symbol(2, 2, {"4": (1, 2)}, body="none", marks=(
        line((1, 2), (1, 1.1)), line((0.4, 1.1), (1.6, 1.1)), line((0.6, 0.2), (1.4, 1.0)), line((0.6, 1.0),
        (1.4, 0.2)),
    )),
    stage=5,
    small=True,
    rows=(34,),
)
