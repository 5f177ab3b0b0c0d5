"""Pressure protection valve: lets an auxiliary have air only while the brakes have enough."""

from circuit.declaring.common import COMMON, DELIVERY, OPENS_LOW, SEAT_LEAKS, SMALL, SUPPLY, conductance
from circuit.declaring.kind import KEEPS, Failure, Kind, Latch, Ordered, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, upright_spring
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="pressure-protection-valve",
    title="Pressure protection valve",
    group=Group.GUARD,
    purpose="Keeps a burst auxiliary line from emptying the reservoir that feeds it.",
    behaviour="Shut until 1 reaches the opening pressure; shuts again when 1 has fallen to the closing pressure, "
              "whatever happens at 2. Air does not return from 2.",
    ports=(SUPPLY, DELIVERY._replace(lost=KEEPS)),
    settings=(
        Setting("opens-at", "pressure", "pressure at 1 that opens it",
                Typical("5.9 bar", COMMON + ": 55 to 105 psi in steps", "55 psi", "105 psi")),
        Setting("shuts-at", "pressure", "pressure at 1 at which it has shut again",
                Typical("5.2 bar", COMMON + ": 5 to 15 psi below opening")),
        conductance("7 L/(s.bar)"),
    ),
    passages=(Passage("1", "2", "open from the opening down to the closing pressure, and only towards 2",
                      lambda p, s, x: min(p["1"] - (s["shuts-at"] if x["open"] else s["opens-at"]), p["1"] - p["2"]),
                      keeps="shuts-at"),),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    latches=(Latch("open", lambda p, s: p["1"] - s["opens-at"], lambda p, s: s["shuts-at"] - p["1"]),),
    failures=(
        Failure("stuck-open", "no protection", opens=(("1", "2"),)),
        Failure("stuck-shut", "the auxiliary gets no air", shuts=(("1", "2"),)),
        SEAT_LEAKS, OPENS_LOW,
    ),
    traits=frozenset({Trait.KEEPS_BACK}),
    aliases=("overflow-valve",),
    rest={"open": 0.0},
    orders=(Ordered("shuts-at", "opens-at"),),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2)}, marks=(
        *arrow((0, 2), (4, 2)), upright_spring(2, -1.4, 0, 0.4), line((1.4, -1.4), (2.6, -1.4)),
        pilot((0.8, 2), (0.8, 3.3), (2, 3.3), (2, 2.4)),
    )),
    stage=4,
    turns=(("1", "2"),),
    rows=(25,),
)
