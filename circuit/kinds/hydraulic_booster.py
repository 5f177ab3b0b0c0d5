"""Air-over-hydraulic booster: an air piston that presses brake fluid."""

from circuit.declaring.common import AXLE, COMMON, FROM_MEMORY, HEAVY, SIDE
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Store, Typical
from circuit.declaring.symbol import Stroke, Symbol, line, plate, thick
from circuit.declaring.traits import Group, Role, Trait
from circuit.gas.chamber import knots, volume
from circuit.kinds.chamber import SIZES, STROKES


def _sizes(settings):
    """Area m2, volumes m3 of the air side: nothing is rated, so its stroke volume counts."""
    area = int(settings["type"].partition("/")[0]) * 0.0254**2
    swept = area * settings["stroke"]
    actual = settings["holds"] or 1.15 * swept
    return {"area": area, "rated-volume": None, "prefill": max(actual - swept, 0.05 * swept), "full-volume": actual}


KIND = Kind(
    name="hydraulic-booster",
    title="Air-over-hydraulic booster",
    group=Group.WORK,
    purpose="Works the hydraulic brakes of an axle with air.",
    behaviour="Air at 1 drives a large piston, a small one presses the fluid: the fluid's pressure is the air's times "
              "the ratio of their areas. The fluid side is not drawn; the air side counts with its stroke volume. "
              "When fluid is lost the piston reaches its end and presses no more.",
    ports=(Port("1", Role.SPACE, ("supply", "service")),),
    settings=(
        Setting("type", "chamber", "nominal area of the air piston in square inches", required=True),
        Setting("stroke", "length", "full stroke of the air piston", required=True, within=("1 in", "15 in")),
        AXLE,
        SIDE._replace(says="left or right, or both when it works a whole axle", choices=("left", "right", "both"),
                      typical=Typical("both", COMMON), required=False),
        Setting("ratio", "ratio", "fluid pressure for each air pressure", Typical("18", COMMON + ": 15 to 25", "15", "25")),
        Setting("holds", "volume", "air volume at full stroke as its maker publishes it"),
        Setting("working-stroke", "length", "piston travel with the brakes adjusted",
                Typical("2 in", FROM_MEMORY)),
    ),
    stores=(Store("1", volume, knots),),
    failures=(
        Failure("fluid-lost", "the piston reaches its end: no force on this axle", idle=("1",)),
        Failure("piston-leaks", "leaks while applied", opens=(("1", OUTSIDE),), share=HEAVY),
    ),
    traits=frozenset({Trait.SERVICE_ACTUATOR}),
    derive=_sizes,
    derives=SIZES[:4],
    orders=STROKES,
    aliases=("air-over-hydraulic-booster", "air-hydraulic-booster"),
    symbol=Symbol(9, 4, {"1": (0, 2)}, body="none", marks=(
        plate((0, 0.2), (4.4, 0.2), (4.4, 3.8), (0, 3.8)), plate((4.4, 1.2), (7.4, 1.2), (7.4, 2.8), (4.4, 2.8)),
        thick((1.6, 0.4), (1.6, 3.6)), line((1.6, 2), (5.6, 2)), thick((5.6, 1.3), (5.6, 2.7)),
        Stroke(((7.4, 2), (9, 2)), weight=0.3),
    )),
    stage=12,
    rows=(59,),
)
