"""Dummy coupling: closes a coupling head that nothing is coupled to."""

from circuit.declaring.common import ON
from circuit.declaring.kind import Failure, Kind, Port
from circuit.declaring.symbol import Symbol, line, plate
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="dummy-coupling",
    title="Dummy coupling",
    group=Group.TOWING,
    purpose="Keeps dirt out of a coupling head, and air in, while nothing is coupled.",
    behaviour="A plug on its head. On a control line it must not be the reason why signal pressure stays.",
    ports=(Port("1", Role.SPACE),),
    settings=(ON,),
    failures=(Failure("lost", "dirt gets into the head and its line"),),
    traits=frozenset({Trait.CAPS}),
    aliases=("parking-coupling", "blanking-coupling"),
    symbol=Symbol(2, 2, {"1": (1, 2)}, body="none", marks=(
        line((1, 2), (1, 1.2)), plate((0.2, 0.5), (1.8, 0.5), (1.8, 1.2), (0.2, 1.2)),
    )),
    stage=13,
    small=True,
    rows=(70,),
)
