"""Traction or stability solenoid: brakes a wheel or an axle by itself when the electronics ask for it."""

from circuit.declaring.common import DELIVERY, EXHAUST, OPEN, SHUT, SMALL, SUPPLY, conductance
from circuit.declaring.kind import Failure, Kind, Passage, Store
from circuit.declaring.symbol import Symbol, arrow, line, plate, upright_spring
from circuit.declaring.traits import Group

KIND = Kind(
    name="traction-solenoid",
    title="Traction or stability solenoid",
    group=Group.MODULATE,
    purpose="Brakes a spinning or skidding wheel without the driver's foot.",
    behaviour="Energised, 2 is fed from 1; without current 2 vents to 3. It joins the service line through a double "
              "check valve, and takes its air from the reservoir of that same circuit.",
    ports=(SUPPLY, DELIVERY, EXHAUST),
    settings=(conductance("8 L/(s.bar)"),),
    passages=(
        Passage("1", "2", "open while energised", lambda p, s, x: OPEN if x["energised"] else SHUT, both_ways=True),
        Passage("2", "3", "open without current", lambda p, s, x: SHUT if x["energised"] else OPEN),
    ),
    stores=(Store("1", SMALL), Store("2", SMALL)),
    failures=(
        Failure("stuck-on", "its brakes are on without the pedal", holds={"energised": 1.0}),
        Failure("without-current", "no traction or stability control", holds={"energised": 0.0}),
        Failure("exhaust-iced", "its brakes stay on", shuts=(("2", "3"),)),
    ),
    aliases=("stability-solenoid", "traction-control-valve"),
    rest={"energised": 0.0},
    symbol=Symbol(4, 4, {"1": (0, 2), "2": (4, 2), "3": (2, 4)}, marks=(
        *arrow((0, 2), (4, 2)), upright_spring(2, 2.7, 4, 0.35),
        plate((1, -1.3), (3, -1.3), (3, 0), (1, 0)), line((1, 0), (3, -1.3)),
    )),
    stage=8,
    turns=(("1", "2"),),
    rows=(57,),
)
