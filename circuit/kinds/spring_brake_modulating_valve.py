"""Spring-brake modulating (inversion) valve: with the primary circuit lost, the pedal lets the springs on in step."""

from circuit.declaring.common import COMMON, DELIVERY, EXHAUST, MEDIUM, SLIGHT, SMALL, STRONG, conductance, lap
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, spring, thick
from circuit.declaring.traits import Group, Role, Trait


def wanted(p, s):
    """The pressure it gives the springs, absolute Pa: full hold-off, less the pedal's share once 42 is lost."""
    if p["42"] >= s["shifts-at"]:
        return s["holds"]
    return s["holds"] - s["gain"] * (p["41"] - min(p["41"], 101325.0))


KIND = Kind(
    name="spring-brake-modulating-valve",
    title="Spring-brake modulating valve",
    group=Group.MODULATE,
    purpose="Gives the driver a rear brake he can graduate after the primary service circuit is lost.",
    behaviour="With air at 42 it limits 2 to its hold pressure. Without it, each rise of the secondary service signal "
              "at 41 lowers 2, so the springs come on with the pedal. When 1 is vented by the park control, 2 follows.",
    ports=(
        Port("1", Role.SUPPLY, ("supply", "park")),
        DELIVERY,
        EXHAUST,
        Port("41", Role.CONTROL, ("secondary",)),
        Port("42", Role.CONTROL, ("primary",)),
    ),
    settings=(
        Setting("shifts-at", "pressure", "pressure at 42 below which the pedal works the springs",
                Typical("3.8 bar", "US Army TM 5-3820-256-24-4: 55 psi")),
        Setting("holds", "pressure", "pressure it gives the springs while driving",
                Typical("6.6 bar", "US Army TM 5-3820-256-24-4: 95 psi")),
        Setting("gain", "ratio", "fall of 2 for each rise of 41", Typical("1", COMMON)),
        lap("0.2 bar"),
        conductance("8 L/(s.bar)"),
    ),
    passages=(
        Passage("1", "2", "open while 2 is below the pressure it should give",
                lambda p, s, x: min(wanted(p, s) - p["2"], p["1"] - p["2"])),
        Passage("2", "1", "open while 1 has been vented below 2", lambda p, s, x: p["2"] - p["1"]),
        Passage("2", "3", "open while 2 is above the pressure it should give",
                lambda p, s, x: p["2"] - wanted(p, s) - s["lap"]),
    ),
    graduated=(Graduated("1", "2", charged=("42",)), Graduated("1", "2", "41", falling=True)),
    stores=(Store("1", MEDIUM), Store("2", MEDIUM), Store("41", SMALL), Store("42", SMALL)),
    failures=(
        Failure("stuck-feeding", "does not lower 2: no rear brake after the primary is lost", shuts=(("2", "3"),)),
        Failure("stuck-venting", "lets the springs drag", opens=(("2", "3"),), share=STRONG),
        Failure("stuck-shut", "the springs cannot be released", shuts=(("1", "2"),)),
        Failure("leaks", "leaks at the exhaust while the springs are off", opens=(("2", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.MODULATES_SPRINGS}),
    aliases=("inversion-valve",),
    symbol=Symbol(6, 6, {"41": (0, 1), "1": (0, 3), "42": (0, 5), "2": (6, 3), "3": (3, 6)}, flips=True, marks=(
        *arrow((0, 3), (6, 3)), pilot((0, 1), (2, 1), (2, 2.2)), pilot((0, 5), (2, 5), (2, 3.8)),
        thick((1.1, 2.3), (2.9, 2.3)), thick((1.1, 3.7), (2.9, 3.7)), spring(3.4, 5.4, 1.4, 0.4), line((3.4, 1.4),
        (3.4, 2.3)),
        line((5.4, 0.9), (5.4, 1.9)),
    )),
    stage=9,
    turns=(("1", "2"), ("41", "42")),
    rows=(49,),
)
