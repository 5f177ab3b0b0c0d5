"""Air processing unit: dryer, governor and multi-circuit protection valve in one body."""

from circuit.declaring.common import (
    COMMON, FROM_MEMORY, HEATER_DEAD, MEDIUM, OPEN, SHUT, SLIGHT, SMALL, SPENT, STRONG, SUPPLY, VESSEL, cavity,
    conductance,
)
from circuit.declaring.kind import KEEPS, Failure, Kind, Latch, Ordered, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Stroke, Symbol, arrow, diamond, line, pilot
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.four_circuit_protection_valve import CIRCUITS, each_outlet, in_order, latch, outlet_settings, way

OUTLETS = ("21", "22", "23", "24", "25", "26")
LIMITED = ("23", "24", "25", "26")


def _outlet(outlet):
    valve = way(outlet, "2")

    def opening(p, s, x):
        limits = outlet in LIMITED and p["2"] >= p[outlet]
        return min(valve(p, s, x), s["limits-to"] - p[outlet]) if limits else valve(p, s, x)
    return opening


KIND = Kind(
    name="air-processing-unit",
    title="Air processing unit",
    group=Group.SOURCE,
    purpose="Dries the compressor's air, rests the compressor and shares the air among the circuits, in one body.",
    behaviour="Air goes from 1 through the cartridge and a check into the gallery at 2, and from there through one "
              "protection valve to each of 21 to 26; 23 to 26 are limited. At cut-out it lets the compressor pump out "
              "at 3, signals at 27 and dries its cartridge with air of the gallery. One body, several faults: each is "
              "studied as in the single parts.",
    ports=(
        SUPPLY,
        Port("2", Role.SPACE, ("gallery", "sense"), holes=0, required=False),
        *(Port(o, Role.DELIVERY, required=o in ("21", "22"), lost=KEEPS) for o in OUTLETS),
        Port("3", Role.EXHAUST, ("exhaust", "purge")),
        Port("27", Role.DELIVERY, ("unloader",), required=False, lost=KEEPS),
    ),
    settings=(
        Setting("cut-in", "pressure", "pressure at which pumping starts again", required=True),
        Setting("cut-out", "pressure", "pressure at which pumping stops", required=True),
        *CIRCUITS,
        *outlet_settings(OUTLETS),
        Setting("limits-to", "pressure", "pressure to which 23 to 26 are limited",
                Typical("8.5 bar", COMMON + ": 8.5 or 10 bar")),
        Setting("dries-with", "difference", "how far the gallery falls while the cartridge is dried",
                Typical("0.5 bar", COMMON)),
        Setting("heated", "word", "whether a heater keeps the purge valve from freezing", choices=("yes", "no")),
        conductance("8 L/(s.bar)"),
        Setting("purge-conductance", "conductance", "sonic conductance of the open purge valve",
                Typical("25 L/(s.bar)", FROM_MEMORY)),
        Setting("bed-conductance", "conductance", "sonic conductance of the way back through the cartridge",
                Typical("0.25 L/(s.bar)", FROM_MEMORY)),
    ),
    passages=(
        Passage("1", "2", "open while 1 is above the gallery: cartridge and check", lambda p, s, x: p["1"] - p["2"],
                throat="bed"),
        *(Passage("2", o, "open from its opening down to its closing pressure", _outlet(o), True, keeps=f"shuts-at-{o}")
          for o in OUTLETS),
        Passage("1", "3", "open from cut-out down to cut-in: the compressor pumps into the open air",
                lambda p, s, x: OPEN if x["unloading"] else SHUT, conductance="purge-conductance"),
        Passage("2", "1", "open, narrowly, while the cartridge is dried", conductance="bed-conductance", narrow=True,
                throat="bed",
                opening=lambda p, s, x: p["2"] - s["cut-out"] + s["dries-with"] if x["unloading"] else SHUT),
        Passage("2", "27", "open from cut-out down to cut-in", lambda p, s, x: OPEN if x["unloading"] else SHUT),
        Passage("27", "3", "open from cut-in up to cut-out", lambda p, s, x: SHUT if x["unloading"] else OPEN),
    ),
    stores=(Store("1", cavity(1.5)), Store("2", VESSEL), *(Store(o, MEDIUM) for o in OUTLETS),
            Store("27", SMALL)),
    latches=(Latch("unloading", lambda p, s: p["2"] - s["cut-out"], lambda p, s: s["cut-in"] - p["2"]),
             *(latch(o, "2") for o in OUTLETS)),
    failures=(
        Failure("purge-stuck-open", "the purge valve stays open: pressure does not build", opens=(("1", "3"),)),
        Failure("purge-stuck-shut", "never rests the compressor and never dries: the pressure goes on rising",
                shuts=(("1", "3"), ("2", "27")), holds={"unloading": 0.0}),
        Failure("check-leaks-back", "the gallery falls at each purge", opens=(("2", "1"),), share=STRONG),
        Failure("blocked", "the cartridge is clogged or frozen", shuts=(("1", "2"),)),
        Failure("set-high", "its governor has drifted up: it fills too far", scales={"cut-in": 1.12, "cut-out": 1.12}),
        Failure("set-low", "its governor has drifted down: it never fills", scales={"cut-in": 0.8, "cut-out": 0.8}),
        Failure("leaks", "the purge valve does not seal: a hiss while it pumps", opens=(("1", "3"),), share=SLIGHT),
        SPENT, HEATER_DEAD,
        *(Failure(f"{o}-stuck-open", f"outlet {o} does not shut: a burst there lets out all that is made",
                  opens=(("2", o), (o, "2"))) for o in OUTLETS),
        *(Failure(f"{o}-stuck-shut", f"outlet {o} does not open: its circuit never fills", shuts=(("2", o),))
          for o in OUTLETS),
        *(Failure(f"{o}-weeps-across", f"outlet {o} does not seal when shut: with it lost, the others bleed away",
                  opens=(("2", o),), share=SLIGHT) for o in OUTLETS),
    ),
    traits=frozenset({Trait.DRIES, Trait.GOVERNS, Trait.KEEPS_BACK, Trait.BLOWS_OFF}),
    aliases=("air-supply-unit",),
    rest={"unloading": 0.0, **{f"open-{o}": 1.0 for o in OUTLETS}},
    derive=each_outlet(OUTLETS),
    orders=(Ordered("cut-in", "cut-out"), *in_order(OUTLETS)),
    symbol=Symbol(10, 12, {"1": (0, 6), "3": (6, 12), "27": (2, 12), "2": (2, 0),
                           **{o: (10, 1 + 2 * i) for i, o in enumerate(OUTLETS)}}, body="none", marks=(
        Stroke(((0, 0), (10, 0), (10, 12), (0, 12)), True, "white", "chain"),
        line((0, 6), (1.2, 6)), diamond(3, 6, 1.8), pilot((3, 4.2), (3, 7.8)), line((4.8, 6), (7, 6)),
        line((7, 1), (7, 11)), *(m for i in range(6) for m in arrow((7, 1 + 2 * i), (10, 1 + 2 * i))),
        line((6, 12), (6, 9), (4, 7)), pilot((2, 12), (2, 10), (6, 10)), line((2, 0), (2, 1.5), (7, 1.5)),
    )),
    stage=2,
    turns=(("1", "21"),),
    rows=(11,),
)
