"""Cut-out cock: a tap in a line. Its state is written, never implied."""

from circuit.declaring.common import COMMON, DELIVERY, EXHAUST, HEAVY, OPEN, SHUT, SLIGHT, SMALL, SUPPLY, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, line, plate
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="cut-out-cock",
    title="Cut-out cock",
    group=Group.GUARD,
    purpose="Shuts a line by hand.",
    behaviour="Open, air passes both ways; shut, nothing passes, and a vented cock empties 2 to 3.",
    ports=(SUPPLY, DELIVERY, EXHAUST),
    settings=(
        Setting("state", "word", "how it stands", required=True, choices=("open", "shut")),
        Setting("vented", "word", "whether it empties 2 when shut", Typical("no", COMMON), choices=("yes", "no")),
        conductance("10 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while the cock stands open", lambda p, s, x: OPEN if s["state"] == "open" else SHUT,
                both_ways=True, throat="fitting"),
        Passage("2", "3", "open while a vented cock stands shut",
                lambda p, s, x: OPEN if s["state"] == "shut" and s["vented"] == "yes" else SHUT),
    ),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("left-shut", "somebody left it shut", shuts=(("1", "2"),)),
        Failure("leaks", "leaks at its plug", opens=(("2", "3"),), share=SLIGHT),
        Failure("half-open", "somebody left it half open: passes slowly", shuts=(("1", "2"),), opens=(("1", "2"), ("2", "1")),
                share=HEAVY),
        Failure("vent-blocked", "its vent is blocked: shut, it leaves air behind it", shuts=(("2", "3"),)),
    ),
    traits=frozenset({Trait.SHUTS_BY_HAND}),
    aliases=("cock",),
    symbol=Symbol(4, 2, {"1": (0, 1), "2": (4, 1), "3": (2, 2)}, body="none", marks=(
        line((0, 1), (4, 1)), plate((0.7, 0.1), (2, 1), (0.7, 1.9)), plate((3.3, 0.1), (2, 1), (3.3, 1.9)),
        line((2, 1), (2, -0.5)), line((1.2, -0.5), (2.8, -0.5)),
    )),
    stage=6,
    rows=(29,),
)
