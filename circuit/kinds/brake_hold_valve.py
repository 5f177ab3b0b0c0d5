"""Brake hold valve: applies the service brakes with a set pressure while a switch asks for it."""

from circuit.declaring.common import COMMON, DELIVERY_BY_COUNT, EXHAUST, MEDIUM, OPEN, SMALL, SUPPLY, conductance
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, plate, upright_spring
from circuit.declaring.traits import Group
from circuit.units import ATMOSPHERE

KIND = Kind(
    name="brake-hold-valve",
    title="Brake hold valve",
    group=Group.DRIVER,
    purpose="Holds a standing vehicle on its service brakes: at a stop with open doors, or while a body is at work.",
    behaviour="Energised, it feeds 2 from 1 up to its set pressure; without current 2 vents to 3 and the brakes are "
              "the pedal's again. It joins each service circuit through a double check valve, never by a tee.",
    ports=(SUPPLY, DELIVERY_BY_COUNT, EXHAUST),
    settings=(
        Setting("holds", "pressure", "pressure it gives while energised",
                Typical("4.8 bar", "US Army TM 9-2320-272-10, brake lock regulator: 70 psi")),
        Setting("lap", "difference", "how far 2 must be above that before it vents", Typical("0.2 bar", COMMON)),
        Setting("deliveries", "count", "how many holes port 2 has", Typical("2", COMMON)),
        conductance("4 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "2", "open while energised and 2 is below the set pressure",
              lambda p, s, x: s["holds"] if x["energised"] else ATMOSPHERE),
        Passage("2", "3", "open without current, or while 2 is above the set pressure",
                lambda p, s, x: p["2"] - s["holds"] - s["lap"] if x["energised"] else OPEN),
    ),
    graduated=(Graduated("1", "2", held={"energised": 1.0}),),
    stores=(Store("1", SMALL), Store("2", MEDIUM)),
    failures=(
        Failure("stuck-on", "the brakes drag while driving", holds={"energised": 1.0}),
        Failure("without-current", "the brakes are not held", holds={"energised": 0.0}),
        Failure("exhaust-blocked", "the brakes stay on", shuts=(("2", "3"),)),
    ),
    aliases=("brake-interlock-valve", "work-brake-valve"),
    rest={"energised": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), pilot((3.3, 2), (3.3, 3.3), (2, 3.3)), upright_spring(1, 2.6, 4, 0.35),
        plate((1, -1.3), (3, -1.3), (3, 0), (1, 0)), line((1, 0), (3, -1.3)),
    )),
    stage=6,
    turns=(("1", "2"),),
    rows=(43,),
)
