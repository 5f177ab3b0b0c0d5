"""Elbow: a fitting that turns a line sharply, and costs as much as some line."""

from circuit.declaring.common import MODEST, OPEN_WAY, PILOT
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Port, Setting, Store
from circuit.declaring.lines import elbow_length
from circuit.declaring.symbol import Symbol, line
from circuit.declaring.traits import Group, Role

BORE = Setting("bore", "bore", "bore through it", required=True)
CONDUCTANCE = Setting("conductance", "conductance", "sonic conductance, where it is not to follow from the bore")
LOOSE = Failure("loose", "leaks at a nut", opens=(("1", OUTSIDE),), share=MODEST)


def like_line(length):
    """The sonic conductance of a piece of line of the fitting's bore, its ends not counted again. length: m, by bore."""
    def derive(settings):
        bore = settings["bore"]
        return {"conductance": settings["conductance"] or 0.029 * bore**2 / (length(bore) / bore**1.25) ** 0.5}
    return derive


KIND = Kind(
    name="elbow",
    title="Elbow",
    group=Group.LINES,
    purpose="Turns a line where it has no room to bend.",
    behaviour="Always open; it lets through as much as a line of 60 times its bore (common practice). "
              "Many of them in a signal line are felt at the brake.",
    ports=(Port("1", Role.SPACE, ("one",)), Port("2", Role.SPACE, ("other",))),
    settings=(BORE, CONDUCTANCE),
    passages=(OPEN_WAY,),
    stores=(Store("1", PILOT), Store("2", PILOT)),
    failures=(LOOSE,),
    derive=like_line(elbow_length),
    symbol=Symbol(2, 2, {"1": (0, 1), "2": (2, 1)}, body="none", marks=(
        line((0, 1), (1, 1), (1, 0.2), (1.6, 0.2), (1.6, 1), (2, 1)),
    )),
    stage=7,
    rows=(82,),
)
