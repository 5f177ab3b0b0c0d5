"""Load control valve, hand-set: a lever on the trailer's frame that the driver turns when it is loaded."""

from circuit.declaring.common import (
    COMMON, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, MEDIUM, SIGNAL, SUPPLY, conductance, lap,
)
from circuit.declaring.kind import Failure, Graduated, Kind, Ordered, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, thick
from circuit.declaring.traits import Group, Trait
from circuit.units import ATMOSPHERE

EMPTY, HALF, FULL = 0.0, 0.5, 1.0


def ratio(s, x):
    """The share of the signal that the position lets through."""
    if x["load"] >= 0.75:
        return 1.0
    return s["half-ratio"] if x["load"] >= 0.25 else s["empty-ratio"]


def asked(p, s, x):
    """The pressure it should give, absolute Pa."""
    return ATMOSPHERE + ratio(s, x) * (p["1"] - ATMOSPHERE)


KIND = Kind(
    name="load-control-valve",
    title="Load control valve, hand-set",
    group=Group.MODULATE,
    purpose="Lets the driver tell the brakes whether the vehicle is empty, half laden or full, so that light wheels do "
            "not lock.",
    behaviour="2 is a share of the signal at 1: all of it in the position full, less in half, least in empty. When 1 "
              "falls it vents 2 to 3. It knows nothing of the load: left in empty on a full vehicle it takes most of "
              "the brake away, left in full on an empty one the wheels lock. The checks look at it in full.",
    ports=(SUPPLY._replace(words=("supply", "signal")), DELIVERY_BY_COUNT, EXHAUST),
    settings=(
        Setting("empty-ratio", "ratio", "share of the signal in the position empty",
                Typical("0.3", COMMON + ": from the setting plate")),
        Setting("half-ratio", "ratio", "share of the signal in the position half",
                Typical("0.6", COMMON + ": from the setting plate")),
        lap("0.1 bar"),
        DELIVERIES._replace(typical=Typical("1", COMMON)),
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 2 is below its share of 1", lambda p, s, x: asked(p, s, x) - p["2"]),
        Passage("2", "3", "open while 2 is above its share of 1", lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2"), Graduated("1", "2", held={"load": HALF}), Graduated("1", "2", held={"load": EMPTY})),
    stores=(Store("1", MEDIUM), Store("2", SIGNAL)),
    failures=(
        Failure("left-in-empty", "a full vehicle with the brake of an empty one", holds={"load": EMPTY}),
        Failure("stuck-shut", "its axles are not braked", shuts=(("1", "2"),)),
        Failure("does-not-release", "its axles stay braked", shuts=(("2", "3"),)),
    ),
    traits=frozenset({Trait.SENSES_LOAD}),
    aliases=("hand-set-load-valve",),
    rest={"load": FULL},
    positions={"empty": {"load": EMPTY}, "half": {"load": HALF}, "full": {"load": FULL}},
    orders=(Ordered("empty-ratio", "half-ratio"),),
    symbol=Symbol(4, 4, {"1": (0, 2), "3": (2, 4)}, grows="2", marks=(
        line((0, 2), (1, 2)), *arrow((1, 2), (3.6, 2)), pilot((3.3, 2), (3.3, 3.4), (2.3, 3.4)),
        line((2, 0), (2, -0.5)), thick((2, -0.5), (3.4, -1.4)), line((0.9, -0.5), (1.1, -0.9)), line((2, -1.1), (2, -1.5)),
    )),
    stage=9,
    turns=(("1", "2"),),
    rows=(52,),
)
