"""Solenoid valve 2/2: opens or shuts one way by current."""

from circuit.declaring.common import DELIVERY, FROM_MEMORY, MODEST, OPEN, PILOT, SHUT, SUPPLY
from circuit.declaring.kind import Failure, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, plate, spring
from circuit.declaring.traits import Group, Trait


def is_open(settings, state):
    """Whether the way is open: as without current, or the other way with it."""
    return (settings["without-current"] == "open") != bool(state["energised"])


WITHOUT_CURRENT = Setting("without-current", "word", "how 1 to 2 stands when the current fails", required=True,
                          choices=("shut", "open"))
BORE_FLOW = Setting("conductance", "conductance", "sonic conductance (ISO 6358) when fully open",
                    Typical("1.5 L/(s.bar)", FROM_MEMORY + ": bore 2 to 6 mm"))
DEAD_COIL = Failure("without-current", "coil, plug or wire is dead: it stands as without current",
                    holds={"energised": 0.0})
ALWAYS_ON = Failure("always-energised", "the coil stays on", holds={"energised": 1.0})
COIL = (plate((1.4, -1.2), (2.6, -1.2), (2.6, 0), (1.4, 0)), line((1.4, 0), (2.6, -1.2)), spring(3.2, 4.8, -0.5, 0.35))
BOXES = (plate((1, 0), (5, 0), (5, 4), (1, 4)), line((3, 0), (3, 4)), line((0, 2), (1, 2)))

KIND = Kind(
    name="solenoid-2-2",
    title="Solenoid valve 2/2",
    group=Group.MODULATE,
    purpose="Opens or shuts one line by a switch.",
    behaviour="Stands as stated without current, the other way with it. Open, it passes both ways.",
    ports=(SUPPLY, DELIVERY),
    settings=(WITHOUT_CURRENT, BORE_FLOW),
    passages=(Passage("1", "2", "open or shut by current", lambda p, s, x: OPEN if is_open(s, x) else SHUT, True),),
    stores=(Store("1", PILOT), Store("2", PILOT)),
    failures=(
        DEAD_COIL, ALWAYS_ON,
        Failure("stuck-open", "does not shut", opens=(("1", "2"), ("2", "1"))),
        Failure("stuck-shut", "does not open", shuts=(("1", "2"),)),
        Failure("leaks", "does not seal when shut", opens=(("1", "2"), ("2", "1")), share=MODEST),
    ),
    traits=frozenset({Trait.SWITCHED_BY_CURRENT}),
    aliases=("shut-off-solenoid",),
    rest={"energised": 0.0},
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2)}, body="none", marks=(
        *BOXES, line((5, 2), (6, 2)), *arrow((1.3, 2), (2.8, 2)), line((3.4, 1.2), (3.4, 2.8)),
        line((4.6, 1.2), (4.6, 2.8)), *COIL,
    )),
    stage=6,
    rows=(58,),
)
