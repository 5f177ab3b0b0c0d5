"""Check valve: air passes one way only."""

from circuit.declaring.common import COMMON, DELIVERY, MODEST, SMALL, STUCK_SHUT, SUPPLY, TINY, conductance
from circuit.declaring.kind import KEEPS, Failure, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, line
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="check-valve",
    title="Check valve",
    group=Group.GUARD,
    purpose="Keeps a reservoir's air when whatever feeds it is lost.",
    behaviour="Opens when 1 is above 2 by a little, shuts when it is not.",
    ports=(SUPPLY, DELIVERY._replace(lost=KEEPS)),
    settings=(
        Setting("opens-at", "difference", "how much 1 must be above 2",
                Typical("0.1 bar", COMMON + ": 0.05 to 0.2 bar", "0.05 bar", "0.2 bar")),
        conductance("12 L/(s.bar)"),
    ),
    passages=(Passage("1", "2", "open while 1 is above 2 by the opening difference",
                      lambda p, s, x: p["1"] - p["2"] - s["opens-at"]),),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("stuck-open", "dirt holds it open: air can go back", opens=(("1", "2"), ("2", "1"))),
        STUCK_SHUT,
        Failure("leaks-back", "does not seal", opens=(("2", "1"),), share=MODEST),
        Failure("spring-broken", "its spring is broken: it chatters, and lets a little back", opens=(("2", "1"),), share=TINY),
    ),
    traits=frozenset({Trait.ONE_WAY}),
    aliases=("one-way-valve", "non-return-valve"),
    symbol=Symbol(4, 2, {"1": (0, 1), "2": (4, 1)}, body="none", marks=(
        line((0, 1), (1.3, 1)), line((2.5, 1), (4, 1)), line((2.5, -0.1), (1.3, 1), (2.5, 2.1)), Ring((2.15, 1), 0.6),
    )),
    stage=4,
    turns=(("1", "2"),),
    rows=(21,),
)
