"""Hose: flexible line, named by its bore."""

from circuit.declaring.common import COMMON
from circuit.declaring.kind import Kind, Setting, Typical
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
    name="hose",
    title="Hose",
    group=Group.LINES,
    purpose="Carries air between parts that move, or where it is too hot for plastic tube.",
    behaviour="A restriction by its bore and length, with a volume of its own.",
    ports=LINE_PORTS,
    settings=(
        Setting("bore", "bore", "inside diameter", required=True),
        LENGTH,
        Setting("material", "word", "what it is made of", Typical("rubber", COMMON), choices=("rubber", "metal-braid")),
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
    failures=line_failures("bursts"),
    traits=frozenset({Trait.LINE}),
    derive=with_elbows,
    derives=("resisting-length",),
    rows=(4, 80),
)
