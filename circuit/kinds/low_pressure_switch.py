"""Low-pressure switch: warns the driver while too little air is stored."""

from circuit.kinds.kind import ON, OUTSIDE, Failure, Group, Kind, Port, Role, Setting, Store, Trait, cavity

KIND = Kind(
    name="low-pressure-switch",
    title="Low-pressure switch",
    group=Group.GUARD,
    purpose="Warns the driver while too little air is stored.",
    behaviour="Its contact closes below its set pressure and opens above.",
    ports=(Port("4", Role.SPACE, ("sense",)),),
    settings=(
        ON,
        Setting("on-below", "pressure", "the warning is on below this", required=True),
    ),
    stores=(Store("4", cavity(0.002)),),
    failures=(
        Failure("dead", "gives no warning"),
        Failure("leaks", "leaks at its thread", opens=(("4", OUTSIDE),), share=0.005),
    ),
    traits=frozenset({Trait.WARNS_LOW}),
    stage=5,
    small=True,
)
