"""The two brakes of an axle differ.

Why
---
Two sizes or strokes on one axle, of service or spring chambers, pull to one side at every application.

What happens
------------
The vehicle pulls to the stronger side when it is braked, and in an emergency may leave its lane.

What is not checked
-------------------
Linings, drums, how well each brake is adjusted, and the slack adjusters, which have a rule of their own.

Bad
---
    chamber left: type 24, stroke 2.5 in, axle front, side left
    chamber right: type 30, stroke 2.5 in, axle front, side right

Good
----
    chamber left: type 30, stroke 2.5 in, axle front, side left
    chamber right: type 30, stroke 2.5 in, axle front, side right
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met

_COMPARED = (("type", "type"), ("stroke", "full stroke"))


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    for axle in evidence.circuit.axles:
        left = [c for c in evidence.chambers if c.settings["axle"] == axle.name and c.settings["side"] == "left"]
        right = [c for c in evidence.chambers if c.settings["axle"] == axle.name and c.settings["side"] == "right"]
        wrong = False
        for one, other in zip(left, right):
            for setting, word in _COMPARED:
                if one.settings.get(setting) != other.settings.get(setting):
                    wrong = True
                    texts = [c.given[setting].text if setting in c.given else "not written" for c in (one, other)]
                    yield not_met(axle.name, other.span.outermost,
                                f"axle {axle.name} has {word} {texts[0]} on {one.name} and {texts[1]} on {other.name}",
                                f"use the same {word} on both sides", also=((one.span.outermost, "the other side"),))
                    break
        if left and right and not wrong:
            yield met(axle.name, axle.span, f"axle {axle.name} has equal chambers left and right")


RULE = Rule("unequal-chambers", "both ends of an axle have equal chambers", "error", check)
