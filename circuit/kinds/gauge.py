"""Pressure gauge: shows the driver the pressure of the space it is on."""

from circuit.declaring.common import LEAKS_AT_THREAD, ON, THREAD
from circuit.declaring.kind import Failure, Kind, Port, Setting, Store
from circuit.declaring.symbol import Ring, Symbol, arrow, line
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="gauge",
    title="Pressure gauge",
    group=Group.GUARD,
    purpose="Shows the driver the pressure of the space it is on.",
    behaviour="Reads its own space and nothing else; behind a check valve it shows what the check valve kept.",
    ports=(Port("4", Role.SPACE, ("sense",)),),
    settings=(
        ON,
        Setting("reads-to", "pressure", "end of its scale"),
    ),
    stores=(Store("4", THREAD),),
    failures=(
        Failure("stuck", "shows a pressure that is not there", idle=("4",)),
        Failure("reads-high", "shows more than there is: the worst of the three, for nobody looks further", idle=("4",)),
        Failure("reads-low", "shows less than there is", idle=("4",)),
        LEAKS_AT_THREAD,
    ),
    traits=frozenset({Trait.SHOWS_PRESSURE}),
    symbol=Symbol(2, 3, {"4": (1, 3)}, body="none", marks=(
        line((1, 3), (1, 2.2)), Ring((1, 1.1), 1.1), *arrow((0.4, 1.7), (1.6, 0.5)),
    )),
    stage=5,
    small=True,
    rows=(32,),
)
