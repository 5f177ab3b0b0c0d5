"""Bobtail proportioning relay: brakes a tractor's drive axles gently while it runs without a trailer."""

from circuit.declaring.common import (
    AHEAD, COMMON, DELIVERIES, DELIVERY_BY_COUNT, DOES_NOT_APPLY, DOES_NOT_RELEASE, EXHAUST, EXHAUST_ICED, LARGE,
    MEDIUM, MODEST, ROOMY, SIGNAL, SUPPLIES, SUPPLY_BY_COUNT, SUPPLY_LEAKS, conductance, lap,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, line, pilot
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.relay_valve import KIND as RELAY
from circuit.units import ATMOSPHERE

assert RELAY.symbol is not None


def asked(p, s, x):
    """The pressure it should give, absolute Pa."""
    share = 1.0 if p["42"] >= s["full-above"] else s["ratio"]
    return ATMOSPHERE + share * (p["41"] - ATMOSPHERE) - s["opens-at"]


KIND = Kind(
    name="bobtail-relay",
    title="Bobtail proportioning relay",
    group=Group.MODULATE,
    purpose="Keeps a tractor's unladen drive wheels from locking when it runs without a trailer.",
    behaviour="While the trailer supply line at 42 has pressure it is a relay valve: 2 follows 41. Without it 2 is "
              "only a share of 41. When 41 falls it vents 2 to 3.",
    ports=(
        SUPPLY_BY_COUNT,
        DELIVERY_BY_COUNT,
        EXHAUST,
        Port("41", Role.CONTROL, ("control", "service")),
        Port("42", Role.CONTROL, ("trailer-supply",)),
    ),
    settings=(
        Setting("ratio", "ratio", "share of 41 without a trailer", Typical("0.33", COMMON + ": 0.25 to 0.4", "0.25", "0.4")),
        Setting("full-above", "pressure", "pressure at 42 from which all of 41 counts",
                Typical("3.5 bar", COMMON + ": 45 to 60 psi", "45 psi", "60 psi")),
        AHEAD,
        lap("0.15 bar"),
        SUPPLIES,
        DELIVERIES,
        conductance("20 L/(s.bar)", "14 L/(s.bar)", "30 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while its share of the signal at 41 is ahead of 2", asked),
        Passage("2", "3", "open while 2 is ahead of that share", lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "41", charged=("42",)),),
    stores=(Store("1", LARGE), Store("2", ROOMY), Store("41", SIGNAL), Store("42", MEDIUM)),
    failures=(
        DOES_NOT_APPLY,
        DOES_NOT_RELEASE,
        SUPPLY_LEAKS,
        Failure("leaks-delivery", "leaks from delivery to exhaust while applied", opens=(("2", "3"),), share=MODEST),
        EXHAUST_ICED,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL}),
    aliases=("bobtail-proportioning-relay",),
    symbol=Symbol(6, 6, {"41": (0, 1), "42": (0, 3), "1": (0, 5), "3": (4, 6)}, grows="2", flips=True, marks=(
        *RELAY.symbol.marks, pilot((0, 3), (0.8, 3), (0.8, 2.2)), line((3.5, 1.5), (5.3, 0.5)),
        line((3.5, 1.5), (5.3, 1.5)),
    )),
    stage=10,
    turns=(("1", "41"), ("1", "2")),
    rows=(51,),
)
