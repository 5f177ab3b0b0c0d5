"""Spring brakes begin to act at a pressure that is often there.

Why
---
Springs that begin to push while the air is only somewhat low drag on the road. They should be off well below the least
pressure at which the vehicle is driven: 80 % of the cut-in, or what four full applications leave on a trailer.

What happens
------------
After some hard braking the springs drag, heat their drums and wear their linings, and nobody notices.

What is not checked
-------------------
The chamber's tolerance; the pressure counts at which it is declared to be fully held off.

Bad
---
    governor gov: cut-in 7 bar, cut-out 8.5 bar
    spring-chamber left: type 24/24, stroke 2.5 in, holds-off-at 6 bar, axle front, side left

Good
----
    governor gov: cut-in 7 bar, cut-out 8.5 bar
    spring-chamber left: type 24/24, stroke 2.5 in, holds-off-at 5.1 bar, axle front, side left
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.limits import pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.storage import draws, normal_pressure
from circuit.units import ATMOSPHERE, gauge, shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    if not evidence.springs:
        return
    first = evidence.springs[0]
    most, what = _most(evidence, limits)
    if most is None:
        yield undecided(first.name, first.span.outermost, "the least normal pressure is not written", what)
        return
    for pressure_, springs in _by_pressure(evidence):
        figure = Figure("pressure at which springs begin to act", pressure_, most, "pressure", at_least=False)
        says = f"the springs of {listed(s.name for s in springs)} begin to act at {shown(pressure_, 'pressure')}"
        at = springs[0].span.outermost
        if figure.margin >= -1.0:
            yield met(springs[0].name, at, says, figure)
        elif all(s.given["holds-off-at"].assumed for s in springs):
            yield undecided(springs[0].name, at, f"a typical spring would begin to act above {what}",
                            f"`holds-off-at` on {listed(s.name for s in springs)}")
        else:
            yield not_met(springs[0].name, springs[0].given["holds-off-at"].span or at, f"{says}, above {what}",
                        "springs that are held off at a lower pressure, a higher cut-in, or more reservoir",
                        figure=figure, also=tuple((s.span.outermost, "the same") for s in springs[1:]))


def _by_pressure(evidence: Evidence):  # type: ignore[no-untyped-def]
    groups: dict[float, list] = {}  # type: ignore[type-arg]
    for spring in evidence.springs:
        groups.setdefault(spring.settings["holds-off-at"], []).append(spring)
    return groups.items()


def _most(evidence: Evidence, limits: Mapping[str, float]) -> tuple[float | None, str]:
    """The highest pressure at which springs may begin to act, absolute Pa, and what it is; or what is missing."""
    if "share" in limits:
        normal = normal_pressure(evidence)
        if normal is None:
            return None, "a governor with its cut-in"
        return ATMOSPHERE + limits["share"] * gauge(normal), f"{limits['share']:.0%} of {shown(normal, 'pressure')}"
    start, times = pressure(limits, "start"), int(limits["applications"])
    left = [draw.after(start, times)[-1].left for draw in draws(evidence)]
    if not left:
        return None, "a service reservoir and the brakes it fills"
    what = f"the {shown(min(left), 'pressure')} that {times} applications leave of {shown(start, 'pressure')}"
    return min(left), what


RULE = Rule("springs-start-high", "springs begin to act well below the normal pressure", "error", check)
