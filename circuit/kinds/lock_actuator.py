"""Lock actuator: a brake chamber that a mechanical lock holds applied when the air is gone."""

from circuit.declaring.common import FROM_MEMORY, HEAVY
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Symbol, line, plate, solid, spring
from circuit.declaring.traits import Group, Role, Trait
from circuit.gas.chamber import knots, volume
from circuit.kinds.chamber import CHAMBER, SIZES, STROKES, sizes

KIND = Kind(
    name="lock-actuator",
    title="Mechanical lock actuator",
    group=Group.WORK,
    purpose="Parks with the force that air has put on once, held by a lock that needs no air.",
    behaviour="Applied by air at 1 like a service chamber. While 4 has air the lock is open; without it the push-rod "
              "may go out and is held there, with or without air at 1. To let it go, 4 and 1 both need air.",
    ports=(
        Port("1", Role.SPACE, ("service", "supply")),
        Port("4", Role.CONTROL, ("lock",)),
    ),
    settings=(
        *CHAMBER,
        Setting("unlocks-above", "pressure", "pressure at 4 above which the lock is open",
                Typical("4 bar", "(EU) 2015/68 Annex VI: locks at 400 kPa at most on trailers")),
        Setting("lock-volume", "volume", "air in the lock", Typical("0.05 L", FROM_MEMORY)),
    ),
    stores=(Store("1", volume, knots), Store("4", lambda settings, pressure: settings["lock-volume"])),
    failures=(
        Failure("diaphragm-torn", "leaks while applied", opens=(("1", OUTSIDE),), share=0.3),
        Failure("lock-seal-torn", "the lock closes while driving: the next application stays on",
                opens=(("4", OUTSIDE),), share=HEAVY),
        Failure("does-not-lock", "does not hold without air"),
    ),
    traits=frozenset({Trait.SERVICE_ACTUATOR, Trait.LOCKS}),
    derive=sizes,
    derives=SIZES,
    orders=STROKES,
    aliases=("mechanical-lock-chamber",),
    symbol=Symbol(9, 5, {"1": (0, 1), "4": (0, 4)}, body="none", marks=(
        line((0, 1), (2, 1)), line((3.3, 1.84), (9, 1.84)), line((3.3, 2.16), (9, 2.16)),
        plate((2, 0), (3.4, 0), (4.8, 1), (4.8, 3), (3.4, 4), (2, 4)), Curve(((2.6, 0), (3.9, 2), (2.6, 4))),
        spring(3.4, 4.8, 2, 0.7), line((0, 4), (0.8, 4), (0.8, 4.6), (5.8, 4.6), (5.8, 3.4)),
        plate((5.2, 2.5), (6.4, 2.5), (6.4, 3.4), (5.2, 3.4)), solid((5.4, 2.2), (6.2, 2.2), (5.8, 2.9)),
    )),
    stage=12,
    rows=(63,),
)
