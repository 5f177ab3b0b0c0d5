"""Pipe: rigid copper or steel line, named by its bore."""

from circuit.declaring.kind import Kind, Setting
from circuit.declaring.lines import (
    ELBOWS,
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
    name="pipe",
    title="Rigid pipe",
    group=Group.LINES,
    purpose="Carries air where it is hot, as from the compressor's head.",
    behaviour="A restriction by its bore and length, with a volume of its own.",
    ports=LINE_PORTS,
    settings=(
        Setting("bore", "bore", "inside diameter", required=True),
        LENGTH,
        Setting("material", "word", "what it is made of", required=True, choices=("copper", "steel")),
        RUN,
        LINE_ENDS,
        NEAR,
        ELBOWS,
        RATED,
        RATED_TO,
        LINE_NAME,
    ),
    passages=LINE_PASSAGES,
    stores=LINE_STORES,
    failures=line_failures("cracks by fatigue or corrosion"),
    traits=frozenset({Trait.LINE, Trait.STIFF}),
    derive=with_elbows,
    derives=("resisting-length",),
    rows=(4, 81),
)
