"""Pressure ratio, or adapter, valve: passes a signal on lower than it comes, up to a knee."""

from circuit.declaring.common import COMMON, DELIVERY, DOES_NOT_RELEASE, EXHAUST, MEDIUM, STUCK_SHUT, conductance, lap
from circuit.declaring.kind import Failure, Graduated, Kind, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot
from circuit.declaring.traits import Group, Role
from circuit.units import ATMOSPHERE


def wanted(p, s):
    """The pressure it gives at 2, absolute Pa."""
    signal = p["1"] - ATMOSPHERE
    lower = max(0.0, s["ratio"] * signal - s["less"])
    if s["knee"] is None or p["1"] <= s["knee"]:
        return ATMOSPHERE + lower
    knee, full = s["knee"] - ATMOSPHERE, s["full-from"] - ATMOSPHERE
    at_knee = max(0.0, s["ratio"] * knee - s["less"])
    rising = at_knee + (full - at_knee) * (signal - knee) / (full - knee)
    return ATMOSPHERE + min(signal, rising)


def _knee(settings):
    """Where 2 is full again: as set, or half as much again as the knee."""
    knee, full = settings["knee"], settings["full-from"]
    if knee is None:
        if full is not None:
            raise ValueError("`full-from` says where 2 catches up, and without a `knee` it never does")
        return {}
    if full is None:
        return {"full-from": ATMOSPHERE + 1.5 * (knee - ATMOSPHERE)}
    return {}


KIND = Kind(
    name="pressure-ratio-valve",
    title="Pressure ratio valve",
    group=Group.GUARD,
    purpose="Makes one axle brake less than another at light braking, and both fully at hard braking.",
    behaviour="Gives at 2 the ratio times 1, less a fixed difference, up to the knee; above it 2 catches up with 1. "
              "When 1 falls, 2 vents to 3. It belongs in a control line, not in a feed.",
    ports=(
        Port("1", Role.SUPPLY, ("supply", "signal")),
        DELIVERY,
        EXHAUST,
    ),
    settings=(
        Setting("ratio", "ratio", "pressure of 2 over that of 1 below the knee", Typical("1", COMMON + ": 0.5 to 1", "0.5", "1")),
        Setting("less", "difference", "how much 2 stays behind below the knee",
                Typical("0 bar", COMMON + ": 0.3 to 1.0 bar in adapter valves")),
        Setting("knee", "pressure", "pressure at 1 from which 2 catches up"),
        Setting("full-from", "pressure", "pressure at 1 from which 2 equals it"),
        lap("0.1 bar"),
        conductance("8 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 2 is below what it should be",
                lambda p, s, x: min(wanted(p, s) - p["2"], p["1"] - p["2"])),
        Passage("2", "3", "open while 2 is above what it should be", lambda p, s, x: p["2"] - wanted(p, s) - s["lap"]),
    ),
    graduated=(Graduated("1", "2"),),
    stores=(Store("1", MEDIUM), Store("2", MEDIUM)),
    failures=(
        Failure("full", "sticks: 2 gets all of 1", opens=(("1", "2"),), shuts=(("2", "3"),)),
        STUCK_SHUT,
        DOES_NOT_RELEASE,
    ),
    aliases=("adapter-valve",),
    derive=_knee,
    orders=(Ordered("knee", "full-from"),),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), line((0.6, 1.4), (1.9, 0.9), (3.2, 0.3)), pilot((3.2, 2), (3.2, 3.2), (2, 3.2)),
        line((2, 3.2), (2, 4)),
    )),
    stage=9,
    turns=(("1", "2"),),
    rows=(28,),
)
