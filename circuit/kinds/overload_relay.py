"""Overload relay: feeds the spring chambers with the higher of park and service signal, so that forces do not add."""

from circuit.declaring.common import (
    AHEAD, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, LARGE, MEDIUM, MODEST, SMALL, SUPPLY, conductance, lap,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Port, Store
from circuit.declaring.symbol import Ring, Symbol, arrow, line, pilot, plate, thick
from circuit.declaring.traits import Group, Role, Trait


def asked(p, s, x):
    """The pressure it should give, absolute Pa."""
    return max(p["41"], p["42"]) - s["opens-at"]


KIND = Kind(
    name="overload-relay",
    title="Anti-compound (overload) relay",
    group=Group.MODULATE,
    purpose="Lets the springs on and off quickly, and holds them off while the service brake pushes.",
    behaviour="A relay valve with two signals: 2 follows the higher of the service line at 41 and the park line at 42, "
              "fed from 1; when both fall it vents 2 to 3.",
    ports=(
        SUPPLY,
        DELIVERY_BY_COUNT,
        EXHAUST,
        Port("41", Role.CONTROL, ("service", "control")),
        Port("42", Role.CONTROL, ("park",)),
    ),
    settings=(
        AHEAD,
        lap("0.15 bar"),
        DELIVERIES,
        conductance("15 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while the higher signal is ahead of 2", asked),
        Passage("2", "3", "open while 2 is ahead of both signals", lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "41"), Graduated("1", "2", "42")),
    stores=(Store("1", LARGE), Store("2", LARGE), Store("41", SMALL), Store("42", MEDIUM)),
    failures=(
        Failure("does-not-feed", "the springs cannot be released", shuts=(("1", "2"),)),
        Failure("does-not-vent", "the springs stay off", shuts=(("2", "3"),)),
        Failure("shuttle-leaks", "park air leaks into the service line", opens=(("42", "41"),), share=MODEST),
        Failure("leaks-supply", "leaks from supply to exhaust", opens=(("1", "3"),), share=MODEST),
    ),
    traits=frozenset({Trait.REPEATS_CONTROL}),
    aliases=("anti-compound-relay", "overload-protection-valve"),
    symbol=Symbol(6, 6, {"41": (0, 1), "42": (0, 3), "1": (0, 5), "3": (4, 6)}, grows="2", flips=True, marks=(
        pilot((0, 1), (1, 1), (1, 1.4)), pilot((0, 3), (1, 3), (1, 2.6)), Ring((1, 1.9), 0.4),
        pilot((1.4, 1.9), (1.8, 1.9)), thick((1.8, 1.2), (1.8, 2.6)), line((1.8, 1.9), (2.9, 1.9), (2.9, 2.6)),
        plate((2.2, 2.6), (3.6, 2.6), (2.9, 3.5)), line((0, 5), (2.9, 5)), *arrow((2.9, 5), (2.9, 3.6)),
        line((3.6, 2.9), (5, 2.9)), line((4, 6), (4, 4.2)), line((3.5, 4.2), (4.5, 4.2)),
    )),
    stage=10,
    turns=(("1", "41"), ("1", "2")),
    rows=(48,),
)
