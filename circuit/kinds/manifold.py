"""Manifold: a block with several holes and one space."""

from circuit.declaring.common import LARGE, MODEST
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Store
from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="manifold",
    title="Manifold",
    group=Group.LINES,
    purpose="Lets one line branch into many.",
    behaviour="One space: all its holes have one pressure.",
    ports=(Port("1", Role.SPACE, holes_from="holes"),),
    settings=(Setting("holes", "count", "how many holes it has", required=True),),
    stores=(Store("1", LARGE),),
    failures=(Failure("leaks", "leaks at a fitting", opens=(("1", OUTSIDE),), share=MODEST),),
    traits=frozenset({Trait.JOINS}),
    aliases=("block",),
    symbol=Symbol(2, 4, body="bar", grows="1", both=True),
    stage=7,
    rows=(82,),
)
