"""Tyre inflation unit: fills and empties the tyres from the cab, the brakes first."""

from circuit.declaring.common import EXHAUST, LARGE, OPEN, PILOT, SHUT, SLIGHT, SUPPLY, conductance, deliveries
from circuit.declaring.kind import KEEPS, Failure, Kind, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line, pilot
from circuit.declaring.traits import Group, Role, Trait


def _feeds(p, s, x):
    asked = OPEN if x["inflating"] else SHUT
    return min(asked, p["4"] - s["shuts-at"], s["inflates-to"] - p["2"], p["1"] - p["2"])


def _vents(p, s, x):
    if x["inflating"]:
        return SHUT
    return p["2"] - s["deflates-to"] if x["deflating"] else OPEN


KIND = Kind(
    name="tyre-inflation-unit",
    title="Tyre inflation unit",
    group=Group.LINES,
    purpose="Lets the driver set the tyres for road, sand or mud, without ever taking the brakes' air.",
    behaviour="Inflating, it feeds 2 from 1 up to the target, but only while the brake reservoir sensed at 4 is above "
              "the brake priority. Deflating, it vents 2 to 3 down to the lower target. At rest it vents the line, so "
              "that the wheel valves shut. Tyres are the largest user of air on a vehicle.",
    ports=(
        SUPPLY,
        Port("2", Role.DELIVERY, ("tyres",), holes_from="deliveries", lost=KEEPS),
        EXHAUST,
        Port("4", Role.CONTROL, ("priority",)),
    ),
    settings=(
        Setting("shuts-at", "pressure", "brake priority: pressure at 4 below which it feeds no tyre",
                Typical("5.9 bar", "US Army TM 9-2320-363-10: 85 psi")),
        Setting("inflates-to", "pressure", "tyre pressure for the road",
                Typical("4.5 bar", "US Army TM 9-2320-363-10: 65 psi")),
        Setting("deflates-to", "pressure", "lowest tyre pressure, for mud or sand",
                Typical("1.1 bar", "US Army TM 9-2320-363-10: 15 to 18 psi", "15 psi", "18 psi")),
        deliveries("1"),
        conductance("5 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while inflating, below the target, above the priority", _feeds, keeps="shuts-at"),
        Passage("2", "3", "open while deflating above the lower target, and at rest", _vents),
    ),
    stores=(Store("1", LARGE), Store("2", LARGE), Store("4", PILOT)),
    failures=(
        Failure("no-priority", "feeds the tyres whatever the brakes have", opens=(("1", "2"),)),
        Failure("stuck-shut", "does not inflate", shuts=(("1", "2"),)),
        Failure("does-not-vent", "the line stays charged: the wheel valves stay open", shuts=(("2", "3"),)),
        Failure("leaks", "leaks at its exhaust while it inflates", opens=(("2", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.KEEPS_BACK}),
    aliases=("tire-inflation-unit", "central-tyre-inflation"),
    rest={"inflating": 1.0, "deflating": 0.0},
    when={"parked": {"inflating": 0.0}},
    orders=(Ordered("deflates-to", "inflates-to", equal=True),),
    symbol=Symbol(6, 4, {"1": (0, 1), "4": (0, 3), "3": (3, 4)}, grows="2", marks=(
        *arrow((0, 1), (2.4, 1.7)), pilot((0, 3), (2, 3), (2, 2.3)), line((3.8, 2), (5, 2)), line((3, 4), (3, 2.7)),
        Ring((3.1, 2), 0.7), Ring((3.1, 2), 0.25),
    )),
    stage=9,
    turns=(("1", "2"), ("1", "4")),
    rows=(86,),
)
