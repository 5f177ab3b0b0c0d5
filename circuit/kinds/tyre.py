"""Tyre on a central inflation system: the largest space that air is spent on."""

from circuit.declaring.common import FROM_MEMORY, ONE_VOLUME
from circuit.declaring.kind import Kind, Port, Setting, Typical
from circuit.declaring.symbol import Ring, Symbol, line
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.air_spring import WHERE, bag_failures

KIND = Kind(
    name="tyre",
    title="Tyre",
    group=Group.WORK,
    purpose="Stands on the road; on this vehicle its pressure is set from the cab.",
    behaviour="A space of 100 to 250 L that may burst.",
    ports=(Port("1", Role.SPACE, ("valve",)),),
    settings=(*WHERE, Setting("volume", "volume", "air it holds",
                              Typical("150 L", FROM_MEMORY + ": 100 to 250 L", "100 L", "250 L"))),
    stores=(ONE_VOLUME,),
    failures=bag_failures("the tyre is flat, and the unit feeds the hole while it inflates"),
    traits=frozenset({Trait.USES_AIR}),
    aliases=("tire",),
    symbol=Symbol(6, 6, {"1": (0, 3)}, body="none", marks=(
        Ring((3.2, 3), 2.8), Ring((3.2, 3), 1.3), line((0, 3), (1.9, 3)),
    )),
    stage=13,
    rows=(86,),
)
