"""A push rod travels farther than its chamber's type allows.

Why
---
A chamber pushes hard only over the first four fifths of its stroke. The limits in service are set so that enough is
left for a hot drum that has grown.

What happens
------------
The push fades with the heat of a descent until the rod is at its stop and this brake does nothing.

What is not checked
-------------------
The brake as it stands: a design only says the travel it was meant to have.

Bad
---
    chamber left: type 30, stroke 2.5 in, working-stroke 2.25 in, axle front, side left

Good
----
    chamber left: type 30, stroke 2.5 in, working-stroke 1.75 in, axle front, side left
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.model.devices import Device
from circuit.tables import stroke_limits
from circuit.units import shown

LONGEST = 0.84
"""The greatest limit as a share of the full stroke: 2.5 in of 3. A higher limit is for a longer chamber."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    # A brake that is adjusted inside shows no rod; the limits are for rods on slack adjusters.
    chambers = [c for c in evidence.chambers if c.kind.setting("slack-length") is not None]
    silent = [c for c in chambers if c.given["working-stroke"].assumed]
    for chamber in chambers:
        if chamber not in silent:
            yield _judge(chamber, limits["share_of_stroke"])
    if silent:
        yield undecided(silent[0].name, silent[0].span, "the travel of the push rods is not written",
                        f"`working-stroke` on {listed(c.name for c in silent)}, and a measurement in service")


def _judge(chamber: Device, share: float) -> Answer:
    stroke, travel = chamber.settings["stroke"], chamber.settings["working-stroke"]
    known = stroke_limits().get(int(chamber.settings["type"].partition("/")[0]), (share * stroke,))
    most = [limit for limit in known if limit is not None and limit <= LONGEST * stroke] or [share * stroke]
    figure = Figure(f"travel of {chamber.name}", travel, max(most), "length", at_least=False)
    told = f"the push rod of {chamber.name} travels {shown(travel, 'length')}"
    if figure.margin < -1e-6:
        return not_met(chamber.name, chamber.given["working-stroke"].span or chamber.span,
                     f"{told}, more than {shown(max(most), 'length')}",
                     "adjust the brake, or fit a long-stroke chamber", figure=figure)
    if travel > min(most) + 1e-6:
        return undecided(chamber.name, chamber.span,
                         f"{told}: within {shown(max(most), 'length')}, the limit of a long-stroke chamber, but beyond "
                         f"{shown(min(most), 'length')}", "whether it is marked as a long-stroke chamber")
    return met(chamber.name, chamber.span, told, figure._replace(limit=min(most)))


RULE = Rule("stroke-beyond-limit", "push rods keep within their limits", "error", check)
