"""Safety valve: the last guard against too much pressure."""

from circuit.declaring.common import EXHAUST, ON, PILOT, SLIGHT, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Port, Setting, Store
from circuit.declaring.symbol import Symbol, arrow, line, plate, spring
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="safety-valve",
    title="Safety valve",
    group=Group.SOURCE,
    purpose="Blows off when the governor fails, before a reservoir is over-stressed.",
    behaviour="Shut until 1 reaches its set pressure, then fully open to 3 a little above, and shut again below.",
    ports=(Port("1", Role.SPACE, ("supply",)), EXHAUST),
    settings=(
        ON,
        Setting("opens-at", "pressure", "set pressure", required=True),
        conductance("15 L/(s.bar)"),
    ),
    passages=(Passage("1", "3", "open above the set pressure", lambda p, s, x: p["1"] - s["opens-at"]),),
    stores=(Store("1", PILOT),),
    failures=(
        Failure("seized", "does not open at its set pressure", shuts=(("1", "3"),),
                proof="lift its stem by the ring with air behind it, eyes away from the outlet: it must blow and shut again; its "
                      "set pressure is proved on a bench, the valve taken off a reservoir that is drained to nothing"),
        Failure("weeps", "leaks below its set pressure", opens=(("1", "3"),), share=SLIGHT),
        Failure("set-high", "set or drifted too high: a governor that fails goes on filling", scales={"opens-at": 1.25}),
        Failure("opens-low", "its spring has settled: it blows before cut-out", opens=(("1", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.RELIEVES}),
    symbol=Symbol(2, 3, {"1": (1, 3), "3": (1, 0)}, body="none", marks=(
        line((1, 3), (1, 0)), plate((0.1, 0.6), (1.9, 0.6), (1.9, 2.4), (0.1, 2.4)), *arrow((1, 2.4), (1, 0.6)),
        spring(1.9, 3.1, 1.5, 0.35),
    )),
    stage=3,
    small=True,
    rows=(12,),
)
