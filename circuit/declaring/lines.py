"""What tubes, hoses, pipes and their like share: settings, ports, the air in them, and how they fail."""

from collections.abc import Mapping
from math import pi

from circuit.declaring.common import COMMON, HEAVY
from circuit.declaring.kind import OUTSIDE, Failure, Passage, Port, Setting, Settings, Store, Typical
from circuit.declaring.traits import Role

LENGTH = Setting("length", "length", "length along the line", required=True)
RUN = Setting("run", "word", "how it lies", choices=("falling", "level", "rising", "dipping"))
LINE_ENDS = Setting("ends", "word", "whether its two ends move against each other", Typical("fixed", COMMON),
                    choices=("fixed", "moving"))
LINE_NAME = Setting("name", "name", "a name, where a trial or a waiver needs one")
NEAR = Setting("near", "word", "what it passes closely", choices=("nothing", "heat", "moving-part", "battery"))
ELBOWS = Setting("elbows", "count", "how many elbows are in it; none where nothing is written")
RATED = Setting("rated", "pressure", "highest working pressure its maker gives")
RATED_TO = Setting("rated-to", "temperature", "highest temperature its maker gives")
ELBOW_LENGTH = 0.6
"""m of its own bore that an elbow costs; common practice, no source: 0.3 to 1 m."""


def with_elbows(settings: Settings) -> Mapping[str, float]:
    """The length of straight line that lets through as much as a line with its elbows, m."""
    return {"resisting-length": settings["length"] + ELBOW_LENGTH * (settings["elbows"] or 0)}


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
