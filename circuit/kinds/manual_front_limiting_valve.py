"""Manual front-axle limiting valve: a knob halves the front brakes on a slippery road."""

from circuit.declaring.common import (
    COMMON, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, MEDIUM, SIGNAL, SUPPLY, conductance, lap,
)
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line, pilot
from circuit.declaring.traits import Group, Trait
from circuit.units import ATMOSPHERE


def wanted(p, s, x):
    """The pressure for the front brakes, absolute Pa."""
    return ATMOSPHERE + (s["ratio"] if x["slippery"] else 1.0) * (p["1"] - ATMOSPHERE)


KIND = Kind(
    name="manual-front-limiting-valve",
    title="Manual front-axle limiting valve",
    group=Group.MODULATE,
    purpose="Lets the driver halve the front brakes on a slippery road; old practice.",
    behaviour="With the knob on dry road 2 equals 1; on slippery road 2 is a share of 1 at every pressure, in an "
              "emergency too. When 1 falls it vents 2 to 3.",
    ports=(SUPPLY, DELIVERY_BY_COUNT, EXHAUST),
    settings=(
        Setting("ratio", "ratio", "share of 1 on slippery road", Typical("0.5", COMMON)),
        lap("0.1 bar"),
        DELIVERIES,
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 2 is below its share of 1", lambda p, s, x: wanted(p, s, x) - p["2"]),
        Passage("2", "3", "open while 2 is above its share of 1",
                lambda p, s, x: p["2"] - wanted(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2"), Graduated("1", "2", held={"slippery": 1.0})),
    stores=(Store("1", MEDIUM), Store("2", SIGNAL)),
    failures=(
        Failure("left-on-slippery", "half the front brakes on a dry road", holds={"slippery": 1.0}),
        Failure("stuck-shut", "the front axle is not braked", shuts=(("1", "2"),)),
        Failure("does-not-release", "the front brakes stay on", shuts=(("2", "3"),)),
    ),
    traits=frozenset({Trait.LIMITS_BY_HAND}),
    aliases=("slippery-road-valve",),
    rest={"slippery": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2), "3": (2, 4)}, grows="2", marks=(
        line((0, 2), (1, 2)), *arrow((1, 2), (3.6, 2)), pilot((3.3, 2), (3.3, 3.4), (2.3, 3.4)),
        line((2, 0), (2, -0.8)), Ring((2, -1.2), 0.4),
    )),
    stage=10,
    turns=(("1", "2"),),
    rows=(50,),
)
