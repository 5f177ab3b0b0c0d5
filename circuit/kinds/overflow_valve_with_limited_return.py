"""Overflow valve with limited return: guards its feed, and gives air back down to a pressure 2 keeps for itself."""

from circuit.declaring.common import COMMON, DELIVERY, SMALL, SUPPLY, conductance
from circuit.declaring.kind import KEEPS, Kind, Ordered, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, line
from circuit.declaring.traits import Group, Trait
from circuit.kinds.overflow_valve_with_return import FAILURES, FORWARD, MARKS, OPENS, OVERFLOW

KIND = Kind(
    name="overflow-valve-with-limited-return",
    title="Overflow valve with limited return",
    group=Group.GUARD,
    purpose="Fills a second user only while the first has enough, and lets the second help the first a little.",
    behaviour="Shut until 1 reaches the opening pressure; shuts again when 1 has fallen to the closing pressure. While "
              "2 is above 1 its air goes back, but only down to the return pressure; the rest stays with 2.",
    ports=(SUPPLY, DELIVERY._replace(lost=KEEPS)),
    settings=(
        *OVERFLOW,
        Setting("returns-down-to", "pressure", "pressure that 2 keeps for itself",
                Typical("5.5 bar", COMMON + ": near the closing pressure")),
        conductance("7 L/(s.bar)"),
    ),
    passages=(
        FORWARD,
        Passage("2", "1", "open while 2 is above 1 and above the return pressure", keeps="returns-down-to",
                opening=lambda p, s, x: min(p["2"] - p["1"], p["2"] - s["returns-down-to"])),
    ),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    latches=(OPENS,),
    failures=FAILURES,
    traits=frozenset({Trait.KEEPS_BACK}),
    aliases=("charging-valve-with-limited-return",),
    rest={"open": 0.0},
    orders=(Ordered("shuts-at", "opens-at"),),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2)}, marks=(*MARKS, line((2.2, 0.4), (2.2, 1.2)))),
    stage=4,
    turns=(("1", "2"),),
    rows=(26,),
)
