"""Automatic front-axle limiting valve: gives the front brakes less until the pedal asks for much."""

from circuit.declaring.common import (
    COMMON, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, MEDIUM, SIGNAL, SUPPLY, conductance, lap,
)
from circuit.declaring.kind import Failure, Graduated, Kind, Ordered, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot
from circuit.declaring.traits import Group
from circuit.units import ATMOSPHERE


def wanted(p, s):
    """The pressure for the front brakes, absolute Pa: a share of 1, rising to all of it between the two knees."""
    asked = p["1"] - ATMOSPHERE
    low, full = s["limits-below"] - ATMOSPHERE, s["full-above"] - ATMOSPHERE
    if asked <= low:
        return ATMOSPHERE + s["ratio"] * asked
    if asked >= full:
        return p["1"]
    start = s["ratio"] * low
    return ATMOSPHERE + start + (full - start) * (asked - low) / (full - low)


KIND = Kind(
    name="front-limiting-valve",
    title="Automatic front-axle limiting valve",
    group=Group.MODULATE,
    purpose="Keeps lightly braked front wheels from locking on a wet road; old practice.",
    behaviour="2 is a share of 1 up to a first pressure, then rises faster and equals 1 from a second pressure on, so "
              "that an emergency stop has the whole front brake. When 1 falls it vents 2 to 3.",
    ports=(SUPPLY, DELIVERY_BY_COUNT, EXHAUST),
    settings=(
        Setting("ratio", "ratio", "share of 1 that is let through at first", Typical("0.5", COMMON)),
        Setting("limits-below", "pressure", "pressure at 1 up to which only that share passes",
                Typical("2.8 bar", COMMON)),
        Setting("full-above", "pressure", "pressure at 1 from which all of it passes", Typical("4.1 bar", COMMON)),
        lap("0.1 bar"),
        DELIVERIES,
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 2 is below its share of 1", lambda p, s, x: wanted(p, s) - p["2"]),
        Passage("2", "3", "open while 2 is above its share of 1", lambda p, s, x: p["2"] - wanted(p, s) - s["lap"]),
    ),
    graduated=(Graduated("1", "2"),),
    stores=(Store("1", MEDIUM), Store("2", SIGNAL)),
    failures=(
        Failure("stuck-shut", "the front axle is not braked", shuts=(("1", "2"),)),
        Failure("stuck-open", "the front brakes get all of it", opens=(("1", "2"),)),
        Failure("does-not-release", "the front brakes stay on", shuts=(("2", "3"),)),
    ),
    aliases=("automatic-front-limiting-valve",),
    orders=(Ordered("limits-below", "full-above"),),
    symbol=Symbol(4, 4, {"1": (0, 2), "3": (2, 4)}, grows="2", marks=(
        line((0, 2), (1, 2)), *arrow((1, 2), (3.6, 2)), line((0.6, 3.4), (1.8, 2.9), (2.2, 1.2), (3.2, 0.6)),
        pilot((3.3, 2), (3.3, 3.4), (2.3, 3.4)),
    )),
    stage=10,
    turns=(("1", "2"),),
    rows=(50,),
)
