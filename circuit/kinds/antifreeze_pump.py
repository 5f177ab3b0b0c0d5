"""Antifreeze pump: gives a measured drop of antifreeze into the line at each pumping of the compressor."""

from circuit.declaring.common import DELIVERY, LARGE, MODEST, OPEN_WAY, SMALL, SUPPLY, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Store
from circuit.declaring.symbol import Ring, Symbol, line, pilot
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="antifreeze-pump",
    title="Antifreeze pump",
    group=Group.SOURCE,
    purpose="Sprays a little antifreeze into the air at each pumping, so that valves do not freeze.",
    behaviour="Air passes both ways; at each rise of pressure at 4 a measured drop goes in from the store at 7. It "
              "does not change the pressure, and antifreeze spoils desiccant, so it never stands before a dryer.",
    ports=(
        SUPPLY,
        DELIVERY,
        Port("4", Role.CONTROL, ("control",), required=False),
        Port("7", Role.SPACE, ("antifreeze", "filler"), required=False),
    ),
    settings=(conductance("12 L/(s.bar)"),),
    passages=(OPEN_WAY,),
    stores=(Store("1", LARGE), Store("2", LARGE), Store("4", SMALL)),
    failures=(
        Failure("empty", "no guard against frost"),
        Failure("cap-leaks", "leaks at its filler cap", opens=(("2", OUTSIDE),), share=MODEST),
    ),
    traits=frozenset({Trait.ADDS_ANTIFREEZE}),
    aliases=("frost-protection-pump", "alcohol-injector"),
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2), "4": (1, 0), "7": (3, 0)}, body="none", marks=(
        line((0, 2), (6, 2)), Ring((3, 2), 1.6), line((3, 0), (3, 0.9)), line((1.8, 2.6), (4.2, 2.6)),
        line((2.5, 1.3), (3, 0.9), (3.5, 1.3)), pilot((1, 0), (1, 2)),
    )),
    stage=4,
    turns=(("1", "2"),),
    rows=(10,),
)
