"""Load-sensing valve piloted by the air bags: reads the load from the suspension's pressure."""

from circuit.declaring.common import COMMON, CONTROL_LEAKS, EXHAUST_ICED, LARGE, MODEST, ROOMY, SIGNAL, SMALL
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.load_sensing_valve import FAILURES, PORTS, RATIOS
from circuit.kinds.relay_valve import KIND as RELAY
from circuit.units import ATMOSPHERE

assert RELAY.symbol is not None


def ratio(p, s):
    """The share of the signal it gives: by the mean of the bags, the stated one when a bag is lost."""
    if min(p["41"], p["42"]) < s["lost-below"]:
        return s["lost-ratio"]
    mean = (p["41"] + p["42"]) / 2
    load = (mean - s["empty-bag"]) / (s["laden-bag"] - s["empty-bag"])
    return s["empty-ratio"] + min(1.0, max(0.0, load)) * (s["laden-ratio"] - s["empty-ratio"])


def asked(p, s, x):
    """The pressure it should give, absolute Pa."""
    return ATMOSPHERE + ratio(p, s) * (p["4"] - ATMOSPHERE) - s["opens-at"]


KIND = Kind(
    name="air-load-sensing-valve",
    title="Load-sensing valve, piloted by air bags",
    group=Group.MODULATE,
    purpose="Keeps an unladen axle from locking by giving it only the share of the braking that its load can use.",
    behaviour="A relay valve that reads the load from the air bags of both sides at 41 and 42: 2 is a share of the "
              "signal at 4, fed from 1. With a bag lost it gives a stated share.",
    ports=(
        *PORTS,
        Port("41", Role.CONTROL, ("left-bag",)),
        Port("42", Role.CONTROL, ("right-bag",)),
    ),
    settings=(
        Setting("empty-bag", "pressure", "bag pressure on the empty vehicle", Typical("0.5 bar", COMMON)),
        Setting("laden-bag", "pressure", "bag pressure on the laden vehicle", Typical("5 bar", COMMON)),
        Setting("lost-below", "pressure", "bag pressure below which a bag counts as burst", Typical("0.2 bar", COMMON)),
        *RATIOS,
    ),
    passages=(
        inlet("1", "2", "open while its share of the signal at 4 is ahead of 2", asked),
        Passage("2", "3", "open while 2 is ahead of that share", lambda p, s, x: p["2"] - asked(p, s, x) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", "4", charged=("41", "42")),),
    stores=(Store("1", LARGE), Store("2", ROOMY), Store("4", SIGNAL), Store("41", SMALL),
            Store("42", SMALL)),
    failures=(
        Failure("membrane-torn", "bag air leaks at its exhaust", opens=(("41", "3"),), share=MODEST), *FAILURES[1:],
        Failure("stuck-laden", "gives the laden share whatever the bags say: unladen wheels lock",
                scales={"empty-bag": 0.5, "laden-bag": 0.1}),
        EXHAUST_ICED, CONTROL_LEAKS,
    ),
    traits=frozenset({Trait.REPEATS_CONTROL, Trait.SENSES_LOAD}),
    aliases=("air-bag-load-sensing-valve",),
    orders=(Ordered("lost-below", "empty-bag"), Ordered("empty-bag", "laden-bag"),
            Ordered("empty-ratio", "laden-ratio", equal=True)),
    symbol=Symbol(6, 8, {"4": (0, 1), "41": (0, 3), "1": (0, 5), "42": (0, 7), "3": (4, 8)}, grows="2", flips=True,
                  marks=(
        *RELAY.symbol.marks, line((4, 6), (4, 8)), *arrow((1.6, 2.6), (3.8, 0.5)),
        pilot((0, 3), (0.9, 3), (0.9, 2)), pilot((0, 7), (1.3, 7), (1.3, 2)),
    )),
    stage=9,
    turns=(("1", "4"), ("1", "2")),
    rows=(53,),
)
