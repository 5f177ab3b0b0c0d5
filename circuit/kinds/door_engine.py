"""Door engine, or ramp cylinder: a double-acting cylinder that opens with one side and shuts with the other."""

from circuit.declaring.common import FROM_MEMORY, MODEST, STRONG
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, line, plate, thick
from circuit.declaring.traits import Group, Role, Trait


def _side(settings, pressure):
    return settings["volume"]


KIND = Kind(
    name="door-engine",
    title="Door engine",
    group=Group.WORK,
    purpose="Opens and shuts a door or a ramp.",
    behaviour="Air at 11 with 12 vented opens, air at 12 with 11 vented shuts; with both empty a hand can move it.",
    ports=(Port("11", Role.SPACE, ("opens",)), Port("12", Role.SPACE, ("shuts",))),
    settings=(
        Setting("volume", "volume", "air of one side at full travel",
                Typical("0.6 L", FROM_MEMORY + ": 0.3 to 1.5 L", "0.3 L", "1.5 L")),
    ),
    stores=(Store("11", _side), Store("12", _side)),
    failures=(
        Failure("leaks", "a rod seal or line leaks", opens=(("11", OUTSIDE),), share=MODEST),
        Failure("burst", "a line comes off", opens=(("11", OUTSIDE), ("12", OUTSIDE))),
        Failure("piston-leaks", "air passes the piston: it creeps and traps", opens=(("11", "12"), ("12", "11")),
                share=STRONG),
    ),
    traits=frozenset({Trait.USES_AIR, Trait.MOVES}),
    aliases=("ramp-cylinder", "door-cylinder"),
    symbol=Symbol(8, 4, {"11": (0, 1), "12": (0, 3)}, body="none", marks=(
        plate((1, 0.6), (5.4, 0.6), (5.4, 3.4), (1, 3.4)), line((0, 1), (1, 1)), line((0, 3), (0.5, 3), (0.5, 3.9),
        (5, 3.9), (5, 3.4)), thick((3, 0.6), (3, 3.4)), line((3, 1.8), (8, 1.8)), line((3, 2.2), (8, 2.2)),
    )),
    stage=12,
    rows=(66,),
)
