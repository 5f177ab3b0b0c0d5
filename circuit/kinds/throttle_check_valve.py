"""Throttle-check valve: free one way, slow the other."""

from circuit.declaring.common import DELIVERY, FROM_MEMORY, SMALL, SUPPLY
from circuit.declaring.kind import Failure, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Ring, Symbol, line
from circuit.declaring.traits import Group
from circuit.kinds.restrictor import BORE, CONDUCTANCE, by_bore

KIND = Kind(
    name="throttle-check-valve",
    title="Throttle-check valve",
    group=Group.GUARD,
    purpose="Lets a thing fill quickly and empty slowly, or the other way round when it is turned.",
    behaviour="From 1 to 2 the check opens and air passes freely; from 2 to 1 it has only the small hole.",
    ports=(SUPPLY, DELIVERY),
    settings=(
        BORE,
        CONDUCTANCE,
        Setting("free-conductance", "conductance", "sonic conductance of the open check",
                Typical("6 L/(s.bar)", FROM_MEMORY)),
    ),
    passages=(
        Passage("1", "2", "open while 1 is above 2: the check", lambda p, s, x: p["1"] - p["2"],
                conductance="free-conductance"),
        Passage("2", "1", "always open, narrowly", both_ways=True, narrow=True, throat="hole"),
    ),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("blocked", "ice or swarf fills the small hole: 2 does not empty", shuts=(("2", "1"),)),
        Failure("check-stuck-open", "the check hangs open: free both ways", opens=(("1", "2"), ("2", "1"))),
        Failure("check-stuck-shut", "the check sticks: slow both ways", shuts=(("1", "2"),)),
    ),
    aliases=("speed-controller", "one-way-restrictor"),
    derive=by_bore,
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2)}, body="none", marks=(
        line((0, 2), (0.6, 2), (0.6, 1), (1.4, 1)), line((2.5, 1), (3.4, 1), (3.4, 2), (4, 2)),
        line((2.5, 0), (1.4, 1), (2.5, 2)), Ring((2.15, 1), 0.5), line((0.6, 2), (0.6, 3), (3.4, 3), (3.4, 2)),
        Curve(((1.2, 2.2), (2, 2.95), (2.8, 2.2))), Curve(((1.2, 3.8), (2, 3.05), (2.8, 3.8))),
    )),
    stage=6,
    rows=(30,),
)
