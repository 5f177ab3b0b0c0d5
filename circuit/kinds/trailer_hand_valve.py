"""Trailer hand valve: brakes the trailer alone, by a lever at the wheel."""

from circuit.declaring.common import (
    COMMON, DELIVERY_BY_COUNT, EXHAUST, MEDIUM, SIGNAL, SLIGHT, SUPPLY, conductance,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, thick
from circuit.declaring.traits import Group, Trait
from circuit.units import ATMOSPHERE


def demand(p, s, x):
    """The pressure the lever asks for, absolute Pa."""
    return ATMOSPHERE + x["lever"] * (s["full-delivery"] - ATMOSPHERE)


KIND = Kind(
    name="trailer-hand-valve",
    title="Trailer hand valve",
    group=Group.DRIVER,
    purpose="Lets the driver brake the trailer alone, to try its coupling or to keep it stretched.",
    behaviour="Feeds 2 from 1 until 2 has the pressure the lever asks for; when the lever goes back it vents 2 to 3. "
              "It joins the trailer's signal through a double check valve. Its air leaks away, so it is no parking "
              "brake.",
    ports=(SUPPLY, DELIVERY_BY_COUNT, EXHAUST),
    settings=(
        Setting("deliveries", "count", "how many holes port 2 has", Typical("1", COMMON)),
        Setting("full-delivery", "pressure", "pressure it asks for with the lever fully on",
                Typical("6 bar", COMMON + ": 5.5 to 8 bar", "5.5 bar", "8 bar")),
        Setting("lap", "difference", "how far 2 must be above the demand before it vents", Typical("0.15 bar", COMMON)),
        conductance("5 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while 2 is below the pressure the lever asks for", demand),
        Passage("2", "3", "open while 2 is above the pressure the lever asks for",
                lambda p, s, x: p["2"] - demand(p, s, x) - (s["lap"] if x["lever"] > 0 else 0.0)),
    ),
    graduated=(Graduated("1", "2", "lever"),),
    stores=(Store("1", MEDIUM), Store("2", SIGNAL)),
    failures=(
        Failure("left-on", "somebody left the lever on: the trailer's brakes drag", holds={"lever": 0.3}),
        Failure("stuck-shut", "the lever gives no air", shuts=(("1", "2"),)),
        Failure("does-not-release", "its exhaust stays shut: the trailer stays braked", shuts=(("2", "3"),)),
        Failure("leaks-at-exhaust", "supply air leaks to the exhaust", opens=(("1", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.TRAILER_HAND_CONTROL}),
    aliases=("trolley-valve", "independent-trailer-valve"),
    rest={"lever": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), pilot((3.2, 2), (3.2, 3.3), (2.2, 3.3)), line((2, 0), (2, -0.7)),
        thick((2, -0.7), (3.5, -1.6)),
    )),
    stage=6,
    turns=(("1", "2"),),
    rows=(37,),
)
