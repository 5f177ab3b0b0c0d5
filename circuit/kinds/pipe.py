"""Pipe: rigid copper or steel line, named by its bore."""

from circuit.kinds.kind import (
    LENGTH, LINE_NAME, LINE_PASSAGES, LINE_PORTS, LINE_STORES, RUN, Group, Kind, Setting, Trait, line_failures,
)

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
        LINE_NAME,
    ),
    passages=LINE_PASSAGES,
    stores=LINE_STORES,
    failures=line_failures("cracks by fatigue or corrosion"),
    traits=frozenset({Trait.LINE}),
)
