"""Auxiliary cylinder: a small cylinder that shifts something when it gets air and springs back when it is vented."""

from circuit.declaring.common import FROM_MEMORY, MODEST, ONE_VOLUME
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Typical
from circuit.declaring.symbol import Symbol, line, plate, spring, thick
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="auxiliary-cylinder",
    title="Auxiliary cylinder",
    group=Group.WORK,
    purpose="Engages a power take-off, a differential lock, a range, an exhaust brake, a fan or a clutch.",
    behaviour="A small space: with air it is out, without air its spring brings it back.",
    ports=(Port("1", Role.SPACE, ("supply",)),),
    settings=(
        Setting("works", "word", "what it shifts", choices=(
            "pto", "differential-lock", "range", "splitter", "exhaust-brake", "fan-clutch", "clutch", "tailgate",
            "other")),
        Setting("volume", "volume", "air it takes for one stroke",
                Typical("0.1 L", FROM_MEMORY + ": 0.05 to 0.3 L", "0.05 L", "0.3 L")),
    ),
    stores=(ONE_VOLUME,),
    failures=(
        Failure("leaks", "a cup or seal leaks while it is out", opens=(("1", OUTSIDE),), share=MODEST),
        Failure("burst", "its line comes off", opens=(("1", OUTSIDE),)),
        Failure("stuck-mid-way", "stands half way: half engaged"),
    ),
    traits=frozenset({Trait.USES_AIR, Trait.MOVES}),
    aliases=("pto-cylinder", "shift-cylinder", "small-cylinder"),
    symbol=Symbol(8, 4, {"1": (0, 2)}, body="none", marks=(
        line((0, 2), (1, 2)), plate((1, 0.8), (5, 0.8), (5, 3.2), (1, 3.2)), thick((2.4, 0.8), (2.4, 3.2)),
        spring(2.6, 5, 2, 0.7), line((2.4, 2), (8, 2)),
    )),
    stage=12,
    rows=(67,),
)
