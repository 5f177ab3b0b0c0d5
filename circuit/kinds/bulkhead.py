"""Bulkhead fitting: takes a line through a wall or a frame rail."""

from circuit.declaring.common import OPEN_WAY, PILOT
from circuit.declaring.kind import Kind, Port, Store
from circuit.declaring.symbol import Symbol, line, thick
from circuit.declaring.traits import Group, Role
from circuit.kinds.elbow import BORE, CONDUCTANCE, LOOSE, like_line

KIND = Kind(
    name="bulkhead",
    title="Bulkhead fitting",
    group=Group.LINES,
    purpose="Takes a line through a wall without chafing, and gives a place to part it.",
    behaviour="Always open; it lets through as much as 0.3 m of straight line of its bore.",
    ports=(Port("1", Role.SPACE, ("one",)), Port("2", Role.SPACE, ("other",))),
    settings=(BORE, CONDUCTANCE),
    passages=(OPEN_WAY,),
    stores=(Store("1", PILOT), Store("2", PILOT)),
    failures=(LOOSE,),
    derive=like_line(lambda bore: 0.3),
    symbol=Symbol(2, 2, {"1": (0, 1), "2": (2, 1)}, body="none", marks=(
        line((0, 1), (2, 1)), thick((1, -0.4), (1, 2.4)),
    )),
    stage=7,
    rows=(82,),
)
