"""Park control valve: the knob that lets the spring brakes on."""

from circuit.declaring.common import (
    COMMON, DELIVERY, DELIVERY_LEAKS, DOES_NOT_VENT, EXHAUST, MEDIUM, OPEN, SHUT, SUPPLY, SUPPLY_LEAKS_OUT,
    conductance,
)
from circuit.declaring.kind import Failure, Kind, Latch, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line, pilot
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="park-valve",
    title="Park control valve",
    group=Group.DRIVER,
    purpose="Holds the spring brakes off while pushed, and lets them on when pulled or when the air runs out.",
    behaviour="Pushed, 2 is fed from 1. Pulled, 2 vents to 3. It pops out by itself when 1 falls to its pop-out "
              "pressure and will not stay in below it.",
    ports=(SUPPLY, DELIVERY, EXHAUST),
    settings=(
        Setting("pops-out-at", "pressure", "pressure at 1 at which it pops out",
                Typical("2.1 bar", COMMON + ": 20 to 45 psi", "20 psi", "45 psi")),
        conductance("8 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while the knob is in", both_ways=True, keeps="pops-out-at",
                opening=lambda p, s, x: p["1"] - s["pops-out-at"] if x["pushed"] else SHUT),
        Passage("2", "3", "open while the knob is out",
                lambda p, s, x: s["pops-out-at"] - p["1"] if x["pushed"] else OPEN),
    ),
    stores=(Store("1", MEDIUM), Store("2", MEDIUM)),
    latches=(Latch("pushed", None, lambda p, s: s["pops-out-at"] - p["1"]),),
    failures=(
        Failure("does-not-stay-in", "pops out at once: the springs stay on", holds={"pushed": 0.0}),
        Failure("does-not-pop", "stays in without air", holds={"pushed": 1.0}),
        SUPPLY_LEAKS_OUT,
        DOES_NOT_VENT,
        DELIVERY_LEAKS._replace(says="leaks at the exhaust only while it is pushed in"),
    ),
    traits=frozenset({Trait.PARK_CONTROL}),
    rest={"pushed": 1.0},
    when={"parked": {"pushed": 0.0}},
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), pilot((0.8, 2), (0.8, 0.7), (2, 0.7)), line((2, 0), (2, -0.9)), Ring((2, -1.3),
        0.5, "black"),
        line((1.5, 0), (1.75, 0.35), (2, 0)),
    )),
    stage=8,
    turns=(("1", "2"),),
    rows=(38,),
)
