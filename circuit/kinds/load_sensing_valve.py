"""Load-sensing valve by lever: gives an axle less pressure the higher the frame stands above it."""

from circuit.declaring.common import (
    COMMON, CONTROL, CONTROL_LEAKS, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, EXHAUST_ICED, LARGE, ROOMY, SIGNAL,
    SUPPLY, SUPPLY_LEAKS, conductance, lap,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Ordered, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line
from circuit.declaring.traits import Group, Trait
from circuit.kinds.relay_valve import KIND as RELAY
from circuit.units import ATMOSPHERE

assert RELAY.symbol is not None


def ratio(s, x):
    """The share of the signal it gives: from the empty to the laden ratio with the load, the stated one when lost."""
    if not x["linked"]:
        return s["lost-ratio"]
    return s["empty-ratio"] + x["load"] * (s["laden-ratio"] - s["empty-ratio"])


def asked(p, s, x):
    """The pressure it should give, absolute Pa."""
    return ATMOSPHERE + ratio(s, x) * (p["4"] - ATMOSPHERE) - s["opens-at"]


RATIOS = (
    Setting("empty-ratio", "ratio", "share of the signal it gives on the empty vehicle",
            Typical("0.4", COMMON + ": 0.3 to 1, from the setting plate", "0.3", "1")),
    Setting("laden-ratio", "ratio", "share of the signal it gives on the laden vehicle",
                Typical("1", COMMON, "0.95", "1")),
    Setting("lost-ratio", "ratio", "share it gives when it no longer knows the load",
            Typical("0.5", "our choice, to be stated by its maker")),
    Setting("opens-at", "difference", "how much its share of the signal stays ahead of the delivery",
            Typical("0.25 bar", COMMON + ": 0.15 to 0.4 bar", "0.15 bar", "0.4 bar")),
    lap("0.15 bar"),
    DELIVERIES,
    conductance("15 L/(s.bar)"),
)
FAILURES = (
    Failure("stuck-empty", "gives the empty share whatever the load", holds={"load": 0.0}),
    Failure("does-not-apply", "its axles are not braked", shuts=(("1", "2"),)),
    Failure("does-not-release", "its axles stay braked", shuts=(("2", "3"),)),
    SUPPLY_LEAKS,
)
PORTS = (SUPPLY, DELIVERY_BY_COUNT, EXHAUST, CONTROL)

KIND = Kind(
    name="load-sensing-valve",
    title="Load-sensing valve, lever",
    group=Group.MODULATE,
    purpose="Keeps an unladen axle from locking by giving it only the share of the braking that its load can use.",
    behaviour="A relay valve whose lever follows the spring travel: 2 is a share of the signal at 4, small on the "
              "empty vehicle, whole on the laden one, fed from 1. With its link broken it gives a stated share.",
    ports=PORTS,
    settings=RATIOS,
    passages=(
        inlet("1", "2", "open while its share of the signal at 4 is ahead of 2", asked),
        Passage("2", "3", "open while 2 is ahead of that share", lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "4"),),
    stores=(Store("1", LARGE), Store("2", ROOMY), Store("4", SIGNAL)),
    failures=(
        Failure("link-broken", "no longer knows the load: gives its stated share", holds={"linked": 0.0}), *FAILURES,
        Failure("stuck-laden", "gives the laden share whatever the load: unladen wheels lock", holds={"load": 1.0}),
        EXHAUST_ICED, CONTROL_LEAKS,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL, Trait.SENSES_LOAD}),
    aliases=("load-valve", "load-proportioning-valve"),
    rest={"load": 1.0, "linked": 1.0},
    orders=(Ordered("empty-ratio", "laden-ratio", equal=True),),
    symbol=Symbol(6, 6, RELAY.symbol.ports, grows="2", flips=True, marks=(
        *RELAY.symbol.marks, line((3, 0), (3, -0.8), (5, -1.6)), Ring((3, -0.8), 0.25), *arrow((1.6, 2.6), (3.8, 0.5)),
    )),
    stage=9,
    turns=(("1", "4"), ("1", "2")),
    rows=(52,),
)
