"""Oil and water separator, or coalescing filter: catches drops and fog before or after the dryer."""

from circuit.declaring.common import COMMON, DELIVERY, HEAVY, OPEN, SHUT, SUPPLY, VESSEL, cavity, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, diamond, line, pilot
from circuit.declaring.traits import Group, Role

KIND = Kind(
    name="oil-separator",
    title="Oil and water separator",
    group=Group.SOURCE,
    purpose="Takes oil and water drops out of the air before they reach desiccant or valves.",
    behaviour="Passes both ways through an element whose restriction rises as it loads; the bowl below it is emptied "
              "to 3 by hand or by itself.",
    ports=(
        SUPPLY,
        DELIVERY,
        Port("3", Role.EXHAUST, ("exhaust", "drain")),
    ),
    settings=(
        Setting("drained", "word", "how its bowl is emptied", Typical("by-hand", COMMON),
                choices=("by-hand", "by-itself")),
        conductance("12 L/(s.bar)"),
        Setting("drain-conductance", "conductance", "sonic conductance of the open bowl drain",
                Typical("0.5 L/(s.bar)", COMMON)),
    ),
    passages=(
        Passage("1", "2", "always open, less so as it loads", both_ways=True),
        Passage("1", "3", "open while the bowl is emptied", lambda p, s, x: OPEN if x["draining"] else SHUT,
                conductance="drain-conductance", narrow=True),
    ),
    stores=(Store("1", cavity(0.3)), Store("2", VESSEL)),
    failures=(
        Failure("loaded", "the element is loaded: air passes slowly", shuts=(("1", "2"),),
                opens=(("1", "2"), ("2", "1")), share=HEAVY),
        Failure("blocked", "clogged or frozen: nothing passes", shuts=(("1", "2"),)),
        Failure("drain-stuck-open", "the bowl's drain stays open", opens=(("1", "3"),)),
        Failure("drain-stuck-shut", "the bowl fills, and oil goes on with the air", shuts=(("1", "3"),)),
    ),
    aliases=("coalescing-filter", "water-separator", "oil-water-separator"),
    rest={"draining": 0.0},
    symbol=Symbol(6, 4, {"1": (0, 2), "2": (6, 2), "3": (3, 4)}, body="none", marks=(
        line((0, 2), (1, 2)), line((5, 2), (6, 2)), diamond(3, 2, 2), pilot((3, 0), (3, 2.6)), line((1.8, 2.8),
        (4.2, 2.8)),
    )),
    stage=2,
    turns=(("1", "2"),),
    rows=(9,),
)
