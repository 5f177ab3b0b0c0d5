"""Consumer: anything that takes brake-system air for another purpose."""

from circuit.declaring.common import FROM_MEMORY, ONE_VOLUME, SLIGHT
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Typical
from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="consumer",
    title="Air consumer",
    group=Group.WORK,
    purpose="Stands for a horn, a seat, a door, a suspension bag or any other user that is not a brake.",
    behaviour="A space of some volume that fills and may burst; what it does with the air is not modelled.",
    ports=(Port("1", Role.SPACE, ("supply",)),),
    settings=(
        Setting("use", "text", "what it is, in words", required=True),
        Setting("volume", "volume", "air it holds", Typical("0.5 L", FROM_MEMORY)),
    ),
    stores=(ONE_VOLUME,),
    failures=(
        Failure("burst", "its line or bag bursts", opens=(("1", OUTSIDE),)),
        Failure("leaks", "leaks steadily", opens=(("1", OUTSIDE),), share=SLIGHT),
    ),
    traits=frozenset({Trait.USES_AIR}),
    symbol=Symbol(8, 2, {"1": (0, 1)}, body="round", inside=True),
    stage=6,
)
