"""Aftercooler: cools the compressor's air so that its water falls out before the dryer or the wet reservoir."""

from circuit.declaring.common import DELIVERY, HEAVY, SUPPLY, cavity, conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Passage, Store
from circuit.declaring.symbol import Stroke, Symbol, diamond, line
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="aftercooler",
    title="Aftercooler",
    group=Group.SOURCE,
    purpose="Brings the hot discharge air down towards the air outside, so that its water can be caught.",
    behaviour="Some metres of finned tube: a restriction that passes both ways. Water gathers in it and has to run on "
              "forward, so it must have no low point of its own.",
    ports=(SUPPLY, DELIVERY),
    settings=(conductance("8 L/(s.bar)"),),
    passages=(Passage("1", "2", "always open", both_ways=True, throat="fitting"),),
    stores=(Store("1", cavity(0.4)), Store("2", cavity(0.4))),
    failures=(
        Failure("frozen", "ice fills a low point: pressure does not build", shuts=(("1", "2"),)),
        Failure("split", "a tube has split by frost or shaking", opens=(("2", OUTSIDE),), share=0.5),
        Failure("coked", "oil carbon narrows it", shuts=(("1", "2"),),
                opens=(("1", "2"), ("2", "1")), share=HEAVY),
    ),
    traits=frozenset({Trait.COOLS}),
    aliases=("cooling-coil", "intercooler"),
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2)}, body="none", marks=(
        line((0, 2), (1, 2)), line((5, 2), (6, 2)), diamond(3, 2, 2), Stroke(((2.2, 3), (2.2, 1), (3, 3), (3, 1), (3.8,
        3), (3.8, 1))),
    )),
    stage=1,
    rows=(5,),
)
