"""Reservoir, or tank: keeps the air. Its role says what the air is for."""

from circuit.declaring.common import ONE_VOLUME, SLIGHT
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting
from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="reservoir",
    title="Reservoir",
    group=Group.STORE,
    purpose="Keeps air ready, so that the brakes work whether the compressor runs or not.",
    behaviour="One space with one pressure; every line and part on it sees that pressure. A supply (wet) reservoir is "
              "the first after the compressor and gathers the water; a service reservoir feeds brake valves. "
              "Two rooms in one shell are two reservoirs and a `partition` between them.",
    ports=(Port("1", Role.SPACE, ("supply", "delivery"), holes=0),),
    settings=(
        Setting("volume", "volume", "inside volume", required=True, within=("0.05 L", "1500 L")),
        Setting("rated", "pressure", "highest working pressure on its plate", required=True),
        Setting("role", "word", "what its air is for", required=True,
                choices=("supply", "service", "parking", "auxiliary", "regeneration")),
        Setting("tested-to", "pressure", "hydrostatic test pressure its maker declares"),
        Setting("holes", "count", "bosses it has; unused ones are then findings"),
    ),
    stores=(ONE_VOLUME,),
    failures=(
        Failure("burst", "its air is lost at once", opens=(("1", OUTSIDE),)),
        Failure("leaks", "a seam or boss leaks", opens=(("1", OUTSIDE),), share=SLIGHT),
        Failure("full-of-water", "half of it is water: half the applications are left in it", scales={"volume": 0.5},
                proof="let it down by its drain and measure what comes: no more than a cup"),
    ),
    traits=frozenset({Trait.STORES_AIR}),
    aliases=("tank",),
    symbol=Symbol(12, 4, body="capsule", grows="1", both=True, inside=True,
                  stages=("role", {"supply": 3, "regeneration": 3})),
    stage=5,
    rows=(8, 14, 15, 17, 18),
)
