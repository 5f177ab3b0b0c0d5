"""Stop-lamp switch: lights the stop lamps while the service brakes are applied."""

from circuit.declaring.common import LEAKS_AT_THREAD, ON, THREAD
from circuit.declaring.kind import Failure, Kind, Port, Setting, Store
from circuit.declaring.symbol import Ring, Symbol, line, pilot, plate
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="stop-lamp-switch",
    title="Stop-lamp switch",
    group=Group.GUARD,
    purpose="Lights the stop lamps while the service brakes are applied.",
    behaviour="Its contact closes above its set pressure.",
    ports=(Port("4", Role.SPACE, ("sense",)),),
    settings=(
        ON,
        Setting("on-above", "pressure", "the lamps are lit above this", required=True),
    ),
    stores=(Store("4", THREAD),),
    failures=(
        Failure("dead", "the lamps stay dark", idle=("4",)),
        Failure("stays-on", "the lamps are lit all the time: nobody behind sees a stop", idle=("4",)),
        Failure("closes-late", "the lamps come on only with a hard stop", scales={"on-above": 4.0}),
        LEAKS_AT_THREAD,
    ),
    traits=frozenset({Trait.LIGHTS_STOP_LAMP}),
    symbol=Symbol(2, 3, {"4": (1, 3)}, body="none", marks=(
        pilot((1, 3), (1, 2.1)), plate((0, 0.1), (2, 0.1), (2, 2.1), (0, 2.1)),
        Ring((1, 1.1), 0.65), line((0.54, 0.64), (1.46, 1.56)), line((0.54, 1.56), (1.46, 0.64)),
    )),
    stage=5,
    small=True,
    rows=(33,),
)
