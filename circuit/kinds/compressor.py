"""Compressor: makes the air. Its unloader in the head is worked from port 4."""

from circuit.declaring.common import COMMON, DELIVERY, FROM_MEMORY, LARGE, MEDIUM, MODEST, SLIGHT
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Pump, Setting, Store, Typical
from circuit.declaring.symbol import Ring, Symbol, plate
from circuit.declaring.traits import Group, Role, Trait

KIND = Kind(
    name="compressor",
    title="Compressor",
    group=Group.SOURCE,
    purpose="Takes in free air and delivers it compressed while the engine turns.",
    behaviour="Delivers from 2 at any pressure until 4 is charged by the governor; then the unloader holds the inlet "
              "open and nothing is delivered.",
    ports=(
        Port("0", Role.SPACE, ("inlet",), required=False),
        DELIVERY,
        Port("4", Role.CONTROL, ("unloader",)),
    ),
    settings=(
        Setting("displacement", "flow", "swept volume a minute at the stated speed", required=True),
        Setting("speed", "speed", "shaft speed at which the displacement is stated",
                Typical("1250 rpm", FROM_MEMORY + ": 12 to 16 cfm single-cylinder machines", "1250 rpm", "1250 rpm")),
        Setting("efficiency", "fraction", "volumetric efficiency near zero back pressure",
                Typical("85 %", FROM_MEMORY, "70 %", "92 %", "bell")),
        Setting("clearance", "fraction", "dead space over swept volume",
                Typical("5 %", FROM_MEMORY + ": 4 to 7 %", "4 %", "7 %")),
        Setting("unloads-at", "pressure", "pressure at 4 that opens the inlet", Typical("4 bar", COMMON)),
    ),
    stores=(Store("2", LARGE), Store("4", MEDIUM)),
    failures=(
        Failure("dead", "drive or valves broken: no air is made", stops=("2",)),
        Failure("stuck-loaded", "the unloader does not work: it pumps on until the safety valve blows",
                holds={"unloaded": 0.0}),
        Failure("stuck-unloaded", "the inlet stays open: pressure does not build", stops=("2",)),
        Failure("leaks-back", "the delivery valve leaks into the head", opens=(("2", "0"),), share=MODEST),
        Failure("worn", "rings and valves are worn: it fills slowly, and runs hot", scales={"efficiency": 0.5},
                proof="time it from 85 to 100 psi (5.9 to 6.9 bar) at governed speed, and hold that to what is predicted"),
        Failure("oil-passing", "oil goes into the air: the dryer is spoilt, and valves swell and stick", often="often",
                proof="hold a white card before the dryer's purge, or look into what the wet reservoir's drain gives"),
        Failure("leaks", "the head or its relief leaks outwards", opens=(("2", OUTSIDE),), share=SLIGHT),
    ),
    traits=frozenset({Trait.COMPRESSES}),
    feeds=lambda settings, situation: ("2",),
    source=Pump("2", "0", "displacement", "speed", "efficiency", "clearance",
                  rests=lambda p, s, x: p["4"] - s["unloads-at"], held="unloaded"),
    symbol=Symbol(6, 6, {"2": (6, 3), "4": (3, 6), "0": (0, 3)}, body="none", marks=(
        Ring((3, 3), 3), plate((6, 3), (4.3, 2.1), (4.3, 3.9)),
    )),
    stage=1,
    rows=(1, 2),
)
