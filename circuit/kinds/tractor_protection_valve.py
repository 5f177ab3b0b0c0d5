"""Tractor protection valve: shuts the trailer's control line while its supply line has no air."""

from circuit.declaring.common import COMMON, MEDIUM, OPEN_WAY, SLIGHT, conductance
from circuit.declaring.kind import KEEPS, OUTSIDE, Failure, Kind, Latch, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, upright_spring
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="tractor-protection-valve",
    title="Tractor protection valve",
    group=Group.TOWING,
    purpose="Keeps the service brakes' air in the towing vehicle when the trailer or its hoses are lost.",
    behaviour="The supply line passes freely from 1 to 2. The control line passes from 11 to 21 only while the supply "
              "line has pressure: it opens when that has risen, and shuts when it has fallen. So an application after "
              "a breakaway does not blow out of the torn hose.",
    ports=(
        Port("1", Role.SUPPLY, ("supply", "trailer-supply")),
        Port("2", Role.DELIVERY, ("supply-delivery", "supply-head")),
        Port("11", Role.SUPPLY, ("service", "signal")),
        Port("21", Role.DELIVERY, ("service-delivery", "control-head"), lost=KEEPS),
    ),
    settings=(
        Setting("opens-at", "pressure", "supply-line pressure at which the control line opens",
                Typical("3.1 bar", COMMON + ": about 45 psi")),
        Setting("shuts-at", "pressure", "supply-line pressure at which it has shut again",
                Typical("2.8 bar", COMMON + ": 20 to 45 psi", "20 psi", "45 psi")),
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        OPEN_WAY,
        Passage("11", "21", "open while the supply line has pressure", both_ways=True, keeps="shuts-at",
                opening=lambda p, s, x: p["1"] - (s["shuts-at"] if x["open"] else s["opens-at"])),
    ),
    stores=tuple(Store(port, MEDIUM) for port in ("1", "2", "11", "21")),
    latches=(Latch("open", lambda p, s: p["1"] - s["opens-at"], lambda p, s: s["shuts-at"] - p["1"]),),
    failures=(
        Failure("does-not-shut", "each application after a breakaway vents to the road",
                opens=(("11", "21"), ("21", "11"))),
        Failure("does-not-open", "the trailer gets no signal", shuts=(("11", "21"),)),
        Failure("cross-leak", "supply air leaks into the control line", opens=(("1", "21"),), share=SLIGHT),
        Failure("leaks", "leaks outwards while the trailer is supplied", opens=(("2", OUTSIDE),), share=SLIGHT),
    ),
    traits=frozenset({Trait.PROTECTS_TOWING}),
    aliases=("breakaway-valve",),
    rest={"open": 0.0},
    orders=(Ordered("shuts-at", "opens-at"),),
    symbol=Symbol(6, 6, {"1": (0, 1), "2": (6, 1), "11": (0, 5), "21": (6, 5)}, flips=True, marks=(
        *arrow((0, 1), (6, 1)), *arrow((0, 5), (6, 5)), pilot((3, 1), (3, 4.4)), upright_spring(3, 5.4, 6.8, 0.4),
        line((2.4, 6.8), (3.6, 6.8)), line((2.4, 4.4), (3.6, 4.4)),
    )),
    stage=12,
    turns=(("1", "2"), ("11", "21")),
    rows=(72,),
)
