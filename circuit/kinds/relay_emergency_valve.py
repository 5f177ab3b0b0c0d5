"""Relay emergency valve: a trailer's relay that brakes from the reservoir when the supply line is lost."""

from circuit.declaring.common import (
    AHEAD, COMMON, CONTROL, CONTROL_LEAKS, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, EXHAUST_ICED, HEAVY, LARGE, MODEST,
    SHUT, conductance, lap,
)
from circuit.declaring.graduated import feeds
from circuit.declaring.kind import KEEPS, Failure, Graduated, Kind, Latch, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, line
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.relay_valve import KIND as RELAY
from circuit.kinds.relay_valve import asked

assert RELAY.symbol is not None


def _lost(p, s, x):
    """Pa by which the supply line is too low: the emergency side applies."""
    return (s["releases-at"] if x["emergency"] else s["applies-below"]) - p["1"]


FEEDS = feeds(asked, "1-2", "2")

KIND = Kind(
    name="relay-emergency-valve",
    title="Relay emergency valve",
    group=Group.TOWING,
    purpose="Fills a trailer's reservoir, relays its service brakes, and applies them by itself when the supply line "
            "is lost.",
    behaviour="Air from the line at 1 fills the reservoir at 1-2 through a check. While the line has pressure it is a "
              "relay: 2 follows the signal at 4, fed from the reservoir. When the line falls it gives the reservoir's "
              "air to 2 until the line is filled again. The old type without the check bleeds back into the line.",
    ports=(
        Port("1", Role.SUPPLY, ("supply", "line")),
        Port("1-2", Role.DELIVERY, ("reservoir",), lost=KEEPS),
        DELIVERY_BY_COUNT._replace(lost=KEEPS),
        EXHAUST,
        CONTROL,
    ),
    settings=(
        Setting("applies-below", "pressure", "supply-line pressure below which it brakes by itself",
                Typical("3.1 bar", "US Army TM 5-3655-210-12: about 45 psi")),
        Setting("releases-at", "pressure", "supply-line pressure at which it lets go again",
                Typical("4.4 bar", "US Army TM 5-3655-210-12: 65 psi at most")),
        Setting("bleeds-back", "word", "whether reservoir air can go back into the line", Typical("no", COMMON),
                choices=("no", "yes")),
        AHEAD,
        lap("0.15 bar"),
        DELIVERIES,
        conductance("15 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "1-2", "open while the line is above the reservoir", lambda p, s, x: p["1"] - p["1-2"]),
        Passage("1-2", "1", "shut, but in the type that bleeds back",
                lambda p, s, x: p["1-2"] - p["1"] if s["bleeds-back"] == "yes" else SHUT),
        Passage("1-2", "2", "open while the signal at 4 is ahead of 2, or 1-2 has fallen below 2, and when the line is lost",
                lambda p, s, x: max(FEEDS(p, s, x), _lost(p, s, x)), both_ways=True),
        Passage("2", "3", "open while 2 is ahead of the signal and the line has pressure",
                lambda p, s, x: min(p["2"] - asked(p, s, x) - s["lap"], -_lost(p, s, x))),
    ),
    graduated=(Graduated("1-2", "2", "4", charged=("1",)),),
    stores=tuple(Store(port, LARGE) for port in ("1", "1-2", "2", "4")),
    latches=(Latch("emergency", lambda p, s: s["applies-below"] - p["1"], lambda p, s: p["1"] - s["releases-at"]),),
    failures=(
        Failure("check-leaks-back", "reservoir air goes back into the line: no emergency brake", opens=(("1-2", "1"),),
                share=HEAVY),
        Failure("no-emergency", "does not brake by itself", holds={"emergency": 0.0}),
        Failure("does-not-release", "the brakes stay on", shuts=(("2", "3"),)),
        Failure("leaks", "leaks at the exhaust", opens=(("1-2", "3"),), share=MODEST),
        Failure("does-not-apply", "neither service nor emergency braking", shuts=(("1-2", "2"),)),
        EXHAUST_ICED,
        CONTROL_LEAKS,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL, Trait.TAKES_SUPPLY_LINE}),
    rest={"emergency": 0.0},
    orders=(Ordered("applies-below", "releases-at"),),
    symbol=Symbol(6, 8, {"4": (0, 1), "1-2": (0, 5), "1": (0, 7), "3": (4, 8)}, grows="2", flips=True, marks=(
        *RELAY.symbol.marks, line((4, 6), (4, 8)), line((0, 7), (1.2, 7), (1.2, 6.7)), line((0.7, 6.6), (1.2, 6),
        (1.7, 6.6)),
        Ring((1.2, 6.45), 0.3), line((1.2, 6), (1.2, 5)),
    )),
    stage=10,
    turns=(("1", "4"), ("1", "1-2")),
    rows=(74,),
)
