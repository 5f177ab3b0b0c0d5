"""Dual foot valve: one pedal, two circuits that share nothing but the driver's foot."""

from circuit.declaring.common import COMMON, EXHAUST, FROM_MEMORY, LARGE, MEDIUM, SLIGHT, conductance
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, thick
from circuit.declaring.traits import Group, Role, Trait
from circuit.kinds.foot_valve import demand

KIND = Kind(
    name="dual-foot-valve",
    title="Dual foot valve",
    group=Group.DRIVER,
    purpose="Gives two separate service circuits a pressure that grows with the driver's foot.",
    behaviour="Two foot valves one above the other. The upper feeds 21 from 11; its delivery works the lower, which "
              "feeds 22 from 12 a little less. When 11 is lost the pedal still pushes the lower by its rod.",
    ports=(
        Port("11", Role.SUPPLY, ("supply-1",)),
        Port("12", Role.SUPPLY, ("supply-2",)),
        Port("21", Role.DELIVERY, ("delivery-1",), holes_from="deliveries"),
        Port("22", Role.DELIVERY, ("delivery-2",), holes_from="deliveries"),
        EXHAUST,
    ),
    settings=(
        Setting("deliveries", "count", "how many holes each delivery port has", Typical("1", COMMON)),
        Setting("lead", "difference", "how much 22 stays below 21",
                Typical("0.15 bar", COMMON + ": 0.05 to 0.3 bar", "0.05 bar", "0.3 bar")),
        Setting("full-delivery", "pressure", "pressure it asks for at full stroke, never more than its supply gives",
                Typical("10 bar", FROM_MEMORY)),
        Setting("lap", "difference", "how far a delivery must be above the demand before it vents",
                Typical("0.1 bar", COMMON)),
        conductance("8 L/(s.bar)", "6 L/(s.bar)", "16 L/(s.bar)"),
    ),
    passages=(
        inlet("11", "21", "open while 21 is below the pressure the pedal asks for", demand),
        Passage("21", "3", "open while 21 is above the pressure the pedal asks for",
                lambda p, s, x: p["21"] - demand(p, s, x) - (s["lap"] if x["pedal"] > 0 else 0.0)),
        inlet("12", "22", "open while 22 is below that pressure less the lead",
              lambda p, s, x: demand(p, s, x) - s["lead"]),
        Passage("22", "3", "open while 22 is above that pressure",
                lambda p, s, x: p["22"] - demand(p, s, x) - (s["lap"] - s["lead"] if x["pedal"] > 0 else 0.0)),
    ),
    graduated=(Graduated("11", "21", "pedal"), Graduated("12", "22", "pedal")),
    stores=(Store("11", MEDIUM), Store("12", MEDIUM), Store("21", LARGE), Store("22", LARGE)),
    failures=(
        Failure("upper-stuck-shut", "21 gets no air", shuts=(("11", "21"),)),
        Failure("lower-stuck-shut", "22 gets no air", shuts=(("12", "22"),)),
        Failure("cross-leak", "the seal between the halves leaks", opens=(("21", "22"), ("22", "21")), share=SLIGHT),
        Failure("leaks-at-exhaust", "supply air leaks to the exhaust", opens=(("11", "3"),), share=SLIGHT),
        Failure("does-not-release", "delivered air stays", shuts=(("21", "3"), ("22", "3"))),
        Failure("upper-does-not-release", "its primary piston hangs applied: 21 keeps its air", shuts=(("21", "3"),)),
        Failure("lower-does-not-release", "the lower piston hangs applied: 22 keeps its air", shuts=(("22", "3"),)),
        Failure("exhaust-iced", "ice or mud shuts the exhaust: both halves keep their air", shuts=(("21", "3"), ("22", "3"))),
        Failure("lower-leaks-at-exhaust", "air that feeds the lower half leaks to the exhaust", opens=(("12", "3"),),
                share=SLIGHT),
        Failure("leaks-applied", "leaks at the exhaust while the pedal is down", opens=(("21", "3"), ("22", "3")), share=SLIGHT),
    ),
    traits=frozenset({Trait.SERVICE_CONTROL}),
    aliases=("dual-treadle-valve",),
    rest={"pedal": 0.0},
    when={"braking": {"pedal": 1.0}},
    symbol=Symbol(6, 8, {"11": (0, 2), "12": (0, 6), "21": (6, 2), "22": (6, 6), "3": (3, 8)}, marks=(
        line((0, 4), (6, 4)), *arrow((0, 2), (6, 2)), *arrow((0, 6), (6, 6)), line((2.8, 3.3), (2.8, 4.7)),
        line((3.2, 3.3), (3.2, 4.7)), pilot((4.8, 2), (4.8, 3.3), (3.6, 3.3)), pilot((4.8, 6), (4.8, 7.3), (3.6, 7.3)),
        line((3, 0), (3, -1)), thick((1.3, -0.3), (4.7, -1.7)),
    )),
    stage=6,
    turns=(("11", "21"), ("12", "22")),
    rows=(36,),
)
