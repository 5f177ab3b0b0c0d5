"""Quick release valve with a double check, for spring brakes: keeps spring and service force from adding up."""

from circuit.declaring.common import (
    COMMON, DELIVERIES, DELIVERY_BY_COUNT, EXHAUST, MEDIUM, MODEST, SIGNAL, SMALL, conductance,
)
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Curve, Ring, Symbol, line
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="anti-compound-release",
    title="Quick release with double check",
    group=Group.MODULATE,
    purpose="Vents the spring chambers quickly, and holds the springs off while the service brake pushes.",
    behaviour="2 follows the higher of the park line at 1 and the service line at 4; when both fall below 2 it vents "
              "2 to 3.",
    ports=(
        Port("1", Role.SUPPLY, ("supply", "park")),
        Port("4", Role.CONTROL, ("service",)),
        DELIVERY_BY_COUNT,
        EXHAUST,
    ),
    settings=(
        Setting("opens-at", "difference", "difference that opens it either way", Typical("0.1 bar", COMMON)),
        DELIVERIES,
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 1 is above 2 and not below 4",
                lambda p, s, x: min(p["1"] - p["4"] + s["opens-at"], p["1"] - p["2"] - s["opens-at"])),
        Passage("4", "2", "open while 4 is above 2 and above 1",
                lambda p, s, x: min(p["4"] - p["1"] - s["opens-at"], p["4"] - p["2"] - s["opens-at"])),
        Passage("2", "3", "open while 2 is above both 1 and 4",
                lambda p, s, x: p["2"] - max(p["1"], p["4"]) - s["opens-at"]),
    ),
    stores=(Store("1", MEDIUM), Store("2", SIGNAL), Store("4", SMALL)),
    failures=(
        Failure("iced", "the springs come on slowly or not", shuts=(("2", "3"),)),
        Failure("leaks", "leaks at the exhaust", opens=(("2", "3"),), share=MODEST),
        Failure("shuttle-leaks", "park air leaks into the service line", opens=(("1", "4"),), share=MODEST),
    ),
    traits=frozenset({Trait.SELECTS_HIGHER}),
    aliases=("quick-release-with-double-check",),
    symbol=Symbol(4, 4, {"4": (0, 1), "1": (0, 3), "3": (2, 4)}, grows="2", flips=True, marks=(
        line((0, 1), (0.9, 1), (0.9, 1.3)), line((0, 3), (0.9, 3), (0.9, 2.7)), line((0.35, 0.9), (0.9, 1.45),
        (1.45, 0.9)),
        line((0.35, 3.1), (0.9, 2.55), (1.45, 3.1)), Ring((0.9, 1.88), 0.42), line((1.32, 2), (1.8, 2)),
        Curve(((1.7, 0.9), (2.7, 2), (1.7, 3.1)), 0.3), line((2.3, 2), (3, 2)), line((2, 4), (2, 3.5)),
        line((1.5, 3.5), (2.5, 3.5)),
    )),
    stage=11,
    turns=(("1", "2"), ("1", "4")),
    rows=(47,),
)
