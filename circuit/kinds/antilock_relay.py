"""Antilock relay: a relay valve with modulators that can hold and release by electric signal."""

from circuit.declaring.common import (
    COMMON, CONTROL, CONTROL_LEAKS, DELIVERIES, DELIVERY_BY_COUNT, DOES_NOT_APPLY, DOES_NOT_RELEASE, EXHAUST,
    EXHAUST_ICED, LARGE, OPEN, SENSOR_LOST, SHUT, SIGNAL, SUPPLIES, SUPPLY_BY_COUNT, SUPPLY_LEAKS, VESSEL,
    conductance, lap,
)
from circuit.declaring.graduated import feeds
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, plate, thick
from circuit.declaring.traits import Group, Trait
from circuit.kinds.relay_valve import asked

FEEDS = feeds(asked, "1", "2")

KIND = Kind(
    name="antilock-relay",
    title="Antilock relay valve",
    group=Group.MODULATE,
    purpose="Works as a relay valve, and keeps wheels from locking while its modulators are energised.",
    behaviour="Without current it is a relay valve. Its hold coil shuts 1 to 2; its release coil vents 2 to 3.",
    ports=(SUPPLY_BY_COUNT, DELIVERY_BY_COUNT, EXHAUST, CONTROL),
    settings=(
        Setting("opens-at", "difference", "how much the signal stays ahead of the delivery",
                Typical("0.2 bar", COMMON + ": 0.15 to 0.4 bar", "0.15 bar", "0.4 bar")),
        lap("0.15 bar"),
        SUPPLIES,
        DELIVERIES,
        conductance("20 L/(s.bar)", "14 L/(s.bar)", "30 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while nothing holds and the signal at 4 is ahead of 2, or 1 has fallen below 2",
                lambda p, s, x: SHUT if x["hold"] else FEEDS(p, s, x), both_ways=True),
        Passage("2", "3", "open while 2 is ahead of the signal, or released",
                lambda p, s, x: OPEN if x["release"] else p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "4"),),
    stores=(Store("1", LARGE), Store("2", VESSEL), Store("4", SIGNAL)),
    failures=(
        DOES_NOT_APPLY,
        DOES_NOT_RELEASE,
        SUPPLY_LEAKS,
        Failure("stuck-released", "a release coil stays on: its wheels are not braked",
                holds={"hold": 1.0, "release": 1.0}),
        Failure("without-current", "no antilock; brakes as a relay valve", holds={"hold": 0.0, "release": 0.0}),
        EXHAUST_ICED,
        CONTROL_LEAKS,
        SENSOR_LOST,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL}),
    aliases=("abs-relay",),
    rest={"hold": 0.0, "release": 0.0},
    symbol=Symbol(6, 6, {"4": (0, 1), "1": (0, 5), "3": (4, 6)}, grows="2", flips=True, marks=(
        pilot((0, 1), (2.4, 1), (2.4, 1.8)), thick((0.8, 1.9), (4, 1.9)), line((2.4, 1.9), (2.4, 2.8)),
        line((0, 5), (2.4, 5)), *arrow((2.4, 5), (2.4, 3.8)), plate((1.7, 2.8), (3.1, 2.8), (2.4, 3.7)),
        line((3.1, 3), (5, 3)), line((4, 6), (4, 4.2)), line((3.5, 4.2), (4.5, 4.2)),
        plate((2.7, 0.4), (4.3, 0.4), (4.3, 1.3), (2.7, 1.3)), line((2.7, 1.3), (4.3, 0.4)),
    )),
    stage=10,
    turns=(("1", "4"), ("1", "2")),
    rows=(55,),
)
