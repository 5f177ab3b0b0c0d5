"""Brake cylinder: a piston, or the chamber of a disc brake, that pushes its brake without a slack adjuster."""

from circuit.declaring.common import FROM_MEMORY
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, line, plate, spring, thick
from circuit.declaring.traits import Group, Role, Trait
from circuit.gas.chamber import knots, volume
from circuit.kinds.chamber import CHAMBER, SIZES, STROKES, TYRE_RADIUS, sizes

DRUM = ("slack-length", "cam-radius", "cam-efficiency", "brake-factor", "drum-radius", "tyre-radius")

KIND = Kind(
    name="brake-cylinder",
    title="Brake cylinder, piston or disc brake",
    group=Group.WORK,
    purpose="Pushes a disc brake's lever or a wedge with a force of pressure times area.",
    behaviour="As a brake chamber: it takes up the clearance at almost constant pressure, then pushes with pressure "
              "times area. The brake adjusts itself inside, so the travel stays short.",
    ports=(Port("1", Role.SPACE, ("service", "supply")),),
    settings=tuple(
        setting._replace(typical=Typical("1.3 in", FROM_MEMORY + ": 1 to 1.6 in", "1 in", "1.6 in"))
        if setting.name == "working-stroke" else setting for setting in CHAMBER if setting.name not in DRUM
    ) + (
        Setting("lever-ratio", "ratio", "push on the pads over the push of the rod, losses taken off",
                usual=Typical("15", FROM_MEMORY + ": 14 to 16", "14", "16")),
        Setting("pad-friction", "ratio", "friction of the pads on the disc",
                usual=Typical("0.38", FROM_MEMORY + ": 0.33 to 0.42", "0.33", "0.42")),
        Setting("disc-radius", "length", "effective radius of the disc, at the middle of the pads",
                usual=Typical("173 mm", FROM_MEMORY + ", for wheels of 22.5 in")),
        TYRE_RADIUS,
    ),
    stores=(Store("1", volume, knots),),
    failures=(
        Failure("seal-torn", "leaks while applied", opens=(("1", OUTSIDE),), share=0.3),
        Failure("adjuster-stuck", "the travel grows until it is used up: no force", idle=("1",)),
        Failure("caliper-seized", "caliper or guide pins are seized: once braked, this wheel drags and heats", jams=("1",)),
    ),
    traits=frozenset({Trait.SERVICE_ACTUATOR}),
    derive=sizes,
    derives=SIZES,
    orders=STROKES,
    aliases=("disc-brake-cylinder", "piston-cylinder"),
    symbol=Symbol(9, 4, {"1": (0, 2)}, body="none", marks=(
        line((0, 2), (2, 2)), plate((2, 0.4), (5, 0.4), (5, 3.6), (2, 3.6)), thick((3, 0.6), (3, 3.4)),
        spring(3, 5, 2.9, 0.4), line((3, 1.84), (9, 1.84)), line((3, 2.16), (9, 2.16)),
    )),
    stage=12,
    rows=(62,),
)
