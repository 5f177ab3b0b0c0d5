"""The slack adjusters of an axle differ in length.

Why
---
The push of a chamber turns the camshaft by the length of its slack adjuster: two lengths on one axle are two torques from
one pressure.

What happens
------------
The vehicle pulls to the side with the longer lever when it is braked, though both chambers are alike.

What is not checked
-------------------
Which hole of a slack adjuster the push rod is pinned to, and how well it is adjusted. Brakes that are adjusted inside have
none.

Bad
---
    chamber left: type 30, stroke 2.5 in, axle front, side left, slack-length 5.5 in
    chamber right: type 30, stroke 2.5 in, axle front, side right, slack-length 6 in

Good
----
    chamber left: type 30, stroke 2.5 in, axle front, side left, slack-length 5.5 in
    chamber right: type 30, stroke 2.5 in, axle front, side right, slack-length 5.5 in
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.devices import Device
from circuit.units import shown

_LENGTH = "slack-length"


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    silent: list[Device] = []
    for axle in evidence.circuit.axles:
        own = [c for c in evidence.chambers if c.settings["axle"] == axle.name and c.kind.setting(_LENGTH) is not None]
        left = [c for c in own if c.settings["side"] == "left"]
        right = [c for c in own if c.settings["side"] == "right"]
        pairs = list(zip(left, right))
        unwritten = [c for pair in pairs for c in pair if c.settings[_LENGTH] is None]
        unlike = next((pair for pair in pairs if pair[0].settings[_LENGTH] != pair[1].settings[_LENGTH]), None)
        if unlike is not None and any(c.settings[_LENGTH] is not None for c in unlike):
            one, other = unlike
            texts = [c.given[_LENGTH].text if _LENGTH in c.given else "not written" for c in unlike]
            yield not_met(axle.name, other.span.outermost,
                          f"axle {axle.name} has slack adjuster length {texts[0]} on {one.name} and {texts[1]} on {other.name}",
                          "use the same slack adjuster length on both sides", also=((one.span.outermost, "the other side"),))
        elif unwritten:
            silent += unwritten
        elif pairs:
            length = shown(pairs[0][0].settings[_LENGTH], "length")
            yield met(axle.name, axle.span, f"axle {axle.name} has slack adjusters of {length} left and right")
    if silent:
        axles = listed(dict.fromkeys(str(c.settings["axle"]) for c in silent))
        yield undecided(silent[0].name, silent[0].span.outermost, f"no slack adjuster length is written on {axles}",
                        f"`slack-length` on {listed(c.name for c in silent)}")


RULE = Rule("unequal-slack-adjusters", "both ends of an axle have equal slack adjusters", "error", check)
