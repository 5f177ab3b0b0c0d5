"""Relay valve: repeats a small signal with the reservoir's own large flow."""

from circuit.declaring.common import (
    AHEAD, CONTROL, CONTROL_LEAKS, DELIVERIES, DELIVERY_BY_COUNT, DOES_NOT_APPLY, DOES_NOT_RELEASE, EXHAUST,
    EXHAUST_ICED, LARGE, MODEST, ROOMY, SIGNAL, SUPPLIES, SUPPLY_BY_COUNT, SUPPLY_LEAKS, conductance, lap,
)
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Store
from circuit.declaring.symbol import Symbol, arrow, line, pilot, plate, thick
from circuit.declaring.traits import Group, Trait

def asked(p, s, x):
    """The pressure it should give, absolute Pa."""
    return p["4"] - s["opens-at"]


KIND = Kind(
    name="relay-valve",
    title="Relay valve",
    group=Group.MODULATE,
    purpose="Applies and releases far brakes quickly: a thin line carries the signal, a near reservoir the air.",
    behaviour="Feeds 2 from 1 until 2 equals the signal at 4 less its opening difference, then laps; when 4 falls it "
              "vents 2 to 3.",
    ports=(SUPPLY_BY_COUNT, DELIVERY_BY_COUNT, EXHAUST, CONTROL),
    settings=(
        AHEAD,
        lap("0.15 bar"),
        SUPPLIES,
        DELIVERIES,
        conductance("20 L/(s.bar)", "14 L/(s.bar)", "30 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while the signal at 4 is ahead of 2", asked),
        Passage("2", "3", "open while 2 is ahead of the signal",
                lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "4"),),
    stores=(Store("1", LARGE), Store("2", ROOMY), Store("4", SIGNAL)),
    failures=(
        DOES_NOT_APPLY,
        DOES_NOT_RELEASE,
        SUPPLY_LEAKS,
        Failure("leaks-delivery", "leaks from delivery to exhaust while applied", opens=(("2", "3"),), share=MODEST),
        EXHAUST_ICED,
        CONTROL_LEAKS,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL}),
    symbol=Symbol(6, 6, {"4": (0, 1), "1": (0, 5), "3": (4, 6)}, grows="2", flips=True, marks=(
        pilot((0, 1), (2.4, 1), (2.4, 1.8)), thick((0.8, 1.9), (4, 1.9)), line((2.4, 1.9), (2.4, 2.8)),
        line((0, 5), (2.4, 5)), *arrow((2.4, 5), (2.4, 3.8)), plate((1.7, 2.8), (3.1, 2.8), (2.4, 3.7)),
        line((3.1, 3), (5, 3)), line((4, 6), (4, 4.2)), line((3.5, 4.2), (4.5, 4.2)),
    )),
    stage=10,
    turns=(("1", "4"), ("1", "2")),
    rows=(44,),
)
