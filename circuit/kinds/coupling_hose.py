"""Coupling hose: the flexible line between two vehicles, straight or coiled."""

from circuit.declaring.common import COMMON, MODEST
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Setting, Typical
from circuit.declaring.lines import LENGTH, LINE_NAME, LINE_PASSAGES, LINE_PORTS, LINE_STORES, line_failures
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="coupling-hose",
    title="Inter-vehicle hose or coil",
    group=Group.TOWING,
    purpose="Carries air from one vehicle to the next, with slack enough for every turn.",
    behaviour="A restriction by its bore and length, with a volume of its own. The vehicle that carries it draws it, "
              "as the last line before its coupling head.",
    ports=LINE_PORTS,
    settings=(
        Setting("bore", "bore", "inside diameter", required=True),
        LENGTH,
        Setting("form", "word", "how it gives way", Typical("hose", COMMON), choices=("hose", "coil")),
        LINE_NAME,
    ),
    passages=LINE_PASSAGES,
    stores=LINE_STORES,
    failures=(
        *line_failures("torn off in a turn, or chafed through"),
        Failure("chafed", "chafed at the catwalk or worn by its spring: it hisses as the trailer turns", opens=(("2", OUTSIDE),),
                share=MODEST),
    ),
    traits=frozenset({Trait.LINE}),
    aliases=("jumper-hose", "coiled-hose"),
    rows=(71,),
)
