"""Spring release valve: a second, held-in control that lifts the springs from a reservoir of their own."""

from circuit.declaring.common import DELIVERY, EXHAUST, OPEN, SHUT, SLIGHT, SMALL, SUPPLY, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Store
from circuit.declaring.symbol import Ring, Symbol, arrow, line, upright_spring
from circuit.declaring.traits import Group

KIND = Kind(
    name="spring-release-valve",
    title="Spring release valve",
    group=Group.DRIVER,
    purpose="Lifts the spring brakes a few times after the air is lost, to clear a road or a crossing.",
    behaviour="While held in, 2 is fed from 1, a protected reservoir; let go, a spring returns it and 2 vents to 3. It "
              "joins the spring line through a double check valve.",
    ports=(SUPPLY, DELIVERY, EXHAUST),
    settings=(conductance("6 L/(s.bar)"),),
    passages=(
        Passage("1", "2", "open while it is held in", lambda p, s, x: OPEN if x["held"] else SHUT, both_ways=True),
        Passage("2", "3", "open while it is let go", lambda p, s, x: SHUT if x["held"] else OPEN),
    ),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("stuck-in", "the springs do not come on again", holds={"held": 1.0}),
        Failure("stuck-out", "the springs cannot be lifted", shuts=(("1", "2"),)),
        Failure("leaks", "leaks at the exhaust: its reservoir is empty when needed", opens=(("1", "3"),), share=SLIGHT),
    ),
    aliases=("emergency-release-valve",),
    rest={"held": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), upright_spring(2, 2.6, 4, 0.4), line((2, 0), (2, -1)), Ring((2, -1.4), 0.4),
    )),
    stage=8,
    turns=(("1", "2"),),
    rows=(42,),
)
