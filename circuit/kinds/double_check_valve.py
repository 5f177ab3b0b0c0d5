"""Double check valve: delivers the higher of two pressures and keeps the two apart."""

from circuit.declaring.common import COMMON, DELIVERY, HEAVY, SMALL, conductance, feeding, returning
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, line
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="double-check-valve",
    title="Double check valve",
    group=Group.GUARD,
    purpose="Feeds one line from two sources without joining them.",
    behaviour="A shuttle shuts the lower of 11 and 12; 2 follows the higher. The shuttle moves only when the lower has "
              "become the higher by the shifting difference, so at a very slow leak it may rest half way and lose both.",
    ports=(
        Port("11", Role.SUPPLY, ("supply-1",)),
        Port("12", Role.SUPPLY, ("supply-2",)),
        DELIVERY,
    ),
    settings=(
        Setting("shifts-at", "difference", "difference at which the shuttle moves",
                Typical("0.2 bar", COMMON + ": 0.1 to 0.35 bar", "0.1 bar", "0.35 bar")),
        conductance("9 L/(s.bar)"),
    ),
    passages=(
        Passage("11", "2", "open unless 12 is the higher", feeding("11", "12")),
        Passage("12", "2", "open unless 11 is the higher", feeding("12", "11")),
        Passage("2", "11", "open while 2 is above both and 12 is not the higher", returning("11", "12", "2")),
        Passage("2", "12", "open while 2 is above both and 11 is not the higher", returning("12", "11", "2")),
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
    aliases=("two-way-valve", "select-high-valve"),
    symbol=Symbol(4, 4, {"11": (0, 1), "12": (0, 3), "2": (4, 2)}, flips=True, marks=(
        line((0, 1), (1.9, 1), (1.9, 1.2)), line((0, 3), (1.9, 3), (1.9, 2.8)), line((2.5, 2), (4, 2)),
        line((1.2, 0.7), (1.9, 1.3), (2.6, 0.7)), line((1.2, 3.3), (1.9, 2.7), (2.6, 3.3)), Ring((1.9, 1.86), 0.52),
    )),
    stage=6,
    turns=(("11", "2"), ("12", "2")),
    rows=(22,),
)
