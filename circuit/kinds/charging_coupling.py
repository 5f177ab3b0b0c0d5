"""Outside charging coupling: lets a workshop or a towing vehicle fill the system."""

from circuit.declaring.common import DELIVERY, MEDIUM, ON, SLIGHT, SMALL, conductance
from circuit.declaring.kind import KEEPS, Failure, Kind, Passage, Port, Store
from circuit.declaring.symbol import Curve, Ring, Symbol, line
from circuit.declaring.traits import Group, Role

KIND = Kind(
    name="charging-coupling",
    title="Outside charging coupling",
    group=Group.SOURCE,
    purpose="Takes air from a workshop line or a towing vehicle when the engine does not run.",
    behaviour="Its check passes air from the hose at 1 into the system at 2 and keeps it there when the hose is taken "
              "off. Without a hose, 1 is capped and does nothing.",
    ports=(
        DELIVERY._replace(lost=KEEPS),
        Port("1", Role.SUPPLY, ("outside",), required=False),
    ),
    settings=(ON, conductance("6 L/(s.bar)")),
    passages=(Passage("1", "2", "open while the hose at 1 holds more than 2", lambda p, s, x: p["1"] - p["2"]),),
    stores=(Store("2", SMALL), Store("1", MEDIUM)),
    failures=(
        Failure("no-check", "the check is missing or stuck: air goes out with the hose off", opens=(("2", "1"),)),
        Failure("leaks", "the check does not seal", opens=(("2", "1"),), share=SLIGHT),
    ),
    aliases=("tow-air-coupling", "fill-coupling", "workshop-coupling"),
    symbol=Symbol(4, 2, {"2": (4, 1), "1": (0, 1)}, body="none", marks=(
        Curve(((0.6, -0.1), (-0.5, 1), (0.6, 2.1))), line((0, 1), (1.6, 1)), line((2.8, 1), (4, 1)),
        line((2.8, -0.1), (1.6, 1), (2.8, 2.1)), Ring((2.45, 1), 0.6),
    )),
    stage=2,
    rows=(13,),
)
