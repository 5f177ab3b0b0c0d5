"""Tube: plastic air-brake tubing, named by its outside diameter."""

from circuit.declaring.kind import Kind, Setting
from circuit.declaring.lines import (
    ELBOWS,
    INSERTS,
    LENGTH,
    LINE_ENDS,
    LINE_NAME,
    LINE_PASSAGES,
    LINE_PORTS,
    LINE_STORES,
    NEAR,
    RATED,
    RATED_TO,
    RUN,
    line_failures,
    with_elbows,
)
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="tube",
    title="Plastic tube",
    group=Group.LINES,
    purpose="Carries air between parts that do not move against each other.",
    behaviour="A restriction by its bore and length, with a volume of its own.",
    ports=LINE_PORTS,
    settings=(
        Setting("size", "size", "trade size: 3/8 in outside diameter, or 12x1.5 outside diameter and wall in mm",
                required=True),
        LENGTH,
        RUN,
        LINE_ENDS,
        NEAR,
        Setting("bend", "length", "the tightest radius it is bent to"),
        Setting("bend-held", "word", "whether a clip or former holds that bend", choices=("yes", "no")),
        ELBOWS,
        INSERTS,
        RATED,
        RATED_TO,
        LINE_NAME,
    ),
    passages=LINE_PASSAGES,
    stores=LINE_STORES,
    failures=line_failures("melts or rubs through"),
    traits=frozenset({Trait.LINE, Trait.MELTS, Trait.STIFF}),
    aliases=("tubing",),
    derive=with_elbows,
    derives=("resisting-length",),
    rows=(79,),
)
