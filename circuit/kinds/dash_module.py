"""Two-knob dash module: park control, trailer supply control and their double check valve in one body."""

from circuit.declaring.common import COMMON, EXHAUST, HEAVY, MEDIUM, SHUT, SLIGHT, conductance, feeding, returning
from circuit.declaring.kind import Failure, Kind, Latch, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line, pilot
from circuit.declaring.traits import Group, Role, Trait


def _higher(p):
    """The pressure behind the inner double check valve, absolute Pa."""
    return max(p["11"], p["12"])


def _parking(p, s, x):
    """Whether the yellow knob is in, in Pa."""
    return _higher(p) - s["pops-out-at"] if x["pushed"] else SHUT


def _towing(p, s, x):
    """Whether the red knob is in, in Pa; the yellow one takes it along when it comes out."""
    return min(_parking(p, s, x), _higher(p) - s["trailer-pops-out-at"]) if x["trailer-pushed"] else SHUT


def _way(own, other, knob):
    feeds = feeding(own, other)
    return lambda p, s, x: min(feeds(p, s, x), knob(p, s, x))


def _back(own, other, out, knob):
    returns = returning(own, other, out)
    return lambda p, s, x: min(returns(p, s, x), knob(p, s, x))


KIND = Kind(
    name="dash-module",
    title="Two-knob dash module",
    group=Group.DRIVER,
    purpose="Holds the spring brakes off with the yellow knob and fills the trailer with the red one, from two "
            "sources.",
    behaviour="A double check valve takes the higher of 11 and 12. Yellow in feeds the springs at 21, red in feeds "
              "the trailer at 22; out, each vents to 3. Pulling yellow pops red too, and only a hand pushes it "
              "again. Red pops out at the higher pressure, so that it goes first.",
    ports=(
        Port("11", Role.SUPPLY, ("supply-1", "primary")),
        Port("12", Role.SUPPLY, ("supply-2", "secondary")),
        Port("21", Role.DELIVERY, ("park",)),
        Port("22", Role.DELIVERY, ("trailer",)),
        EXHAUST,
    ),
    settings=(
        Setting("pops-out-at", "pressure", "source pressure at which the yellow knob pops out",
                Typical("2.1 bar", COMMON + ": 20 to 45 psi", "20 psi", "45 psi")),
        Setting("trailer-pops-out-at", "pressure", "source pressure at which the red knob pops out",
                Typical("2.8 bar", COMMON + ": 20 to 45 psi", "20 psi", "45 psi")),
        Setting("shifts-at", "difference", "difference at which the inner shuttle moves",
                Typical("0.2 bar", COMMON + ": 0.1 to 0.35 bar", "0.1 bar", "0.35 bar")),
        conductance("8 L/(s.bar)"),
    ),
    passages=(
        Passage("11", "21", "open while yellow is in and 12 is not the higher", _way("11", "12", _parking),
                keeps="pops-out-at"),
        Passage("12", "21", "open while yellow is in and 11 is not the higher", _way("12", "11", _parking),
                keeps="pops-out-at"),
        Passage("21", "11", "open while yellow is in and 21 is above both", _back("11", "12", "21", _parking)),
        Passage("21", "12", "open while yellow is in and 21 is above both", _back("12", "11", "21", _parking)),
        Passage("21", "3", "open while yellow is out", lambda p, s, x: -_parking(p, s, x)),
        Passage("11", "22", "open while both are in and 12 is not the higher", _way("11", "12", _towing),
                keeps="trailer-pops-out-at"),
        Passage("12", "22", "open while both are in and 11 is not the higher", _way("12", "11", _towing),
                keeps="trailer-pops-out-at"),
        Passage("22", "11", "open while both are in and 22 is above both", _back("11", "12", "22", _towing)),
        Passage("22", "12", "open while both are in and 22 is above both", _back("12", "11", "22", _towing)),
        Passage("22", "3", "open while red is out", lambda p, s, x: -_towing(p, s, x)),
    ),
    stores=tuple(Store(port, MEDIUM) for port in ("11", "12", "21", "22")),
    latches=(
        Latch("pushed", None, lambda p, s: s["pops-out-at"] - _higher(p)),
        Latch("trailer-pushed", None, lambda p, s: s["trailer-pops-out-at"] - _higher(p), taken_by="pushed"),
    ),
    failures=(
        Failure("red-does-not-pop", "red stays in without air: a lost trailer empties both reservoirs",
                opens=(("11", "22"), ("12", "22")), holds={"trailer-pushed": 1.0}),
        Failure("yellow-does-not-stay-in", "the springs stay on", holds={"pushed": 0.0}),
        Failure("yellow-does-not-pop", "yellow stays in without air, and does not come when it is pulled",
                holds={"pushed": 1.0}),
        Failure("red-does-not-stay-in", "red pops out at once: the trailer cannot be filled", holds={"trailer-pushed": 0.0}),
        Failure("parked-mid-way", "the shuttle rests half way at a slow leak: both sides feed it",
                opens=(("11", "12"), ("12", "11")), share=HEAVY),
        Failure("leaks", "leaks at the exhaust", opens=(("11", "3"), ("12", "3")), share=SLIGHT),
    ),
    traits=frozenset({Trait.PARK_CONTROL, Trait.SELECTS_HIGHER, Trait.PROTECTS_TOWING}),
    aliases=("two-knob-module", "dash-control-valve"),
    rest={"pushed": 1.0, "trailer-pushed": 1.0},
    when={"parked": {"pushed": 0.0, "trailer-pushed": 0.0}},
    symbol=Symbol(8, 6, {"11": (0, 1), "12": (0, 5), "21": (8, 1), "22": (8, 5), "3": (4, 6)}, equal=("11", "12"), marks=(
        line((0, 1), (1.4, 1), (1.4, 1.6)), line((0, 5), (1.4, 5), (1.4, 4.4)), Ring((1.4, 2.2), 0.5),
        line((0.8, 1.3), (1.4, 1.8), (2, 1.3)), line((0.8, 4.7), (1.4, 4.2), (2, 4.7)),
        line((1.9, 3), (3.4, 3), (3.4, 1)), *arrow((3.4, 1), (8, 1)), line((3.4, 3), (3.4, 5)),
        *arrow((3.4, 5), (8, 5)), pilot((5, 1), (5, 5)), line((5, 0), (5, -0.8)), Ring((5, -1.2), 0.45, "black"),
        line((7, 0), (7, -0.8)), Ring((7, -1.2), 0.45), pilot((7, 0), (7, 4.4)),
    )),
    stage=8,
    turns=(("11", "21"), ("12", "22")),
    rows=(40,),
)
