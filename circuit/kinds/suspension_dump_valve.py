"""Suspension dump valve: empties the bags by a switch."""

from circuit.declaring.common import DELIVERY_LEAKS_OUT, EXHAUST, MEDIUM, OPEN, SHUT, SMALL, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store
from circuit.declaring.symbol import Symbol, arrow, line, plate
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.solenoid_2_2 import ALWAYS_ON, COIL, DEAD_COIL


def is_down(settings, state, word):
    """Whether it stands in the position `word`: as without current, or the other way with it."""
    return (settings["without-current"] == word) != bool(state["energised"])


KIND = Kind(
    name="suspension-dump-valve",
    title="Suspension dump valve",
    group=Group.LINES,
    purpose="Lets a body or a trailer down on its stops, or takes the load off an axle.",
    behaviour="Riding, 1 and 2 are joined, so the levelling valve works the bags. Dumped, 1 is shut and the bags at 2 "
              "vent to 3. `without-current` says what a dead wire does; driving off has to end in riding.",
    ports=(
        Port("1", Role.SUPPLY, ("levelling",)),
        Port("2", Role.DELIVERY, ("bags",)),
        EXHAUST,
    ),
    settings=(
        Setting("without-current", "word", "how it stands when the current fails", required=True,
                choices=("riding", "dumped")),
        conductance("4 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while riding", lambda p, s, x: SHUT if is_down(s, x, "dumped") else OPEN, True),
        Passage("2", "3", "open while dumped", lambda p, s, x: OPEN if is_down(s, x, "dumped") else SHUT),
    ),
    stores=(Store("1", SMALL), Store("2", MEDIUM)),
    failures=(
        DEAD_COIL, ALWAYS_ON,
        Failure("stuck-dumped", "does not come back: driven on the stops", shuts=(("1", "2"),), opens=(("2", "3"),)),
        Failure("stuck-riding", "does not dump", opens=(("1", "2"), ("2", "1")), shuts=(("2", "3"),)),
        DELIVERY_LEAKS_OUT,
    ),
    traits=frozenset({Trait.SWITCHED_BY_CURRENT}),
    aliases=("dump-valve",),
    rest={"energised": 0.0},
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2), "3": (3, 4)}, body="none", marks=(
        plate((1, 0), (5, 0), (5, 4), (1, 4)), line((0, 2), (1, 2)), line((5, 2), (6, 2)), line((1, 2), (5, 2)),
        *arrow((4, 2), (3, 3.8)), *COIL,
    )),
    stage=10,
    turns=(("1", "2"),),
    rows=(84,),
)
