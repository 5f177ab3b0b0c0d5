"""Hand brake valve: a lever that lets the spring brakes on by degrees, as European vehicles have it."""

from circuit.declaring.common import COMMON, EXHAUST, MEDIUM, SLIGHT, SMALL, SUPPLY, conductance
from circuit.declaring.graduated import inlet
from circuit.declaring.kind import Failure, Graduated, Kind, Passage, Port, Setting, Store, Typical
from circuit.declaring.symbol import Symbol, arrow, line, pilot, thick
from circuit.declaring.traits import Group, Role, Trait
from circuit.units import ATMOSPHERE


def springs(p, s, x):
    """The hold-off pressure the lever asks for, absolute Pa: full when released, nothing at its end."""
    return ATMOSPHERE + (1 - x["lever"]) * (s["full-delivery"] - ATMOSPHERE)


def trailer(p, s, x):
    """The pressure for the trailer control valve's port 43: as the springs', restored in the test position."""
    return s["full-delivery"] if x["test"] else springs(p, s, x)


KIND = Kind(
    name="hand-brake-valve",
    title="Graduated hand brake valve",
    group=Group.DRIVER,
    purpose="Lets the spring brakes on by degrees, as a parking brake and as a secondary brake.",
    behaviour="Released, 21 holds the springs off with the pressure of 1. As the lever is drawn, 21 falls to nothing. "
              "22 falls with it and so brakes the trailer; in the test position 22 is full again and the trailer "
              "released, to prove that the springs hold the combination alone.",
    ports=(
        SUPPLY,
        Port("21", Role.DELIVERY, ("spring",)),
        Port("22", Role.DELIVERY, ("trailer",)),
        EXHAUST,
    ),
    settings=(
        Setting("full-delivery", "pressure", "pressure it gives when released, never more than 1 has",
                Typical("8.5 bar", COMMON + ": 7.5 to 8.5 bar", "7.5 bar", "8.5 bar")),
        Setting("lap", "difference", "how far a delivery must be above the demand before it vents",
                Typical("0.15 bar", COMMON)),
        conductance("4 L/(s.bar)"),
    ),
    passages=(
        inlet("1", "21", "open while 21 is below the pressure the lever asks for", springs),
        Passage("21", "3", "open while 21 is above it",
                lambda p, s, x: p["21"] - springs(p, s, x) - (s["lap"] if x["lever"] < 1 else 0.0)),
        inlet("1", "22", "open while 22 is below what the lever or the test position asks for", trailer),
        Passage("22", "3", "open while 22 is above it",
                lambda p, s, x: p["22"] - trailer(p, s, x) - (s["lap"] if x["lever"] < 1 or x["test"] else 0.0)),
    ),
    graduated=(Graduated("1", "21", "lever", falling=True), Graduated("1", "22", "lever", falling=True),
               Graduated("1", "22", "test", held={"lever": 1.0})),
    stores=(Store("1", MEDIUM), Store("21", MEDIUM), Store("22", SMALL)),
    failures=(
        Failure("does-not-vent", "the springs stay off with the lever drawn", shuts=(("21", "3"),)),
        Failure("stuck-in-test", "the trailer is not braked by the lever", holds={"test": 1.0}),
        Failure("stuck-released", "its cam is broken: the lever moves and nothing is braked", holds={"lever": 0.0}),
        Failure("leaks", "leaks at the exhaust", opens=(("21", "3"),), share=SLIGHT),
    ),
    traits=frozenset({Trait.PARK_CONTROL, Trait.GRADUATES_SPRINGS}),
    aliases=("hand-control-valve", "graduated-park-valve"),
    rest={"lever": 0.0, "test": 0.0},
    when={"parked": {"lever": 1.0}},
    symbol=Symbol(6, 6, {"1": (0, 3), "21": (6, 1), "22": (6, 5), "3": (3, 6)}, marks=(
        line((0, 3), (2, 3)), *arrow((2, 3), (6, 1)), *arrow((2, 3), (6, 5)), pilot((4.6, 1.7), (4.6, 4.3)),
        line((3, 0), (3, -0.7)), thick((3, -0.7), (5, -1.9)), line((2.2, 0), (2.5, 0.4), (2.8, 0)),
    )),
    stage=8,
    turns=(("1", "21"), ("1", "22")),
    rows=(41,),
)
