"""Foot valve, single circuit."""

from circuit.declaring.common import (
    COMMON, DELIVERY_BY_COUNT, EXHAUST, EXHAUST_ICED, FROM_MEMORY, LARGE, MEDIUM, SLIGHT, SUPPLY, conductance,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, thick
from circuit.declaring.traits import Group, Trait
from circuit.units import ATMOSPHERE


def demand(p, s, x):
    """The pressure the pedal asks for, absolute Pa. p: pressures; s: settings; x: state with the pedal from 0 to 1."""
    return ATMOSPHERE + x["pedal"] * (s["full-delivery"] - ATMOSPHERE)


KIND = Kind(
    name="foot-valve",
    title="Foot valve",
    group=Group.DRIVER,
    purpose="Gives the brakes a pressure that grows with the driver's foot.",
    behaviour="Feeds 2 from 1 until 2 has the pressure the pedal asks for, then laps and holds; when the pedal rises "
              "it vents 2 to 3 down to the smaller pressure.",
    ports=(SUPPLY, DELIVERY_BY_COUNT, EXHAUST),
    settings=(
        Setting("deliveries", "count", "how many holes port 2 has", Typical("1", COMMON)),
        Setting("full-delivery", "pressure", "pressure it asks for at full stroke, never more than its supply gives",
                Typical("10 bar", FROM_MEMORY)),
        Setting("lap", "difference", "how far 2 must be above the demand before it vents", Typical("0.1 bar", COMMON)),
        conductance("8 L/(s.bar)", "6 L/(s.bar)", "16 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while 2 is below the pressure the pedal asks for", demand),
        Passage("2", "3", "open while 2 is above the pressure the pedal asks for",
                lambda p, s, x: p["2"] - demand(p, s, x) - (s["lap"] if x["pedal"] > 0 else 0.0)),
    ),
    graduated=(Graduated("1", "2", "pedal"),),
    stores=(Store("1", MEDIUM), Store("2", LARGE)),
    failures=(
        Failure("stuck-shut", "the pedal gives no air", shuts=(("1", "2"),)),
        Failure("leaks-at-exhaust", "supply air leaks to the exhaust", opens=(("1", "3"),), share=SLIGHT),
        Failure("does-not-release", "delivered air stays", shuts=(("2", "3"),)),
        EXHAUST_ICED,
        Failure("leaks-applied", "leaks at the exhaust while the pedal is down", opens=(("2", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.SERVICE_CONTROL}),
    aliases=("treadle-valve",),
    rest={"pedal": 0.0},
    when={"braking": {"pedal": 1.0}},
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2), "3": (3, 4)}, marks=(
        *arrow((0, 2), (6, 2)), pilot((4.8, 2), (4.8, 3.3), (3.5, 3.3)), line((3, 0), (3, -1)), thick((1.3, -0.3),
        (4.7, -1.7)),
    )),
    stage=6,
    turns=(("1", "2"),),
    rows=(35,),
)
