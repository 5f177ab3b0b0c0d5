"""Solenoid valve 3/2: feeds a user or vents it, by current."""

from circuit.declaring.common import DELIVERY, EXHAUST, HEAVY, OPEN, PILOT, SHUT, SUPPLY, SUPPLY_LEAKS_OUT
from circuit.declaring.kind import Failure, Kind, Passage, Store
from circuit.declaring.symbol import Symbol, arrow, line
from circuit.declaring.traits import Group, Trait
from circuit.kinds.solenoid_2_2 import ALWAYS_ON, BORE_FLOW, BOXES, COIL, DEAD_COIL, WITHOUT_CURRENT, is_open

KIND = Kind(
    name="solenoid-3-2",
    title="Solenoid valve 3/2",
    group=Group.MODULATE,
    purpose="Works a cylinder, a horn or a brake hold by a switch.",
    behaviour="Open, 2 is fed from 1; shut, 1 is blocked and 2 vents to 3. `without-current shut` is a normally closed "
              "valve, `without-current open` a normally open one.",
    ports=(SUPPLY, DELIVERY, EXHAUST),
    settings=(WITHOUT_CURRENT, BORE_FLOW),
    passages=(
        Passage("1", "2", "open or shut by current", lambda p, s, x: OPEN if is_open(s, x) else SHUT, True),
        Passage("2", "3", "open while 1 is blocked", lambda p, s, x: SHUT if is_open(s, x) else OPEN),
    ),
    stores=(Store("1", PILOT), Store("2", PILOT)),
    failures=(
        DEAD_COIL, ALWAYS_ON,
        Failure("stuck-feeding", "does not shut: what it works stays on", opens=(("1", "2"), ("2", "1")),
                shuts=(("2", "3"),)),
        Failure("stuck-venting", "does not open: what it works stays off", shuts=(("1", "2"),), opens=(("2", "3"),)),
        Failure("stuck-mid-way", "hangs half way: leaks from 1 to 3", opens=(("1", "2"), ("2", "3")), share=HEAVY),
        Failure("exhaust-iced", "ice shuts the exhaust: what it works does not let go", shuts=(("2", "3"),)),
        SUPPLY_LEAKS_OUT,
    ),
    traits=frozenset({Trait.SWITCHED_BY_CURRENT}),
    aliases=("solenoid-valve", "magnet-valve"),
    rest={"energised": 0.0},
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2), "3": (3, 4)}, body="none", marks=(
        *BOXES, line((5, 2), (6, 2)), *arrow((1.3, 2), (2.8, 1)), line((3.2, 2), (3.8, 2)),
        line((3.8, 1.5), (3.8, 2.5)), *arrow((4.8, 2), (4, 3.6)), *COIL,
    )),
    stage=6,
    turns=(("1", "2"),),
    rows=(58,),
)
