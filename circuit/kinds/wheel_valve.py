"""Wheel valve: shuts a tyre off from its inflation line while the line is empty."""

from circuit.declaring.common import COMMON, SMALL, conductance
from circuit.declaring.kind import KEEPS, Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, line, pilot
from circuit.declaring.traits import Group, Role

KIND = Kind(
    name="wheel-valve",
    title="Wheel valve",
    group=Group.LINES,
    purpose="Keeps a tyre's air when the line or the seal to it fails.",
    behaviour="Air passes both ways while the line at 1 is charged; with it vented, 2 keeps its air.",
    ports=(Port("1", Role.SUPPLY, ("line",)), Port("2", Role.DELIVERY, ("tyre",), lost=KEEPS)),
    settings=(
        Setting("opens-at", "pressure", "pressure in the line that opens it",
                Typical("0.7 bar", COMMON + ": below the lowest tyre pressure")),
        conductance("1 L/(s.bar)"),
    ),
    passages=(Passage("1", "2", "open while the line is charged", lambda p, s, x: p["1"] - s["opens-at"], True,
                      keeps="opens-at"),),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("stuck-open", "does not shut: a broken line empties the tyre", opens=(("1", "2"), ("2", "1"))),
        Failure("stuck-shut", "this tyre is neither filled nor emptied", shuts=(("1", "2"),)),
    ),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2)}, marks=(
        line((0, 2), (1.4, 2)), line((2.6, 2), (4, 2)), Ring((2, 2), 0.6), pilot((0.8, 2), (0.8, 0.8), (2, 0.8), (2,
        1.4)),
    )),
    stage=12,
    turns=(("1", "2"),),
    rows=(86,),
)
