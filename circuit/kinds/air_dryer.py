"""Air dryer with one cartridge, an outlet check and a purge valve worked by the governor."""

from circuit.declaring.common import (
    COMMON, FROM_MEMORY, HEATER_DEAD, LARGE, MEDIUM, SLIGHT, SMALL, SPENT, STRONG, SUPPLY, cavity, conductance,
)
from circuit.declaring.kind import KEEPS, Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Stroke, Symbol, diamond, line, pilot, thick
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="air-dryer",
    title="Air dryer",
    group=Group.SOURCE,
    purpose="Takes oil and water out of the compressor's air before it is stored.",
    behaviour="Loaded, air goes from 1 through the desiccant and the outlet check to 21 and into a regeneration "
              "reservoir at 22. When 4 is charged at cut-out the purge valve opens 1 to 3 and the air of 22 flows back "
              "through the desiccant.",
    ports=(
        SUPPLY,
        Port("21", Role.DELIVERY, ("delivery",), lost=KEEPS),
        Port("22", Role.SPACE, ("regeneration",), required=False),
        Port("3", Role.EXHAUST, ("exhaust", "purge")),
        Port("4", Role.CONTROL, ("control",)),
    ),
    settings=(
        conductance("8 L/(s.bar)"),
        Setting("purge-conductance", "conductance", "sonic conductance of the open purge valve",
                Typical("25 L/(s.bar)", FROM_MEMORY)),
        Setting("bed-conductance", "conductance", "sonic conductance from the regeneration reservoir back",
                Typical("0.25 L/(s.bar)", FROM_MEMORY)),
        Setting("purges-at", "pressure", "pressure at 4 that opens the purge valve", Typical("4 bar", COMMON)),
        Setting("heated", "word", "whether a heater keeps the purge valve from freezing", choices=("yes", "no")),
    ),
    passages=(
        Passage("1", "21", "open while 1 is above 21: the outlet check", lambda p, s, x: p["1"] - p["21"],
                throat="bed"),
        Passage("1", "22", "always open, through a narrow way", both_ways=True, conductance="bed-conductance",
                narrow=True, throat="bed"),
        Passage("1", "3", "open while 4 is charged", lambda p, s, x: p["4"] - s["purges-at"],
                conductance="purge-conductance"),
    ),
    stores=(Store("1", cavity(1.5)), Store("21", LARGE), Store("22", SMALL), Store("4", MEDIUM)),
    failures=(
        Failure("purge-stuck-open", "the purge valve stays open: pressure does not build", opens=(("1", "3"),)),
        Failure("purge-stuck-shut", "the purge valve stays shut: the desiccant is never dried", shuts=(("1", "3"),)),
        Failure("check-leaks-back", "the outlet check leaks: stored air goes out at each purge",
                opens=(("21", "1"),), share=STRONG),
        Failure("blocked", "the cartridge is clogged or frozen: nothing passes it", shuts=(("1", "21"), ("1", "22"))),
        Failure("leaks", "the purge valve does not seal: a hiss while it pumps", opens=(("1", "3"),), share=SLIGHT),
        SPENT, HEATER_DEAD,
    ),
    traits=frozenset({Trait.DRIES}),
    aliases=("dryer",),
    symbol=Symbol(8, 6, {"1": (0, 3), "21": (8, 3), "22": (8, 1), "3": (4, 6), "4": (2, 6)}, body="none", marks=(
        Stroke(((0, 0), (8, 0), (8, 6), (0, 6)), True, "white", "chain"),
        line((0, 3), (8, 3)), line((6.8, 3), (6.8, 1), (8, 1)), diamond(4, 2.9, 2), pilot((4, 0.9), (4, 4.9)),
        line((4, 4.9), (4, 6)), thick((3.5, 5.4), (4.5, 5.4)), pilot((2, 6), (2, 5.4), (3.5, 5.4)),
    )),
    stage=2,
    turns=(("1", "21"),),
    rows=(6,),
)
