"""Trailer control valve: works a trailer's two lines from both service circuits and the hand brake, European."""

from circuit.declaring.common import COMMON, EXHAUST, EXHAUST_ICED, OPEN, SIGNAL, SLIGHT, conductance, lap
from circuit.declaring.graduated import RETURNS_AT, inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Latch, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, plate, thick
from circuit.declaring.traits import Group, Role
from circuit.units import ATMOSPHERE

BITES = ATMOSPHERE + 0.2e5
"""Absolute Pa at 41 or 42 from which the lead is given."""


def asked(p, s, x):
    """The pressure it should give at 22, absolute Pa: the highest of the service signals and the hand brake's fall."""
    pedal = max(p["41"], p["42"])
    service = pedal + s["lead"] if pedal > BITES else pedal
    drawn = 1 - (p["43"] - ATMOSPHERE) / (s["released-above"] - ATMOSPHERE)
    hand = ATMOSPHERE + max(0.0, drawn) * (s["full-delivery"] - ATMOSPHERE)
    return max(service, hand)


def broken(p, s):
    """Pa by which 22 is too far behind what is asked, though 11 has more: its line is broken. A lost supply is no break."""
    return min(asked(p, s, {}) - s["throttles-at"], p["11"] - s["throttles-at"] / 3) - p["22"]


def whole(p, s):
    """Pa by which 22 answers again, or has what 11 has."""
    return p["22"] - min(asked(p, s, {}) - s["throttles-at"] / 3, p["11"] - RETURNS_AT)


KIND = Kind(
    name="trailer-control-valve",
    title="Trailer control valve",
    group=Group.TOWING,
    purpose="Brakes the trailer with the pedal, by either circuit, and with the hand brake, and makes it brake itself "
            "when its control line breaks.",
    behaviour="22 follows the higher of 41 and 42, and rises as the hand brake's signal at 43 falls, fed from the "
              "supply passage between 11 and 21. When 22 does not answer because its line is broken, the passage from "
              "11 is throttled, so the broken line bleeds 21 and the trailer brakes itself.",
    ports=(
        Port("11", Role.SUPPLY, ("supply",)),
        Port("21", Role.DELIVERY, ("supply-head",)),
        Port("22", Role.DELIVERY, ("control-head",)),
        EXHAUST,
        Port("41", Role.CONTROL, ("service-1",)),
        Port("42", Role.CONTROL, ("service-2",)),
        Port("43", Role.CONTROL, ("hand-brake",)),
    ),
    settings=(
        Setting("lead", "difference", "how much 22 is ahead of the pedal's signal",
                Typical("0.2 bar", COMMON + ": 0 to 1 bar", "0 bar", "1 bar")),
        Setting("released-above", "pressure", "pressure at 43 from which the hand brake asks for nothing",
                Typical("6.5 bar", COMMON)),
        Setting("full-delivery", "pressure", "pressure at 22 with the hand brake fully drawn",
                Typical("7.5 bar", COMMON + ": 6.5 to 8.5 bar", "6.5 bar", "8.5 bar")),
        Setting("throttles-at", "difference", "how far 22 must stay behind before the supply is throttled",
                Typical("3 bar", COMMON)),
        lap("0.15 bar"),
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        Passage("11", "21", "open unless the control line is broken, and while 11 has fallen below 21", both_ways=True,
                opening=lambda p, s, x: p["21"] - p["11"] - RETURNS_AT if x["throttled"] else OPEN),
        inlet("21", "22", "open while 22 is below what is asked", asked),
        Passage("22", "3", "open while 22 is above what is asked",
                lambda p, s, x: p["22"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("11", "22", "41", charged=("43",)), Graduated("11", "22", "42", charged=("43",)),
               Graduated("11", "22", "43", falling=True)),
    stores=tuple(Store(port, SIGNAL) for port in ("11", "21", "22", "41", "42", "43")),
    latches=(Latch("throttled", broken, whole),),
    failures=(
        Failure("no-throttling", "a broken control line empties the trailer's circuit instead of braking the trailer",
                holds={"throttled": 0.0}),
        Failure("does-not-apply", "the trailer gets no signal", shuts=(("21", "22"),)),
        Failure("does-not-release", "the trailer stays braked", shuts=(("22", "3"),)),
        Failure("leaks", "supply air leaks into the control line", opens=(("21", "22"),), share=SLIGHT),
        Failure("inversion-stuck", "the piston under the hand brake hangs: the trailer is not told to park",
                scales={"full-delivery": 0.02},
                proof="draw the hand brake with a gauge on the control head: it must rise to full"),
        EXHAUST_ICED._replace(shuts=(("22", "3"),)),
    ),
    rest={"throttled": 0.0},
    symbol=Symbol(8, 8, {
        "41": (0, 1), "42": (0, 3), "43": (0, 5), "11": (0, 7), "21": (8, 7), "22": (8, 3), "3": (4, 8),
    }, marks=(
        pilot((0, 1), (1.6, 1), (1.6, 1.6)), pilot((0, 3), (1.6, 3), (1.6, 2.4)), thick((1.6, 1.2), (1.6, 2.8)),
        line((1.6, 2), (4, 2), (4, 3)), plate((3.3, 3), (4.7, 3), (4, 4)), pilot((0, 5), (2.6, 5), (2.6, 4.2)),
        thick((1.9, 4.2), (3.3, 4.2)), *arrow((0, 7), (8, 7)), *arrow((4, 7), (4, 4.1)), line((4.7, 3), (8, 3)),
        line((3, 6.5), (3.4, 6.9)), line((3, 7.5), (3.4, 7.1)),
    )),
    stage=12,
    turns=(("11", "21"),),
    rows=(73,),
)
