"""Air seat: the driver's seat on a small bag of its own."""

from circuit.declaring.common import FROM_MEMORY, ONE_VOLUME
from circuit.declaring.kind import Kind, Port, Setting, Typical
from circuit.declaring.symbol import Symbol, line, plate, thick
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.air_spring import bag_failures

KIND = Kind(
    name="air-seat",
    title="Air seat",
    group=Group.WORK,
    purpose="Keeps the driver off the worst of the road.",
    behaviour="A small bag with a levelling valve of its own inside; to the circuit it is a space that may leak.",
    ports=(Port("1", Role.SPACE, ("supply",)),),
    settings=(Setting("volume", "volume", "air it holds", Typical("0.5 L", FROM_MEMORY + ": 0.3 to 1.5 L", "0.3 L", "1.5 L")),),
    stores=(ONE_VOLUME,),
    failures=bag_failures("the seat sinks to its stop"),
    traits=frozenset({Trait.USES_AIR}),
    aliases=("seat",),
    symbol=Symbol(4, 4, {"1": (0, 2)}, body="none", marks=(
        line((0, 2), (1, 2), (1, 2.6)), plate((0.6, 2.6), (3.4, 2.6), (3.4, 3.8), (0.6, 3.8)),
        thick((0.4, 2), (3.2, 2)), thick((3.2, 2), (3.7, -0.2)),
    )),
    stage=12,
    rows=(66,),
)
