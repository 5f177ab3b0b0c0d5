"""Pressure limiting, or reducing, valve: passes air on up to a set pressure and no further."""

from circuit.declaring.common import DELIVERY, DELIVERY_LEAKS_OUT, EXHAUST, MEDIUM, STUCK_SHUT, SUPPLY, conductance, lap
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Setting, Store
from circuit.declaring.symbol import Symbol, arrow, line, pilot, upright_spring
from circuit.declaring.traits import Group

KIND = Kind(
    name="pressure-limiting-valve",
    title="Pressure limiting valve",
    group=Group.GUARD,
    purpose="Gives doors, seats, clutches or a brake lock no more pressure than they are made for.",
    behaviour="Feeds 2 from 1 until 2 holds the set pressure; vents 2 to 3 when it rises above that. When 1 is "
              "emptied, the air of 2 goes back with it.",
    ports=(SUPPLY, DELIVERY, EXHAUST),
    settings=(
        Setting("limits-to", "pressure", "highest pressure at 2", required=True),
        lap("0.2 bar"),
        conductance("6 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 2 is below the set pressure",
                lambda p, s, x: min(s["limits-to"] - p["2"], p["1"] - p["2"])),
        Passage("2", "1", "open while 1 is below 2", lambda p, s, x: p["2"] - p["1"]),
        Passage("2", "3", "open while 2 is above the set pressure", lambda p, s, x: p["2"] - s["limits-to"] - s["lap"]),
    ),
    graduated=(Graduated("1", "2"),),
    stores=(Store("1", MEDIUM), Store("2", MEDIUM)),
    failures=(
        Failure("does-not-limit", "drifts or sticks open: 2 gets all of 1", opens=(("1", "2"),), shuts=(("2", "3"),)),
        Failure("no-relief", "a rise at 2 is not vented", shuts=(("2", "3"),)),
        STUCK_SHUT,
        DELIVERY_LEAKS_OUT,
        Failure("set-high", "its setting has drifted up", scales={"limits-to": 1.2}),
    ),
    aliases=("pressure-reducing-valve", "pressure-regulator", "limiting-valve"),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), upright_spring(2, -1.5, 0, 0.4), line((1.4, -1.5), (2.6, -1.5)),
        pilot((3.2, 2), (3.2, 3.2), (2, 3.2)), line((2, 3.2), (2, 4)),
    )),
    stage=6,
    turns=(("1", "2"),),
    rows=(27,),
)
