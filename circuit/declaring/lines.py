"""What tubes, hoses, pipes and their like share: settings, ports, the air in them, and how they fail."""

from collections.abc import Mapping
from math import pi

from circuit.declaring.common import COMMON, HEAVY
from circuit.declaring.kind import OUTSIDE, Failure, Passage, Port, Setting, Settings, Store, Typical
from circuit.declaring.traits import Role
from circuit.gas.flow import OWN_ENDS
from circuit.tables import table

LENGTH = Setting("length", "length", "length along the line", required=True)
RUN = Setting("run", "word", "how it lies", choices=("falling", "level", "rising", "dipping"))
LINE_ENDS = Setting("ends", "word", "whether its two ends move against each other", Typical("fixed", COMMON),
                    choices=("fixed", "moving"))
LINE_NAME = Setting("name", "name", "a name, where a trial or a waiver needs one")
NEAR = Setting("near", "word", "what it passes closely", choices=("nothing", "heat", "moving-part", "battery"))
ELBOWS = Setting("elbows", "count", "how many elbows are in it; none where nothing is written")
RATED = Setting("rated", "pressure", "highest working pressure its maker gives")
RATED_TO = Setting("rated-to", "temperature", "highest temperature its maker gives")
INSERTS = Setting("inserts", "fraction", "bore of the inserts in its two ends over its own; without any, its whole bore",
                  usual=Typical("100 %", "no insert; compression ends have them, 75 to 85 % of the bore (trade range, no source)",
                                "75 %", "100 %"), within=("40 %", "100 %"))


def elbow_length(bore: float) -> float:
    """m of line of its bore, m, that resist as much as an elbow.

    >>> round(elbow_length(0.00957), 2)
    0.57
    """
    return float(table("tube-ends")["elbow"]["bores"] * bore)


def end_length(bore: float, insert: float) -> float:
    """m of line of its bore, m, that resist as much as inserts in both ends, beyond what ends cost anyway.

    insert: their bore over the line's. The heads that an end loses grow with the square of the area: at one end an entrance
    and a widening, at the other a narrowing and an exit. `gas.flow.tube` has its own ends as the 510 d^1.25 of its fit.

    >>> [round(end_length(0.00638, share), 2) for share in (1.0, 0.85, 0.8)]
    [0.0, 1.1, 1.79]
    """
    ends = table("tube-ends")
    area = insert**2
    heads = (ends["entrance"] + (1 - area) ** 2 + ends["narrowing"] * (1 - area) + ends["exit"]) / area**2
    return float(bore**1.25 * OWN_ENDS * (heads / ends["fit_heads"] - 1))


def with_elbows(settings: Settings) -> Mapping[str, float]:
    """The length of straight line that lets through as much as a line with its elbows and what narrows its ends, m."""
    elbows, insert = settings["elbows"] or 0, settings.get("inserts")
    narrowed = end_length(settings["bore"], insert) if insert else 0.0
    return {"resisting-length": settings["length"] + elbow_length(settings["bore"]) * elbows + narrowed}


LINE_PORTS = (Port("1", Role.END), Port("2", Role.END))
LINE_PASSAGES = (Passage("1", "2", "always open", both_ways=True, conductance=""),)


def _half(settings: Settings, pressure: float) -> float:
    return 0.125 * pi * settings["bore"] ** 2 * settings["length"]


LINE_STORES = (Store("1", _half), Store("2", _half))
"""A line's air, half at each end."""


def line_failures(bursts: str) -> tuple[Failure, ...]:
    """What goes wrong with any line; bursts: how this kind of line comes to burst."""
    return (
        Failure("burst", bursts, opens=(("1", OUTSIDE), ("2", OUTSIDE))),
        Failure("leaks", "leaks at a fitting", opens=(("1", OUTSIDE),), share=0.01),
        Failure("blocked", "kinked, frozen or choked", shuts=(("1", "2"),)),
        Failure("crushed", "crushed almost shut, or far too small a bore fitted: it passes slowly", shuts=(("1", "2"),),
                opens=(("1", "2"), ("2", "1")), share=HEAVY),
    )
