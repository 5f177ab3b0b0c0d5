"""Automatic drain: spits water out by itself."""

from circuit.declaring.common import COMMON, EXHAUST, MEDIUM, ON, OPEN, PILOT, SHUT, SLIGHT, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, diamond, line, pilot, solid
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="automatic-drain",
    title="Automatic drain",
    group=Group.STORE,
    purpose="Lets the water out without being asked.",
    behaviour="Gives a short spit from 1 to 3 at each fall of pressure or at each signal at 4.",
    ports=(
        Port("1", Role.SPACE, ("supply",)),
        EXHAUST,
        Port("4", Role.CONTROL, ("control",), required=False),
    ),
    settings=(
        ON,
        Setting("by-hand", "word", "whether a hand can work it too", Typical("no", COMMON), choices=("yes", "no")),
        Setting("placed", "word", "where on the reservoir as mounted", choices=("lowest", "end", "side", "top")),
        Setting("heated", "word", "whether a heater keeps it from freezing", choices=("yes", "no")),
        conductance("1 L/(s.bar)"),
    ),
    passages=(Passage("1", "3", "open for a moment at each pulse", lambda p, s, x: OPEN if x["open"] else SHUT),),
    stores=(Store("1", MEDIUM), Store("4", PILOT)),
    failures=(
        Failure("sticks-open", "a steady leak", opens=(("1", "3"),), share=0.2),
        Failure("sticks-shut", "no water comes out", shuts=(("1", "3"),)),
        Failure("leaks", "its seat is dirty: it hisses all the time", opens=(("1", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.DRAINS_WATER, Trait.DRAINS_BY_ITSELF}),
    rest={"open": 0.0},
    symbol=Symbol(2, 4, {"1": (1, 0), "4": (0, 2), "3": (1, 4)}, body="none", marks=(
        line((1, 0), (1, 4)), diamond(1, 1.5, 1), pilot((0.1, 1.5), (1.9, 1.5)), solid((0.4, 3), (1.6, 3), (1, 3.7)),
    )),
    stage=5,
    small=True,
    rows=(20,),
)
