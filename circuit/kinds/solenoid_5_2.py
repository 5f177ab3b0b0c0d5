"""Solenoid valve 5/2: feeds one side of a double-acting cylinder and vents the other, by current."""

from circuit.declaring.common import HEAVY, OPEN, PILOT, SHUT, SLIGHT, SMALL, SUPPLY
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store
from circuit.declaring.symbol import Symbol, arrow, line
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.solenoid_2_2 import ALWAYS_ON, BORE_FLOW, BOXES, COIL, DEAD_COIL


def _feeds(outlet):
    return lambda p, s, x: OPEN if (s["without-current"] == outlet) != bool(x["energised"]) else SHUT


def _vents(outlet):
    return lambda p, s, x: SHUT if (s["without-current"] == outlet) != bool(x["energised"]) else OPEN


KIND = Kind(
    name="solenoid-5-2",
    title="Solenoid valve 5/2",
    group=Group.MODULATE,
    purpose="Moves a door or another double-acting cylinder to and fro by a switch.",
    behaviour="Without current the stated one of 21 and 22 is fed from 1 and the other vented; with current they "
              "change places. Each side has an exhaust of its own.",
    ports=(
        SUPPLY,
        Port("21", Role.DELIVERY, ("first",)),
        Port("22", Role.DELIVERY, ("second",)),
        Port("31", Role.EXHAUST, ("first-exhaust",)),
        Port("32", Role.EXHAUST, ("second-exhaust",)),
    ),
    settings=(
        Setting("without-current", "word", "which side is fed when the current fails", required=True,
                choices=("21", "22")),
        BORE_FLOW,
    ),
    passages=(
        Passage("1", "21", "open while 21 is the side fed", _feeds("21"), True),
        Passage("1", "22", "open while 22 is the side fed", _feeds("22"), True),
        Passage("21", "31", "open while 22 is the side fed", _vents("21")),
        Passage("22", "32", "open while 21 is the side fed", _vents("22")),
    ),
    stores=(Store("1", SMALL), Store("21", PILOT), Store("22", PILOT)),
    failures=(
        DEAD_COIL, ALWAYS_ON,
        Failure("stuck-mid-way", "hangs half way: a steady leak from 1 to both exhausts",
                opens=(("1", "21"), ("1", "22"), ("21", "31"), ("22", "32")), share=HEAVY),
        Failure("exhaust-iced", "ice shuts an exhaust: the cylinder does not move", shuts=(("21", "31"), ("22", "32"))),
        Failure("leaks", "leaks at an exhaust", opens=(("1", "31"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.SWITCHED_BY_CURRENT}),
    rest={"energised": 0.0},
    symbol=Symbol(6, 4, {"1": (0, 2), "21": (6, 1), "22": (6, 3), "31": (2, 4), "32": (4, 4)}, body="none", marks=(
        *BOXES, line((5, 1), (6, 1)), line((5, 3), (6, 3)), *arrow((1.3, 2), (2.8, 0.8)), *arrow((2.7, 3), (2, 3.8)),
        *arrow((3.3, 2), (4.8, 3)), *arrow((4.7, 1), (4, 3.8)), *COIL,
    )),
    stage=6,
    turns=(("21", "22"),),
    rows=(58,),
)
