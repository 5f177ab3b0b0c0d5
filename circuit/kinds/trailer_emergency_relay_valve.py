"""Trailer emergency relay valve: the European form, which brakes the more the further the supply line falls."""

from circuit.declaring.common import COMMON, CONTROL_LEAKS, DELIVERIES, EXHAUST_ICED, HEAVY, MODEST, conductance, lap
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Setting, Typical
from circuit.declaring.traits import Group, Trait
from circuit.kinds.relay_emergency_valve import KIND as PLAIN
from circuit.units import ATMOSPHERE

BITES = ATMOSPHERE + 0.2e5
"""Absolute Pa at 4 from which the lead is given."""


def asked(p, s, x):
    """The pressure it should give, absolute Pa: the signal with its lead, or what the fallen line asks for."""
    service = p["4"] + (s["lead"] if p["4"] > BITES else 0.0) - s["opens-at"]
    fallen = 1 - (p["1"] - ATMOSPHERE) / (s["applies-below"] - ATMOSPHERE)
    return max(service, ATMOSPHERE + min(1.0, max(0.0, 2 * fallen)) * (p["1-2"] - ATMOSPHERE))


KIND = Kind(
    name="trailer-emergency-relay-valve",
    title="Trailer emergency relay valve",
    group=Group.TOWING,
    purpose="Fills a trailer's reservoir, relays its service brakes, and applies them by itself as the supply line "
            "falls.",
    behaviour="Air from the line at 1 fills the reservoir at 1-2 through a check. 2 follows the signal at 4 with a "
              "lead, fed from the reservoir. When the line falls below its set pressure 2 rises by itself, and has "
              "all of the reservoir's pressure when the line has half of that left.",
    ports=PLAIN.ports,
    settings=(
        Setting("applies-below", "pressure", "supply-line pressure below which it brakes by itself",
                Typical("3.5 bar", COMMON + "; it must begin above 2 bar")),
        Setting("lead", "difference", "how much the delivery is ahead of the signal",
                Typical("0 bar", COMMON + ": 0 to 1 bar", "0 bar", "1 bar")),
        Setting("opens-at", "difference", "how much the signal must rise before it delivers",
                Typical("0.2 bar", COMMON)),
        lap("0.15 bar"),
        DELIVERIES,
        conductance("15 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "1-2", "open while the line is above the reservoir", lambda p, s, x: p["1"] - p["1-2"]),
        inlet("1-2", "2", "open while 2 is below what the signal or the fallen line asks for", asked),
        Passage("2", "3", "open while 2 is above it", lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1-2", "2", "4", charged=("1",)),),
    stores=PLAIN.stores,
    failures=(
        Failure("check-leaks-back", "reservoir air goes back into the line: no emergency brake", opens=(("1-2", "1"),),
                share=HEAVY),
        Failure("does-not-apply", "neither service nor emergency braking", shuts=(("1-2", "2"),)),
        Failure("does-not-release", "the brakes stay on", shuts=(("2", "3"),)),
        Failure("leaks", "leaks at the exhaust", opens=(("1-2", "3"),), share=MODEST),
        Failure("no-emergency", "its spring is broken: it does not brake by itself", scales={"applies-below": 0.05}),
        Failure("lead-lost", "its lead has drifted away: the trailer runs onto the towing vehicle", scales={"lead": 0.0}),
        EXHAUST_ICED,
        CONTROL_LEAKS,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL, Trait.TAKES_SUPPLY_LINE}),
    symbol=PLAIN.symbol,
    stage=10,
    turns=(("1", "4"), ("1", "1-2")),
    rows=(74,),
)
