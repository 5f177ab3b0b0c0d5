"""Low-pressure switch: warns the driver while too little air is stored."""

from circuit.declaring.common import LEAKS_AT_THREAD, ON, THREAD
from circuit.declaring.kind import Failure, Kind, Port, Setting, Store
from circuit.declaring.symbol import Symbol, line, pilot, plate
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="low-pressure-switch",
    title="Low-pressure switch",
    group=Group.GUARD,
    purpose="Warns the driver while too little air is stored.",
    behaviour="Its contact closes below its set pressure and opens above.",
    ports=(Port("4", Role.SPACE, ("sense",)),),
    settings=(
        ON,
        Setting("on-below", "pressure", "the warning is on below this", required=True),
    ),
    stores=(Store("4", THREAD),),
    failures=(
        Failure("dead", "gives no warning", idle=("4",)),
        Failure("stays-on", "warns whatever there is, until nobody minds it", idle=("4",)),
        Failure("set-low", "has drifted: warns at half of what it should", scales={"on-below": 0.5}),
        LEAKS_AT_THREAD,
    ),
    traits=frozenset({Trait.WARNS_LOW}),
    symbol=Symbol(2, 3, {"4": (1, 3)}, body="none", marks=(
        pilot((1, 3), (1, 2.1)), plate((0, 0.1), (2, 0.1), (2, 2.1), (0, 2.1)),
        line((0.2, 1.5), (0.7, 1.5), (1.5, 0.7)), line((1.3, 1.5), (1.8, 1.5)),
    )),
    stage=5,
    small=True,
    rows=(31,),
)
