"""Open end: where a piped-away exhaust or vent meets the air."""

from circuit.declaring.common import conductance
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Passage, Port
from circuit.declaring.symbol import Symbol, line, plate
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="open-end",
    title="Open end",
    group=Group.LINES,
    purpose="Says that a line ends in the open air on purpose.",
    behaviour="Always open to the atmosphere.",
    ports=(Port("1", Role.SPACE),),
    settings=(conductance("20 L/(s.bar)"),),
    passages=(Passage("1", OUTSIDE, "always open", throat="hole"),),
    failures=(Failure("blocked", "mud or ice closes it", shuts=(("1", OUTSIDE),)),),
    traits=frozenset({Trait.OPEN_END}),
    symbol=Symbol(2, 2, {"1": (0, 1)}, body="none",
                  marks=(line((0, 1), (0.8, 1)), plate((0.8, 0.3), (0.8, 1.7), (2, 1)))),
    stage=13,
)
