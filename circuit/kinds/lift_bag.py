"""Lift bag or lift cylinder: raises an axle that is not needed."""

from circuit.declaring.common import FROM_MEMORY, ONE_VOLUME
from circuit.declaring.kind import Kind, Port, Setting, Typical
from circuit.declaring.symbol import Curve, Symbol, arrow, line, plate
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.air_spring import WHERE, bag_failures

KIND = Kind(
    name="lift-bag",
    title="Lift bag",
    group=Group.WORK,
    purpose="Holds an axle up while the vehicle does not need it.",
    behaviour="A space that lifts while it holds air and lets the axle down when it is vented. It must not lift a "
              "laden axle: its valve is interlocked with the ride pressure.",
    ports=(Port("1", Role.SPACE, ("lift",), holes=0),),
    settings=(
        *WHERE,
        Setting("volume", "volume", "air it holds when lifted", Typical("5 L", FROM_MEMORY + ": 3 to 8 L", "3 L", "8 L")),
    ),
    stores=(ONE_VOLUME,),
    failures=bag_failures("the lifted axle drops to the road"),
    traits=frozenset({Trait.USES_AIR, Trait.MOVES}),
    aliases=("lift-cylinder",),
    symbol=Symbol(6, 4, {"1": (0, 2)}, body="none", marks=(
        line((0, 2), (1.4, 2)), line((1, 0.4), (5, 0.4)), line((1, 3.6), (5, 3.6)),
        plate((1.4, 0.4), (4.6, 0.4), (4.6, 3.6), (1.4, 3.6)), Curve(((1.4, 0.4), (0.4, 2), (1.4, 3.6))),
        Curve(((4.6, 0.4), (5.6, 2), (4.6, 3.6))), *arrow((3, 3.2), (3, 0.9)),
    )),
    stage=12,
    rows=(65,),
)
