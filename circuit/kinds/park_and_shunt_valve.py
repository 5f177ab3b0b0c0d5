"""Park and shunt valve: two buttons at a trailer's side, black to move it uncoupled, red to park it."""

from circuit.declaring.common import COMMON, EXHAUST, MEDIUM, OPEN, SHUT, SLIGHT, conductance
from circuit.declaring.kind import Failure, Kind, Latch, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, arrow, line
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="park-and-shunt-valve",
    title="Park and shunt valve",
    group=Group.TOWING,
    purpose="Lets a person on the ground park an uncoupled trailer with its springs, or lift its automatic brake to "
            "move it.",
    behaviour="The supply line passes from 1 to 21, the emergency valve's line port. Black pushed, with no line "
              "coupled, 21 is fed from the reservoir at 11 and the automatic brake lifts; air at 1 puts black back by "
              "itself. Red pushed, 22 holds the springs off from 11; red pulled, or the reservoir low, 22 vents to 3.",
    ports=(
        Port("1", Role.SUPPLY, ("supply", "line")),
        Port("11", Role.SUPPLY, ("reservoir",)),
        Port("21", Role.DELIVERY, ("emergency",)),
        Port("22", Role.DELIVERY, ("spring",)),
        EXHAUST,
    ),
    settings=(
        Setting("springs-on-below", "pressure", "reservoir pressure below which the springs are let on",
                Typical("3 bar", COMMON + "; not less than 280 kPa in (EU) 2015/68 Annex V")),
        Setting("resets-at", "pressure", "line pressure that puts the black button back", Typical("2.5 bar", COMMON)),
        conductance("8 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "21", "open while black is out", both_ways=True,
                opening=lambda p, s, x: SHUT if x["shunting"] else OPEN),
        Passage("11", "21", "open while black is in and no line is coupled",
                lambda p, s, x: s["resets-at"] - p["1"] if x["shunting"] else SHUT),
        Passage("11", "22", "open while red is in", both_ways=True,
                opening=lambda p, s, x: p["11"] - s["springs-on-below"] if x["released"] else SHUT,
                keeps="springs-on-below"),
        Passage("22", "3", "open while red is out, or the reservoir is low",
                lambda p, s, x: s["springs-on-below"] - p["11"] if x["released"] else OPEN),
    ),
    stores=tuple(Store(port, MEDIUM) for port in ("1", "11", "21", "22")),
    latches=(Latch("shunting", None, lambda p, s: p["1"] - s["resets-at"]),),
    failures=(
        Failure("left-shunting", "does not reset: no automatic brake", holds={"shunting": 1.0}),
        Failure("left-pulled", "somebody left red out: the springs drag", holds={"released": 0.0}),
        Failure("does-not-vent", "the springs stay off", shuts=(("22", "3"),)),
        Failure("leaks", "leaks at the exhaust", opens=(("11", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.PARK_CONTROL, Trait.TAKES_SUPPLY_LINE}),
    aliases=("shunt-valve",),
    rest={"shunting": 0.0, "released": 1.0},
    when={"parked": {"released": 0.0}},
    symbol=Symbol(6, 6, {"1": (0, 1), "11": (0, 5), "21": (6, 1), "22": (6, 5), "3": (3, 6)}, marks=(
        *arrow((0, 1), (6, 1)), *arrow((0, 5), (6, 5)), line((1.4, 5), (1.4, 1)), line((2, 0), (2, -0.8)),
        Ring((2, -1.2), 0.42, "black"), line((4, 0), (4, -0.8)), Ring((4, -1.2), 0.42),
    )),
    stage=3,
    turns=(("1", "21"), ("11", "22")),
    rows=(76,),
)
