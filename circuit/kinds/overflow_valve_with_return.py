"""Overflow valve with return: guards its feed, and gives all its air back when the feed falls."""

from circuit.declaring.common import COMMON, DELIVERY, OPENS_LOW, SEAT_LEAKS, SMALL, SUPPLY, conductance
from circuit.declaring.kind import Failure, Kind, Latch, Ordered, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, upright_spring
from circuit.declaring.traits import Group, Trait

OVERFLOW = (
    Setting("opens-at", "pressure", "pressure at 1 that opens it",
            Typical("6.5 bar", COMMON + ": 5.5 to 7 bar", "5.5 bar", "7 bar")),
    Setting("shuts-at", "pressure", "pressure at 1 at which it has shut again",
            Typical("5.5 bar", COMMON + ": 0.5 to 1 bar below opening")),
)
FORWARD = Passage(
    "1", "2", "open from the opening down to the closing pressure, towards 2",
    lambda p, s, x: min(p["1"] - (s["shuts-at"] if x["open"] else s["opens-at"]), p["1"] - p["2"]), keeps="shuts-at",
)
OPENS = Latch("open", lambda p, s: p["1"] - s["opens-at"], lambda p, s: s["shuts-at"] - p["1"])
FAILURES = (
    SEAT_LEAKS, OPENS_LOW,
    Failure("stuck-open", "no protection", opens=(("1", "2"), ("2", "1"))),
    Failure("stuck-shut", "the second user gets no air", shuts=(("1", "2"),)),
    Failure("no-return", "the return is blocked: no help from 2", shuts=(("2", "1"),)),
)
MARKS = (
    *arrow((0, 2), (4, 2)), upright_spring(2, -1.4, 0, 0.4), line((1.4, -1.4), (2.6, -1.4)),
    pilot((0.8, 2), (0.8, 3.3), (2, 3.3), (2, 2.4)), line((4, 2), (3.4, 2), (3.4, 0.8), (0.6, 0.8)),
    line((1.2, 0.4), (0.6, 0.8), (1.2, 1.2)),
)

KIND = Kind(
    name="overflow-valve-with-return",
    title="Overflow valve with return",
    group=Group.GUARD,
    purpose="Fills a second user only while the first has enough, and lets the second help the first.",
    behaviour="Shut until 1 reaches the opening pressure; shuts again when 1 has fallen to the closing pressure. "
              "Whenever 2 is above 1 its air goes back, down to nothing: what hangs on 2 drains with 1.",
    ports=(SUPPLY, DELIVERY),
    settings=(*OVERFLOW, conductance("7 L/(s.bar)")),
    passages=(FORWARD, Passage("2", "1", "open while 2 is above 1", lambda p, s, x: p["2"] - p["1"])),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    latches=(OPENS,),
    failures=FAILURES,
    traits=frozenset({Trait.KEEPS_BACK}),
    aliases=("charging-valve-with-return",),
    rest={"open": 0.0},
    orders=(Ordered("shuts-at", "opens-at"),),
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2)}, marks=MARKS),
    stage=4,
    turns=(("1", "2"),),
    rows=(26,),
)
