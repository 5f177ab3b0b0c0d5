"""Stop-lamp switch: lights the stop lamps while the service brakes are applied."""

from circuit.kinds.kind import ON, OUTSIDE, Failure, Group, Kind, Port, Role, Setting, Store, Trait, cavity

KIND = Kind(
    name="stop-lamp-switch",
    title="Stop-lamp switch",
    group=Group.GUARD,
    purpose="Lights the stop lamps while the service brakes are applied.",
    behaviour="Its contact closes above its set pressure.",
    ports=(Port("4", Role.SPACE, ("sense",)),),
    settings=(
        ON,
        Setting("on-above", "pressure", "the lamps are lit above this", required=True),
    ),
    stores=(Store("4", cavity(0.002)),),
    failures=(
        Failure("dead", "the lamps stay dark"),
        Failure("leaks", "leaks at its thread", opens=(("4", OUTSIDE),), share=0.005),
    ),
    traits=frozenset({Trait.LIGHTS_STOP_LAMP}),
    stage=5,
    small=True,
)
