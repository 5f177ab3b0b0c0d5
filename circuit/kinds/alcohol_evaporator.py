"""Alcohol evaporator: lets alcohol vapour into the air so that what water is left does not freeze."""

from circuit.declaring.common import DELIVERY, LARGE, MODEST, OPEN_WAY, SUPPLY, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Store
from circuit.declaring.symbol import Ring, Symbol, line
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="alcohol-evaporator",
    title="Alcohol evaporator",
    group=Group.SOURCE,
    purpose="Keeps the little water that is left from freezing in the valves.",
    behaviour="Air passes both ways over a bowl of alcohol and carries its vapour along; 7 is the filler. It does not "
              "change the pressure, and its vapour spoils desiccant, so it never stands before a dryer.",
    ports=(
        SUPPLY,
        DELIVERY,
        Port("7", Role.SPACE, ("antifreeze", "filler"), required=False),
    ),
    settings=(conductance("12 L/(s.bar)"),),
    passages=(OPEN_WAY,),
    stores=(Store("1", LARGE), Store("2", LARGE)),
    failures=(
        Failure("empty", "no guard against frost"),
        Failure("cap-leaks", "leaks at its filler cap", opens=(("2", OUTSIDE),), share=MODEST),
    ),
    traits=frozenset({Trait.ADDS_ANTIFREEZE}),
    aliases=("methanol-evaporator",),
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2), "7": (3, 0)}, body="none", marks=(
        line((0, 2), (6, 2)), Ring((3, 2), 1.6), line((3, 0), (3, 0.9)), line((1.8, 2.6), (4.2, 2.6)),
        line((2.5, 1.3), (3, 0.9), (3.5, 1.3)),
    )),
    stage=4,
    turns=(("1", "2"),),
    rows=(10,),
)
