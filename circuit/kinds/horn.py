"""Horn: an open pipe for as long as it sounds."""

from circuit.declaring.common import COMMON, LARGE, OPEN, SHUT, STRONG, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, line, plate
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="horn",
    title="Horn",
    group=Group.WORK,
    purpose="Warns others, and eats as much air as a small compressor makes while it sounds.",
    behaviour="With a valve of its own it is shut until it is sounded; without one it is a pipe behind the "
              "valve that feeds it, always open. About 100 to 300 L/min of free air.",
    ports=(Port("1", Role.SPACE, ("supply",)),),
    settings=(
        Setting("own-valve", "word", "whether a valve of its own shuts it", Typical("yes", COMMON),
                choices=("yes", "no")),
        conductance("0.4 L/(s.bar)"),
    ),
    passages=(Passage("1", OUTSIDE, "open while it sounds, or always where it has no valve of its own", narrow=True,
                      opening=lambda p, s, x: OPEN if x["sounding"] or s["own-valve"] == "no" else SHUT),),
    stores=(Store("1", LARGE),),
    failures=(
        Failure("stuck-on", "does not stop sounding: its circuit is drained as fast as it is filled",
                holds={"sounding": 1.0}, opens=(("1", OUTSIDE),)),
        Failure("leaks", "its valve leaks", opens=(("1", OUTSIDE),), share=STRONG),
    ),
    traits=frozenset({Trait.USES_AIR}),
    aliases=("air-horn",),
    rest={"sounding": 0.0},
    symbol=Symbol(6, 4, {"1": (0, 2)}, body="none", marks=(
        line((0, 2), (1, 2)), plate((1, 1.4), (2, 1.4), (2, 2.6), (1, 2.6)), plate((2, 1.7), (4.4, 1.2), (5.6, 0.2),
        (5.6, 3.8), (4.4, 2.8), (2, 2.3)),
    )),
    stage=12,
    rows=(68,),
)
