"""Lift axle valve: lift bags on and ride bags off together, and down by itself when the load comes."""

from circuit.declaring.common import COMMON, EXHAUST, MEDIUM, OPEN, PILOT, SHUT, SMALL, SUPPLY, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.solenoid_2_2 import ALWAYS_ON, COIL, DEAD_COIL


def lifted(p, s, x):
    """Whether it stands in lift: asked for by the coil, and the load at 4 allows it."""
    asked = (s["without-current"] == "lifted") != bool(x["energised"])
    return asked and p["4"] < s["drops-at"]


KIND = Kind(
    name="lift-axle-valve",
    title="Lift axle valve",
    group=Group.LINES,
    purpose="Lifts an axle that is not needed, never with its ride bags full, and lets it down when the load comes.",
    behaviour="Lifted, 1 feeds the lift bags at 21, the ride bags at 22 vent. Lowered, 1 feeds 22, 21 vents. "
              "It lowers by itself while the ride pressure of the other axles at 4 is at its dropping pressure or "
              "above. `without-current` says what ignition off does.",
    ports=(
        SUPPLY,
        Port("21", Role.DELIVERY, ("lift",)),
        Port("22", Role.DELIVERY, ("ride",)),
        EXHAUST,
        Port("4", Role.CONTROL, ("load",), required=False),
    ),
    settings=(
        Setting("without-current", "word", "how it stands when the current fails", required=True,
                choices=("lowered", "lifted")),
        Setting("drops-at", "pressure", "ride pressure of the other axles at which it lowers",
                Typical("4 bar", COMMON + ": 3 to 5 bar", "3 bar", "5 bar")),
        conductance("4 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "21", "open while lifted", lambda p, s, x: OPEN if lifted(p, s, x) else SHUT, True),
        Passage("1", "22", "open while lowered", lambda p, s, x: SHUT if lifted(p, s, x) else OPEN, True),
        Passage("21", "3", "open while lowered", lambda p, s, x: SHUT if lifted(p, s, x) else OPEN),
        Passage("22", "3", "open while lifted", lambda p, s, x: OPEN if lifted(p, s, x) else SHUT),
    ),
    stores=(Store("1", MEDIUM), Store("21", SMALL), Store("22", SMALL), Store("4", PILOT)),
    failures=(
        DEAD_COIL, ALWAYS_ON,
        Failure("lifts-laden", "does not come down under load: the other axles are overloaded",
                opens=(("1", "21"), ("22", "3")), shuts=(("1", "22"), ("21", "3"))),
        Failure("does-not-lift", "stays down", shuts=(("1", "21"), ("22", "3"))),
        Failure("stuck-mid-way", "feeds lift and ride bags against each other", opens=(("1", "21"), ("1", "22")),
                share=0.3),
    ),
    traits=frozenset({Trait.SWITCHED_BY_CURRENT}),
    rest={"energised": 0.0},
    symbol=Symbol(6, 6, {"1": (0, 3), "21": (6, 1), "22": (6, 5), "3": (3, 6), "4": (0, 5)}, marks=(
        *arrow((0, 3), (6, 1)), line((6, 5), (4.4, 5), (3, 6)), pilot((0, 5), (1.6, 5), (1.6, 3.4)), *COIL,
    )),
    stage=10,
    turns=(("21", "22"),),
    rows=(85,),
)
