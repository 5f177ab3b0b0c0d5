"""Trailer spring brake valve: fills the trailer's reservoirs and holds its springs off from the supply line."""

from circuit.declaring.common import COMMON, EXHAUST, LARGE, SLIGHT, STRONG, SUPPLY, conductance
from circuit.declaring.kind import KEEPS, VENTS, Failure, Kind, Latch, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line, upright_spring
from circuit.declaring.traits import Group, Role, Trait


def _filling(p, s, x):
    shut = s["shuts-at"] if x["filling"] else s["opens-at"]
    return min(p["1"] - p["21"], p["1"] - shut)


KIND = Kind(
    name="trailer-spring-brake-valve",
    title="Trailer spring brake valve",
    group=Group.TOWING,
    purpose="Releases the trailer's springs and fills its reservoirs from the supply line, and sets the springs when "
            "that line is lost.",
    behaviour="Feeds the springs at 22 from 1 through a check. Feeds the reservoirs at 21 through a check and a "
              "protection valve that shuts when 1 falls to its closing pressure, so a burst reservoir cannot pull the "
              "springs' air down. When 1 falls below its venting pressure, 22 is emptied to 3.",
    ports=(
        SUPPLY,
        Port("21", Role.DELIVERY, ("reservoir",), holes_from="deliveries", lost=KEEPS),
        Port("22", Role.DELIVERY, ("spring",), lost=VENTS),
        EXHAUST,
    ),
    settings=(
        Setting("order", "word", "which is filled first", Typical("springs-first", COMMON),
                choices=("springs-first", "tanks-first")),
        Setting("opens-at", "pressure", "supply pressure from which the reservoirs are filled",
                Typical("5.2 bar", COMMON)),
        Setting("shuts-at", "pressure", "supply pressure at which filling stops", Typical("4.9 bar", COMMON)),
        Setting("vents-below", "pressure", "supply pressure below which the springs are let on",
                Typical("3.1 bar", COMMON + ": 20 to 45 psi", "20 psi", "45 psi")),
        Setting("deliveries", "count", "how many holes the reservoir port has", Typical("2", COMMON)),
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "21", "open from the opening down to the closing pressure, and only towards 21", _filling,
                keeps="shuts-at"),
        Passage("1", "22", "open while 1 is above 22",
                lambda p, s, x: min(p["1"] - p["22"], p["1"] - s["vents-below"])),
        Passage("22", "3", "open while 1 is below the venting pressure", lambda p, s, x: s["vents-below"] - p["1"]),
    ),
    stores=(Store("1", LARGE), Store("21", LARGE), Store("22", LARGE)),
    latches=(Latch("filling", lambda p, s: p["1"] - s["opens-at"], lambda p, s: s["shuts-at"] - p["1"]),),
    failures=(
        Failure("springs-stay-on", "does not feed 22", shuts=(("1", "22"),)),
        Failure("no-automatic-brake", "does not vent 22 when the supply is lost", shuts=(("22", "3"),)),
        Failure("tank-check-leaks-back", "reservoir air goes back into the supply line", opens=(("21", "1"),),
        share=STRONG),
        Failure("leaks", "leaks at the exhaust while the springs are off", opens=(("22", "3"),), share=SLIGHT),
        Failure("priority-late", "shuts late: a lost reservoir draws the supply line far down before it is cut off",
                scales={"shuts-at": 0.6}),
    ),
    traits=frozenset({Trait.TRAILER_SUPPLY, Trait.TAKES_SUPPLY_LINE, Trait.KEEPS_BACK}),
    rest={"filling": 0.0},
    orders=(Ordered("vents-below", "shuts-at"), Ordered("shuts-at", "opens-at")),
    symbol=Symbol(6, 6, {"1": (0, 3), "21": (6, 1), "22": (6, 5), "3": (3, 6)}, flips=True, marks=(
        line((0, 3), (2, 3)), *arrow((2, 3), (6, 1)), *arrow((2, 3), (6, 5)), Ring((4, 2), 0.45),
        line((3.5, 2.9), (4.4, 2.4)), upright_spring(2, -1.2, 0, 0.4), line((1.4, -1.2), (2.6, -1.2)), line((2, 0),
        (2, 3)),
    )),
    stage=4,
    turns=(("1", "21"), ("1", "22")),
    rows=(75,),
)
