"""Kneel valve: lets one corner of a bus down slowly at a stop."""

from circuit.declaring.common import COMMON, EXHAUST, MEDIUM, OPEN, SHUT, SMALL, deliveries
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Symbol, arrow, line
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.restrictor import by_bore
from circuit.kinds.solenoid_2_2 import ALWAYS_ON, COIL, DEAD_COIL
from circuit.kinds.suspension_dump_valve import is_down

KIND = Kind(
    name="kneel-valve",
    title="Kneel valve",
    group=Group.LINES,
    purpose="Brings the step of a bus down to the kerb, slowly, and up again before it drives off.",
    behaviour="Riding, 1 and 2 are joined. Kneeled, 1 is shut and the bags at 2 empty to 3 through a small hole. "
              "Without current, or when the bus moves, it has to fall back to riding.",
    ports=(
        Port("1", Role.SUPPLY, ("levelling",)),
        Port("2", Role.DELIVERY, ("bags",), holes_from="deliveries"),
        EXHAUST,
    ),
    settings=(
        Setting("without-current", "word", "how it stands when the current fails", required=True,
                choices=("riding", "kneeled")),
        Setting("bore", "bore", "hole through which the bags empty", Typical("1.5 mm", COMMON)),
        Setting("conductance", "conductance", "sonic conductance of that hole, where not to follow from its bore"),
        Setting("through-conductance", "conductance", "sonic conductance from 1 to 2 while riding",
                Typical("2 L/(s.bar)", COMMON)),
        deliveries("1"),
    ),
    passages=(
        Passage("1", "2", "open while riding", lambda p, s, x: SHUT if is_down(s, x, "kneeled") else OPEN, True,
                conductance="through-conductance"),
        Passage("2", "3", "open, narrowly, while kneeled", narrow=True,
                opening=lambda p, s, x: OPEN if is_down(s, x, "kneeled") else SHUT),
    ),
    stores=(Store("1", SMALL), Store("2", MEDIUM)),
    failures=(
        DEAD_COIL, ALWAYS_ON,
        Failure("stuck-kneeled", "does not come up: driven with the corner down", shuts=(("1", "2"),),
                opens=(("2", "3"),)),
        Failure("stuck-riding", "does not kneel", opens=(("1", "2"), ("2", "1")), shuts=(("2", "3"),)),
    ),
    traits=frozenset({Trait.SWITCHED_BY_CURRENT}),
    rest={"energised": 0.0},
    derive=by_bore,
    symbol=Symbol(6, 4, {"1": (0, 2), "3": (3, 4)}, grows="2", marks=(
        line((0, 2), (5, 2)), *arrow((4, 2), (3, 3.8)),
        Curve(((2.2, 2.6), (3, 3), (3.4, 2.4))), *COIL,
    )),
    stage=10,
    turns=(("1", "2"),),
    rows=(84,),
)
