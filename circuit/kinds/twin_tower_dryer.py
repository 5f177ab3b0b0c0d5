"""Twin-tower dryer: one tower dries the air while a little of it dries the other tower."""

from circuit.declaring.common import (
    COMMON, FROM_MEMORY, HEATER_DEAD, LARGE, MEDIUM, OPEN, SHUT, SPENT, STRONG, SUPPLY, cavity, conductance,
)
from circuit.declaring.kind import KEEPS, Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Stroke, Symbol, diamond, line, pilot
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="twin-tower-dryer",
    title="Twin-tower air dryer",
    group=Group.SOURCE,
    purpose="Dries the air of a vehicle whose compressor hardly ever rests, such as a city bus.",
    behaviour="Air goes from 1 through one tower and the outlet check to 21. A part of the dried air goes back through "
              "the other tower to 3, and the towers change places every minute or so: no pause at cut-out is needed.",
    ports=(
        SUPPLY,
        Port("21", Role.DELIVERY, ("delivery",), lost=KEEPS),
        Port("3", Role.EXHAUST, ("exhaust", "purge")),
        Port("4", Role.CONTROL, ("control",), required=False),
    ),
    settings=(
        conductance("8 L/(s.bar)"),
        Setting("purge-conductance", "conductance", "sonic conductance of the way back through the tower at rest",
                Typical("0.3 L/(s.bar)", FROM_MEMORY)),
        Setting("changes-every", "time", "time after which the towers change places",
                Typical("60 s", COMMON + ": 30 s to 2 min")),
        Setting("heated", "word", "whether a heater keeps the purge valves from freezing", choices=("yes", "no")),
    ),
    passages=(
        Passage("1", "21", "open while 1 is above 21: the outlet check", lambda p, s, x: p["1"] - p["21"],
                throat="bed"),
        Passage("1", "3", "open, narrowly, while a tower is being dried", conductance="purge-conductance", narrow=True,
                opening=lambda p, s, x: OPEN if x["purging"] else SHUT),
    ),
    stores=(Store("1", cavity(3)), Store("21", LARGE), Store("4", MEDIUM)),
    failures=(
        Failure("one-tower-dead", "the towers no longer change places: the air is wet", holds={"purging": 0.0}),
        Failure("purge-stuck-open", "a purge valve stays open: pressure builds slowly or not at all",
                opens=(("1", "3"),), share=1.0),
        Failure("check-leaks-back", "the outlet check leaks: stored air goes out at the purge", opens=(("21", "1"),),
                share=STRONG),
        Failure("blocked", "a tower is clogged or frozen", shuts=(("1", "21"),)),
        Failure("purge-stuck-shut", "no tower is dried any more: the air is wet", shuts=(("1", "3"),)),
        Failure("both-purging", "its switch hangs: one tower purges all the time", holds={"purging": 1.0}),
        SPENT, HEATER_DEAD,
    ),
    traits=frozenset({Trait.DRIES}),
    aliases=("double-tower-dryer", "twin-chamber-dryer"),
    rest={"purging": 0.0},
    symbol=Symbol(8, 8, {"1": (0, 4), "21": (8, 4), "3": (6, 8), "4": (2, 8)}, body="none", marks=(
        Stroke(((0, 0), (8, 0), (8, 8), (0, 8)), True, "white", "chain"),
        line((0, 4), (1.2, 4), (1.2, 2), (2.2, 2)), line((1.2, 4), (1.2, 6), (2.2, 6)), diamond(4, 2, 1.8),
        diamond(4, 6, 1.8), pilot((4, 0.2), (4, 3.8)), pilot((4, 4.2), (4, 7.8)),
        line((5.8, 2), (6.8, 2), (6.8, 4), (8, 4)), line((5.8, 6), (6.8, 6), (6.8, 4)), line((6, 8), (6, 7), (5, 6.7)),
    )),
    stage=2,
    turns=(("1", "21"),),
    rows=(7,),
)
