"""Biased double check valve: takes one source as long as it can, and spares the other."""

from circuit.declaring.common import COMMON, DELIVERY, HEAVY, SMALL, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, line, spring
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="biased-double-check-valve",
    title="Biased double check valve",
    group=Group.GUARD,
    purpose="Feeds one line from two sources without joining them, and draws on the second only when the first is low.",
    behaviour="A spring holds the shuttle so that 2 follows 11 until 12 is higher by the bias; then 2 follows 12.",
    ports=(
        Port("11", Role.SUPPLY, ("supply-1", "preferred")),
        Port("12", Role.SUPPLY, ("supply-2", "spared")),
        DELIVERY,
    ),
    settings=(
        Setting("bias", "difference", "how much 12 must be above 11 before it feeds",
                Typical("0.3 bar", COMMON + ": 0.2 to 0.5 bar", "0.2 bar", "0.5 bar")),
        conductance("9 L/(s.bar)"),
    ),
    passages=(
        Passage("11", "2", "open unless 12 is higher by the bias", lambda p, s, x: p["11"] - p["12"] + s["bias"],
                both_ways=True),
        Passage("12", "2", "open while 12 is higher by the bias", lambda p, s, x: p["12"] - p["11"] - s["bias"],
                both_ways=True),
    ),
    stores=(Store("11", SMALL), Store("12", SMALL), Store("2", SMALL)),
    failures=(
        Failure("parked-mid-way", "the shuttle rests half way at a slow leak: both sides feed it",
                opens=(("11", "2"), ("2", "11"), ("12", "2"), ("2", "12")), share=HEAVY),
        Failure("stuck-at-11", "the shuttle stays on 11: 2 is fed from 12 only", shuts=(("11", "2"), ("2", "11")),
                opens=(("12", "2"), ("2", "12"))),
        Failure("stuck-at-12", "the shuttle stays on 12: 2 is fed from 11 only", shuts=(("12", "2"), ("2", "12")),
                opens=(("11", "2"), ("2", "11"))),
    ),
    traits=frozenset({Trait.SELECTS_HIGHER}),
    aliases=("pressure-differential-valve", "differential-double-check-valve"),
    symbol=Symbol(4, 4, {"11": (0, 1), "12": (0, 3), "2": (4, 2)}, flips=True, marks=(
        line((0, 1), (1.9, 1), (1.9, 1.2)), line((0, 3), (1.9, 3), (1.9, 2.8)), line((2.5, 2), (4, 2)),
        line((1.2, 0.7), (1.9, 1.3), (2.6, 0.7)), line((1.2, 3.3), (1.9, 2.7), (2.6, 3.3)), Ring((1.9, 2.14), 0.52),
        spring(0.1, 1.38, 2.14, 0.35),
    )),
    stage=6,
    turns=(("11", "12"), ("11", "2"), ("12", "2")),
    rows=(23,),
)
