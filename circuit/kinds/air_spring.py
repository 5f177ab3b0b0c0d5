"""Air spring: a bag that carries a part of the vehicle on air."""

from circuit.declaring.common import FROM_MEMORY, ONE_VOLUME, TINY
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Typical
from circuit.declaring.symbol import Curve, Symbol, line, plate
from circuit.declaring.traits import Group, Role, Trait

WHERE = (
    Setting("axle", "name", "the axle it stands on"),
    Setting("side", "word", "left or right, seen by the driver", choices=("left", "right")),
)


def bag_failures(bursts):
    """What goes wrong with any bag; bursts: what the driver sees then."""
    return (
        Failure("burst", bursts, opens=(("1", OUTSIDE),)),
        Failure("leaks", "chafed or porous: leaks steadily", opens=(("1", OUTSIDE),), share=TINY),
    )


KIND = Kind(
    name="air-spring",
    title="Air spring",
    group=Group.WORK,
    purpose="Carries the load on air, so that the ride height stays while the load changes.",
    behaviour="A space of nearly constant volume at ride height; its force is its pressure times its effective area, "
              "so its pressure shows the load.",
    ports=(Port("1", Role.SPACE, ("bag",), holes=0),),
    settings=(
        *WHERE,
        Setting("volume", "volume", "air it holds at ride height", Typical("12 L", FROM_MEMORY + ": 8 to 20 L", "8 L", "20 L")),
        Setting("area", "area", "effective area, where a load is to be worked out"),
    ),
    stores=(ONE_VOLUME,),
    failures=(
        *bag_failures("the vehicle leans, and the levelling valve feeds the hole"),
        Failure("over-height", "no check strap holds it: it is stretched beyond its length and tears"),
    ),
    traits=frozenset({Trait.USES_AIR, Trait.CARRIES_BODY}),
    aliases=("bellows", "ride-bag", "air-bag"),
    symbol=Symbol(6, 6, {"1": (0, 3)}, body="none", marks=(
        line((0, 3), (1.4, 3)), line((1, 0.4), (5, 0.4)), line((1, 5.6), (5, 5.6)),
        plate((1.4, 0.4), (4.6, 0.4), (4.6, 5.6), (1.4, 5.6)), Curve(((1.4, 0.4), (0.4, 1.7), (1.4, 3))),
        Curve(((1.4, 3), (0.4, 4.3), (1.4, 5.6))), Curve(((4.6, 0.4), (5.6, 1.7), (4.6, 3))),
        Curve(((4.6, 3), (5.6, 4.3), (4.6, 5.6))), line((1.4, 3), (4.6, 3)),
    )),
    stage=12,
    rows=(64,),
)
