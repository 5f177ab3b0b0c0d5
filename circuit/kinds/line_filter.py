"""Line filter: keeps dirt of the hoses out of the trailer's valves."""

from circuit.declaring.common import DELIVERY, LARGE, MEDIUM, ON, STRONG, SUPPLY, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Store
from circuit.declaring.symbol import Symbol, diamond, pilot
from circuit.declaring.traits import Group

KIND = Kind(
    name="line-filter",
    title="Line filter",
    group=Group.TOWING,
    purpose="Keeps dirt that enters at the couplings out of the valves.",
    behaviour="Passes both ways; a spring lets air past the element when it is clogged.",
    ports=(SUPPLY, DELIVERY),
    settings=(ON, conductance("10 L/(s.bar)")),
    passages=(Passage("1", "2", "always open", both_ways=True, throat="bed"),),
    stores=(Store("1", LARGE), Store("2", MEDIUM)),
    failures=(
        Failure("clogged", "passes slowly: slow brake", shuts=(("1", "2"),), opens=(("1", "2"), ("2", "1")), share=STRONG),
        Failure("blocked", "clogged or frozen: nothing passes", shuts=(("1", "2"),)),
        Failure("element-collapsed", "its element is torn: dirt goes on into the valves",
                proof="take it out and look: the element must be whole, and the bowl behind it clean"),
    ),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2)}, body="none", marks=(diamond(2, 2, 2), pilot((2, 0), (2, 4)))),
    stage=1,
    rows=(77,),
)
