"""Tee: joins three lines."""

from circuit.declaring.common import MODEST, PILOT
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Store
from circuit.declaring.symbol import Symbol
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="tee",
    title="Tee",
    group=Group.LINES,
    purpose="Lets one line branch into two.",
    behaviour="One space: whatever pressure one line has, all three have.",
    ports=(Port("1", Role.SPACE, holes=3),),
    stores=(Store("1", PILOT),),
    failures=(Failure("loose", "leaks at a nut", opens=(("1", OUTSIDE),), share=MODEST),),
    traits=frozenset({Trait.JOINS}),
    symbol=Symbol(2, 2, body="bar", grows="1", both=True, joint=True),
    stage=7,
    rows=(82,),
)
