"""Raise-lower valve: lets a hand set the body's height, for docking or for changing a body."""

from circuit.declaring.common import DELIVERY_LEAKS_OUT, EXHAUST, MEDIUM, OPEN, SHUT, SMALL, conductance, deliveries
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store
from circuit.declaring.symbol import Symbol, arrow, line, pilot, thick
from circuit.declaring.traits import Group, Role

RIDE, RAISE, LOWER, STOP = 0.0, 1.0, -1.0, 2.0

KIND = Kind(
    name="raise-lower-valve",
    title="Raise-lower valve",
    group=Group.LINES,
    purpose="Raises or lowers the body at a dock, past the levelling valve.",
    behaviour="Ride: the levelling valve at 12 works the bags at 2. Raise: 11 fills the bags. Lower: they vent to 3. "
              "Stop: all is shut. It must come back to ride before the vehicle moves.",
    ports=(
        Port("11", Role.SUPPLY, ("supply",)),
        Port("12", Role.SUPPLY, ("levelling",)),
        Port("2", Role.DELIVERY, ("bags",), holes_from="deliveries"),
        EXHAUST,
    ),
    settings=(
        Setting("returns", "word", "what brings it back to ride", choices=("on-motion", "without-current", "by-hand")),
        deliveries("1"),
        conductance("2 L/(s.bar)"),
    ),
    passages=(
        Passage("12", "2", "open in ride", lambda p, s, x: OPEN if x["position"] == RIDE else SHUT, True),
        Passage("11", "2", "open in raise", lambda p, s, x: OPEN if x["position"] == RAISE else SHUT),
        Passage("2", "3", "open in lower", lambda p, s, x: OPEN if x["position"] == LOWER else SHUT),
    ),
    stores=(Store("11", SMALL), Store("12", SMALL), Store("2", MEDIUM)),
    failures=(
        Failure("left-raised", "left in raise: the bags are over-filled", holds={"position": RAISE}),
        Failure("left-lowered", "left in lower: driven on the stops", holds={"position": LOWER}),
        Failure("stuck-mid-way", "stands between two positions: no levelling", holds={"position": STOP}),
        DELIVERY_LEAKS_OUT,
    ),
    rest={"position": RIDE},
    positions={"ride": {"position": RIDE}, "raise": {"position": RAISE}, "lower": {"position": LOWER},
               "stop": {"position": STOP}},
    symbol=Symbol(6, 4, {"11": (0, 1), "12": (0, 3), "3": (3, 4)}, grows="2", marks=(
        *arrow((0, 1), (2.6, 1.7)), line((0, 3), (2, 3), (2.6, 2.3)), line((3.2, 2), (5, 2)), pilot((3, 4), (3, 2.6)),
        thick((3, 0), (4.2, -1.4)),
    )),
    stage=10,
    turns=(("11", "12"),),
    rows=(84,),
)
