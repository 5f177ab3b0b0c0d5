"""EBS module: an axle's or a trailer's electronic brake valve, with an air signal as its back-up."""

from circuit.declaring.common import (
    COMMON, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, FROM_MEMORY, SIGNAL, SUPPLIES, SUPPLY_BY_COUNT, SUPPLY_LEAKS,
        EXHAUST_ICED,
        SENSOR_LOST,
    VESSEL, conductance, lap,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, line, plate
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.relay_valve import KIND as RELAY
from circuit.units import ATMOSPHERE

assert RELAY.symbol is not None


def asked(p, s, x):
    """The pressure it should give, absolute Pa: the electric demand, or the back-up signal without current."""
    if x["energised"]:
        return ATMOSPHERE + x["demand"] * (s["full-delivery"] - ATMOSPHERE)
    return p["4"] - s["opens-at"]


KIND = Kind(
    name="ebs-module",
    title="EBS axle or trailer module",
    group=Group.MODULATE,
    purpose="Brakes by an electric signal without the delay of air in long lines, and by air when the current is "
            "gone.",
    behaviour="Energised, 2 follows the electric demand, fed from 1, and the air signal at 4 is held back. Without "
              "current it is a relay valve of 4. The checks look at it without current, because that is what air must "
              "do.",
    ports=(
        SUPPLY_BY_COUNT,
        DELIVERY_BY_COUNT,
        EXHAUST,
        Port("4", Role.CONTROL, ("control", "back-up")),
    ),
    settings=(
        Setting("full-delivery", "pressure", "pressure it gives at full electric demand, never more than 1 has",
                Typical("10 bar", FROM_MEMORY)),
        Setting("opens-at", "difference", "how much the back-up signal stays ahead of the delivery",
                Typical("0.3 bar", COMMON)),
        lap("0.15 bar"),
        SUPPLIES,
        DELIVERIES,
        conductance("20 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while the demand, or without current the signal at 4, is ahead of 2", asked),
        Passage("2", "3", "open while 2 is ahead of it", lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "4"), Graduated("1", "2", "demand", held={"energised": 1.0})),
    stores=(Store("1", VESSEL), Store("2", VESSEL), Store("4", SIGNAL)),
    failures=(
        Failure("without-current", "brakes by its back-up signal, a little later", holds={"energised": 0.0}),
        Failure("does-not-apply", "its axle is not braked", shuts=(("1", "2"),)),
        Failure("does-not-release", "its axle stays braked", shuts=(("2", "3"),)),
        EXHAUST_ICED,
        SENSOR_LOST,
        SUPPLY_LEAKS,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL}),
    aliases=("ebs-axle-modulator", "ebs-trailer-module"),
    rest={"energised": 0.0, "demand": 0.0},
    when={"braking": {"demand": 1.0}},
    symbol=Symbol(6, 6, RELAY.symbol.ports, grows="2", flips=True, marks=(
        *RELAY.symbol.marks, plate((2.6, -0.9), (5.4, -0.9), (5.4, 0), (2.6, 0)), line((2.6, 0), (3.5, -0.9)),
        line((3.5, 0), (4.4, -0.9)), line((4.4, 0), (5.3, -0.9)),
    )),
    stage=10,
    turns=(("1", "4"), ("1", "2")),
    rows=(56,),
)
