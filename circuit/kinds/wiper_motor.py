"""Air wiper motor: takes air for as long as it runs."""

from circuit.declaring.common import OPEN, SHUT, VESSEL, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Passage, Port, Store
from circuit.declaring.symbol import Curve, Ring, Symbol, line
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="wiper-motor",
    title="Air wiper motor",
    group=Group.WORK,
    purpose="Wipes the screen by air.",
    behaviour="While its own valve stands open, air goes through it to the outside, stroke by stroke.",
    ports=(Port("1", Role.SPACE, ("supply",)),),
    settings=(conductance("0.1 L/(s.bar)"),),
    passages=(Passage("1", OUTSIDE, "open while it runs", lambda p, s, x: OPEN if x["running"] else SHUT, narrow=True),),
    stores=(Store("1", VESSEL),),
    failures=(
        Failure("leaks", "worn: blows by while it stands", opens=(("1", OUTSIDE),), share=0.5),
        Failure("stuck", "does not move", shuts=(("1", OUTSIDE),)),
    ),
    traits=frozenset({Trait.USES_AIR}),
    rest={"running": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2)}, body="none", marks=(
        line((0, 2), (1, 2)), Ring((2, 2), 1), line((2, 2), (3.2, -0.2)), Curve(((0.8, 0.2), (2, -0.8), (3.2, -0.2))),
    )),
    stage=12,
    rows=(66,),
)
