"""Service brake chamber: turns pressure into push."""

from circuit.gas.chamber import volume
from circuit.kinds.kind import AXLE, COMMON, FROM_MEMORY, OUTSIDE, SIDE, Failure, Group, Kind, Port, Role, Setting, Store, Trait, Typical

CHAMBER = (
    Setting("type", "chamber", "trade number, the nominal area in square inches", required=True),
    Setting("stroke", "length", "full stroke", required=True),
    AXLE,
    SIDE,
    Setting("holds", "volume", "volume at full stroke as its maker publishes it, pre-fill included"),
    Setting("working-stroke", "length", "push-rod travel with the brake adjusted",
            Typical("1.5 in", FROM_MEMORY + ": 1 to 2 in with automatic adjusters")),
    Setting("slack-length", "length", "effective length of the slack adjuster"),
)

KIND = Kind(
    name="chamber",
    title="Service brake chamber",
    group=Group.WORK,
    purpose="Pushes the slack adjuster, and so the shoes, with a force of pressure times area.",
    behaviour="A diaphragm moves when the return spring's pressure is passed, takes up the clearance at almost "
              "constant pressure, then pushes with pressure times area until the stroke is used up.",
    ports=(Port("1", Role.SPACE, ("service", "supply")),),
    settings=CHAMBER,
    stores=(Store("1", volume),),
    failures=(
        Failure("diaphragm-torn", "leaks while applied", opens=(("1", OUTSIDE),), share=0.3),
        Failure("overstroked", "the stroke is used up before the shoes are pressed: no force"),
    ),
    traits=frozenset({Trait.SERVICE_ACTUATOR}),
    aliases=("service-chamber", "brake-chamber"),
    stage=12,
)
