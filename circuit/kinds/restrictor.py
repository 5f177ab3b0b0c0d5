"""Restrictor: a small fixed bore that slows the air down."""

from circuit.declaring.common import COMMON, DELIVERY, PILOT, SUPPLY
from circuit.declaring.kind import Failure, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Symbol, line
from circuit.declaring.traits import Group
from circuit.gas.flow import hole

BORE = Setting("bore", "bore", "bore of its hole", required=True)
CONDUCTANCE = Setting("conductance", "conductance", "sonic conductance of the hole, where not to follow from its bore")


def by_bore(settings):
    """The sonic conductance that follows from the bore as that of a sharp hole, where none is given."""
    return {"conductance": settings["conductance"] or hole(settings["bore"])}


KIND = Kind(
    name="restrictor",
    title="Restrictor",
    group=Group.GUARD,
    purpose="Slows air down: damps a levelling line, delays a signal, starves a hose that bursts.",
    behaviour="Always open both ways, as wide as its bore.",
    ports=(SUPPLY, DELIVERY),
    settings=(
        BORE,
        CONDUCTANCE,
        Setting("filtered", "word", "whether a screen before the hole keeps swarf out", Typical("no", COMMON),
                choices=("yes", "no")),
    ),
    passages=(Passage("1", "2", "always open, narrowly", both_ways=True, narrow=True, throat="hole"),),
    stores=(Store("1", PILOT), Store("2", PILOT)),
    failures=(Failure("blocked", "ice or swarf fills the hole", shuts=(("1", "2"),)),),
    aliases=("choke", "orifice", "throttle"),
    derive=by_bore,
    symbol=Symbol(4, 2, {"1": (0, 1), "2": (4, 1)}, body="none", marks=(
        line((0, 1), (4, 1)), Curve(((1, 0), (2, 0.9), (3, 0))), Curve(((1, 2), (2, 1.1), (3, 2))),
    )),
    stage=6,
    rows=(30,),
)
