"""Rotary seal: carries air from an axle into a turning hub."""

from circuit.declaring.common import HEAVY, OPEN_WAY, SMALL, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Store
from circuit.declaring.symbol import Curve, Ring, Symbol, line
from circuit.declaring.traits import Group, Role

KIND = Kind(
    name="rotary-seal",
    title="Rotary seal",
    group=Group.LINES,
    purpose="Joins a line that stands still with one that turns with the wheel.",
    behaviour="Always open both ways; its lips wear, so it is charged only while a tyre is being filled or emptied.",
    ports=(Port("1", Role.SUPPLY, ("axle",)), Port("2", Role.DELIVERY, ("hub",))),
    settings=(conductance("2 L/(s.bar)"),),
    passages=(OPEN_WAY,),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("worn", "its lips leak while the line is charged", opens=(("1", OUTSIDE),), share=HEAVY),
        Failure("torn", "a lip is torn: the line cannot be charged", opens=(("1", OUTSIDE),)),
    ),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2)}, body="none", marks=(
        line((0, 2), (1, 2)), line((3, 2), (4, 2)), Ring((2, 2), 1), Curve(((1.2, 0.6), (2, 0.1), (2.8, 0.6))),
        line((2.4, 0.1), (2.8, 0.6), (2.2, 0.8)),
    )),
    stage=11,
    rows=(86,),
)
