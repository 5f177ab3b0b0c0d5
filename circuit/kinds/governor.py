"""Governor: switches the compressor off at cut-out and on at cut-in."""

from circuit.declaring.common import EXHAUST, MODEST, OPEN, SHUT, SMALL, conductance
from circuit.declaring.kind import VENTS, Failure, Kind, Latch, Ordered, Passage, Port, Setting, Store
from circuit.declaring.symbol import Symbol, arrow, line, pilot, upright_spring
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="governor",
    title="Governor",
    group=Group.SOURCE,
    purpose="Holds the stored air between two pressures by switching the compressor's unloader.",
    behaviour="Senses its pressure at 1. At cut-out it snaps over and sends air to 2, which unloads the compressor; "
              "it stays there until 1 has fallen to cut-in, then it vents 2 to 3.",
    ports=(
        Port("1", Role.SUPPLY, ("reservoir", "sense")),
        Port("2", Role.DELIVERY, ("unloader",), holes=2, lost=VENTS),
        EXHAUST,
    ),
    settings=(
        Setting("cut-in", "pressure", "pressure at which pumping starts again", required=True),
        Setting("cut-out", "pressure", "pressure at which pumping stops", required=True),
        conductance("0.3 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open from cut-out down to cut-in", lambda p, s, x: OPEN if x["unloading"] else SHUT),
        Passage("2", "3", "open from cut-in up to cut-out", lambda p, s, x: SHUT if x["unloading"] else OPEN),
    ),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    latches=(Latch("unloading", lambda p, s: p["1"] - s["cut-out"], lambda p, s: s["cut-in"] - p["1"]),),
    failures=(
        Failure("stuck-loaded", "never sends the signal (blocked sense line, stuck piston): the compressor never stops",
                shuts=(("1", "2"),), holds={"unloading": 0.0}),
        Failure("stuck-unloaded", "never takes the signal back: the compressor never starts again",
                shuts=(("2", "3"),), holds={"unloading": 1.0}),
        Failure("leaks", "sensed air leaks at the exhaust", opens=(("1", "3"),), share=MODEST),
        Failure("set-high", "it has drifted up: it cuts out too high", scales={"cut-in": 1.12, "cut-out": 1.12}),
        Failure("set-low", "it has drifted down: it cuts out too low, and in too late", scales={"cut-in": 0.8, "cut-out": 0.8}),
    ),
    traits=frozenset({Trait.GOVERNS}),
    rest={"unloading": 0.0},
    orders=(Ordered("cut-in", "cut-out"),),
    symbol=Symbol(4, 4, {"1": (4, 2), "2": (0, 2), "3": (2, 4)}, marks=(
        *arrow((4, 2), (0, 2)), upright_spring(2, -1.5, 0), *arrow((0.9, -0.2), (3.2, -1.5)),
        pilot((3.3, 2), (3.3, 3.3), (2, 3.3)), line((1.6, 3.3), (2.4, 3.3)),
    )),
    stage=2,
    rows=(3,),
)
