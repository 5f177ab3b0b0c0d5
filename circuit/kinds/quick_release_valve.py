"""Quick release valve: lets the brake's air out beside the brake."""

from circuit.declaring.common import (
    COMMON, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, MEDIUM, MODEST, SIGNAL, SUPPLY, conductance,
)
from circuit.declaring.kind import Failure, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Symbol, line, thick
from circuit.declaring.traits import Group

KIND = Kind(
    name="quick-release-valve",
    title="Quick release valve",
    group=Group.MODULATE,
    purpose="Releases brakes quickly by venting them close by, not through the long way back.",
    behaviour="Feeds 2 from 1 while 1 is the higher; as soon as 1 falls below 2 it vents 2 to 3 until they are equal.",
    ports=(SUPPLY, DELIVERY_BY_COUNT, EXHAUST),
    settings=(
        Setting("opens-at", "difference", "difference that opens it either way",
                Typical("0.1 bar", COMMON + ": 0.05 to 0.3 bar", "0.05 bar", "0.3 bar")),
        DELIVERIES,
        conductance("12 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 1 is above 2", lambda p, s, x: p["1"] - p["2"] - s["opens-at"]),
        Passage("2", "3", "open while 2 is above 1", lambda p, s, x: p["2"] - p["1"] - s["opens-at"]),
    ),
    stores=(Store("1", MEDIUM), Store("2", SIGNAL)),
    failures=(
        Failure("iced", "the diaphragm sticks: slow or no release", shuts=(("2", "3"),)),
        Failure("leaks", "leaks at the exhaust while applied", opens=(("2", "3"),), share=MODEST),
        Failure("stuck-shut", "nothing passes to the brakes", shuts=(("1", "2"),)),
        Failure("exhaust-stuck-open", "dirt holds its diaphragm off: its brakes get little, and the air is lost at each stop",
                opens=(("2", "3"),)),
    ),
    symbol=Symbol(4, 4, {"1": (0, 2), "3": (2, 4)}, grows="2", marks=(
        line((0, 2), (1.3, 2)), Curve(((1.1, 0.8), (2.5, 2), (1.1, 3.2)), 0.3), line((1.9, 2), (3, 2)),
        line((2, 4), (2, 2.9)), thick((1.5, 2.9), (2.5, 2.9)),
    )),
    stage=10,
    turns=(("1", "2"),),
    rows=(46,),
)
