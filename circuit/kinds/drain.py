"""Drain cock: lets the water out of a reservoir by hand."""

from circuit.declaring.common import COMMON, EXHAUST, ON, OPEN, SHUT, THREAD, TINY, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, diamond, line, pilot
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="drain",
    title="Drain cock",
    group=Group.STORE,
    purpose="Lets the water out that gathers as compressed air cools.",
    behaviour="Shut until a hand turns it or pulls its cord; then 1 empties to 3.",
    ports=(Port("1", Role.SPACE, ("supply",)), EXHAUST),
    settings=(
        ON,
        Setting("operated", "word", "how it is worked", Typical("by-hand", COMMON), choices=("by-hand", "by-cord")),
        Setting("placed", "word", "where on the reservoir as mounted", choices=("lowest", "end", "side", "top")),
        conductance("2 L/(s.bar)"),
    ),
    passages=(Passage("1", "3", "open while a hand holds it open", lambda p, s, x: OPEN if x["open"] else SHUT),),
    stores=(Store("1", THREAD),),
    failures=(
        Failure("left-open", "left open or broken off", opens=(("1", "3"),)),
        Failure("blocked", "frozen or choked with sludge: no water comes", shuts=(("1", "3"),)),
        Failure("weeps", "its seat is dirty: it drips and hisses", opens=(("1", "3"),), share=TINY),
    ),
    traits=frozenset({Trait.DRAINS_WATER}),
    aliases=("drain-cock",),
    rest={"open": 0.0},
    symbol=Symbol(2, 3, {"1": (1, 0)}, body="none", marks=(
        line((1, 0), (1, 2.9)), diamond(1, 1.5, 1), pilot((0.1, 1.5), (1.9, 1.5)), line((0.4, 2.9), (1.6, 2.9)),
    )),
    stage=5,
    small=True,
    rows=(19,),
)
