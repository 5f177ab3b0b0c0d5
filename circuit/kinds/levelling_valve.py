"""Levelling, or height control, valve: keeps the ride height by filling and emptying the bags."""

from circuit.declaring.common import COMMON, EXHAUST, FROM_MEMORY, MODEST, OPEN, SHUT, SLIGHT, SMALL, SUPPLY, deliveries
from circuit.declaring.kind import KEEPS, Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line, thick
from circuit.declaring.traits import Group, Role, Trait

MANUAL = "US Army TM 9-2330-373-14&P"


def wants_air(p, s, x):
    """Pa by which the bags want air: while the body is low, their pressure is below what the load asks for."""
    if x["arm"] > 0.5:
        return OPEN
    return SHUT if x["arm"] < -0.5 else s["ride-pressure"] - s["band"] - p["2"]


def wants_less(p, s, x):
    """Pa by which the bags hold too much: the body is high."""
    if x["arm"] > 0.5:
        return SHUT
    return OPEN if x["arm"] < -0.5 else p["2"] - s["ride-pressure"] - s["band"]


KIND = Kind(
    name="levelling-valve",
    title="Levelling valve",
    group=Group.LINES,
    purpose="Keeps the body at its ride height whatever it carries.",
    behaviour="Body low, arm up: 1 fills 2. Body high, arm down: 2 vents to 3. Inside the dead band all is shut; it "
              "acts only after a delay, so a wave of the road moves no air. A check in the inlet keeps the bags when "
              "the supply is gone. Height is read here as the pressure the load asks for.",
    ports=(
        SUPPLY,
        Port("2", Role.DELIVERY, ("bags",), holes_from="deliveries", lost=KEEPS),
        EXHAUST,
    ),
    settings=(
        Setting("ride-pressure", "pressure", "bag pressure at ride height under the load at hand",
                Typical("4 bar", COMMON + ": 0.5 bar empty to 7 bar laden")),
        Setting("band", "difference", "bag pressure that half of the dead band is worth", Typical("0.1 bar", COMMON)),
        Setting("dead-band", "length", "travel of the arm in which all is shut", Typical("3/8 in", MANUAL)),
        Setting("delay", "time", "time after which it acts", Typical("5 s", MANUAL + ": about 5 s")),
        Setting("inlet-check", "word", "whether a check keeps the bags' air", Typical("yes", MANUAL),
                choices=("yes", "no")),
        deliveries("1"),
        Setting("conductance", "conductance", "sonic conductance (ISO 6358) when fully open",
                Typical("1 L/(s.bar)", FROM_MEMORY)),
    ),
    passages=(
        Passage("1", "2", "open while the body is low, and only towards 2 where it has a check",
                lambda p, s, x: min(wants_air(p, s, x), p["1"] - p["2"])),
        Passage("2", "1", "open while the body is low, where it has no check",
                lambda p, s, x: SHUT if s["inlet-check"] == "yes" else min(wants_air(p, s, x), p["2"] - p["1"])),
        Passage("2", "3", "open while the body is high", wants_less),
    ),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("link-off-up", "the link is off and the arm hangs up: the bags are over-filled", holds={"arm": 1.0}),
        Failure("link-off-down", "the link is off and the arm hangs down: the body sinks", holds={"arm": -1.0}),
        Failure("stuck-shut", "does not act: no levelling", shuts=(("1", "2"), ("2", "3"))),
        Failure("hunts", "the dead band is worn away: it fills and empties in turn and wastes air",
                opens=(("1", "2"), ("2", "3")), share=MODEST),
        Failure("leaks", "leaks at the exhaust: this side sinks overnight", opens=(("2", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.LEVELS}),
    aliases=("height-control-valve", "leveling-valve"),
    rest={"arm": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2), "3": (2, 4)}, grows="2", marks=(
        *arrow((0, 2), (1.8, 2)), line((2.4, 2), (3, 2)), line((2, 4), (2, 2.6)), Ring((2, 2), 0.4),
        thick((2, 1.6), (0.4, -1.2)), Ring((0.4, -1.4), 0.3),
    )),
    stage=10,
    turns=(("1", "2"),),
    rows=(83,),
)
