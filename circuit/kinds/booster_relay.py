"""Booster relay: a relay valve that refreshes a long signal line."""

from circuit.declaring.common import (
    COMMON, CONTROL_LEAKS, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, EXHAUST_ICED, LARGE, MEDIUM, MODEST, SUPPLY,
    conductance, lap,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, pilot
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.relay_valve import KIND as RELAY

assert RELAY.symbol is not None

def asked(p, s, x):
    """The pressure it should give, absolute Pa."""
    return p["4"] - s["opens-at"]


KIND = Kind(
    name="booster-relay",
    title="Booster relay",
    group=Group.MODULATE,
    purpose="Passes a signal on at full strength, so that a long combination's last axle brakes almost with its first.",
    behaviour="A relay valve that opens at a very small difference and feeds a signal line, not chambers. Its own "
              "reservoir lost, the signal ends here.",
    ports=(
        SUPPLY,
        DELIVERY_BY_COUNT,
        EXHAUST,
        Port("4", Role.CONTROL, ("control", "signal")),
    ),
    settings=(
        Setting("opens-at", "difference", "how much the signal stays ahead of the delivery",
                Typical("0.05 bar", COMMON + ": 0 to 0.15 bar", "0 bar", "0.15 bar")),
        lap("0.1 bar"),
        DELIVERIES._replace(typical=Typical("1", COMMON)),
        conductance("15 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while the signal at 4 is ahead of 2", asked),
        Passage("2", "3", "open while 2 is ahead of the signal",
                lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "4"),),
    stores=(Store("1", LARGE), Store("2", LARGE), Store("4", MEDIUM)),
    failures=(
        Failure("does-not-apply", "the signal ends here", shuts=(("1", "2"),)),
        Failure("does-not-release", "the signal stays", shuts=(("2", "3"),)),
        Failure("leaks-supply", "leaks from supply to exhaust", opens=(("1", "3"),), share=MODEST),
        EXHAUST_ICED,
        CONTROL_LEAKS,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL}),
    aliases=("signal-relay",),
    symbol=Symbol(6, 6, RELAY.symbol.ports, grows="2", flips=True, marks=(
        *RELAY.symbol.marks, pilot((5, 3), (5, 1), (3.4, 1)),
    )),
    stage=9,
    turns=(("1", "4"), ("1", "2")),
    rows=(45,),
)
