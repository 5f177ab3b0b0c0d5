"""Stored air runs out after too few applications.

Why
---
With the compressor lost, what is in the reservoirs is all there is. Each full application takes a filling of the
chambers and of the lines to them; what the next one gets follows from Boyle's law. Sets of rules count differently:
one application to 70 or 80 % of the start, five to half of the cut-out, eight to half of the first.

What happens
------------
The last applications of a long descent, or of a stop with the engine dead, find too little pressure to hold the
vehicle.

What is not checked
-------------------
Leaks, the cold of a fast release, and the true stroke of the brakes: chambers count at their working stroke.

Bad
---
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head yellow: line control
    reservoir tank: volume 5 L, rated 10 bar, role service
    check-valve guard
    tube red -> guard.1: size 12x1.5, length 9 m
    tube guard.2 -> tank: size 12x1.5, length 1 m
    relay-valve relay: deliveries 1
    tube tank -> relay.1: size 12x1.5, length 1 m
    tube yellow -> relay.4: size 8x1, length 9 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    hose relay.2 -> left: bore 11 mm, length 1 m

Good
----
    vehicle semi: class semi-trailer
    coupling-head red: line supply
    coupling-head yellow: line control
    reservoir tank: volume 20 L, rated 10 bar, role service
    check-valve guard
    tube red -> guard.1: size 12x1.5, length 9 m
    tube guard.2 -> tank: size 12x1.5, length 1 m
    relay-valve relay: deliveries 1
    tube tank -> relay.1: size 12x1.5, length 1 m
    tube yellow -> relay.4: size 8x1, length 9 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    hose relay.2 -> left: bore 11 mm, length 1 m
"""

from collections.abc import Iterator, Mapping
from math import inf

from circuit.gas.drawdown import Application, plain_share
from circuit.judging.evidence import Evidence
from circuit.judging.limits import has, pressure, volume
from circuit.judging.rule import AT_WORST, SIMULATE, Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.storage import MODEL, Draw, cut_out, draws, normal_pressure
from circuit.units import ATMOSPHERE, gauge, shown


LEFT_LESS, GIVEN_LESS = 0.03, 0.08
"""Shares by which a run may find less than a count does, of what is left and of what an application gets: a reservoir gives
to what another serves as well, valves keep some back. The runs of the examples find at most 2 % and 6 % less; our choice.
With a vessel on the control line, which no run has, the count decides."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    vehicle = evidence.circuit.vehicle
    vessel = volume(limits, "vessel") if has(limits, "vessel") else 0.0
    found = draws(evidence, vessel)
    if not found:
        what = "feeds a control head" if vessel else "feeds a brake"
        yield undecided(vehicle.name, vehicle.span, f"no reservoir that {what} is written",
                        "reservoirs, and the lines and valves from them")
    start = _start(evidence, limits)
    if vessel and start is not None and found:
        # Where two circuits give the trailer its signal through a shuttle, it gets what the fuller one has.
        found = (max(found, key=lambda draw: draw.after(start, int(limits["applications"]))[-1].given),)
    for draw in found:
        if start is None:
            yield undecided(draw.name, draw.tanks[0].span, f"the pressure that {draw.name} starts from is not written",
                            "a governor with its settings, or `starts-at` on the vehicle")
        else:
            yield _judge(draw, start, limits, vehicle.declared.get("secondary-at"))


def _start(evidence: Evidence, limits: Mapping[str, float]) -> float | None:
    if has(limits, "start"):
        return pressure(limits, "start")
    full = "share_of_cut_out" in limits or "share_of_start" in limits
    return cut_out(evidence) if full else normal_pressure(evidence)


def _judge(draw: Draw, start: float, limits: Mapping[str, float], secondary: float | None) -> Answer:
    """Met where the count keeps the limit with what it may be wrong by, not met where it misses the limit; between the two
    only a run decides."""
    times = int(limits["applications"])
    demand = pressure(limits, "demand") if has(limits, "demand") else inf
    series = draw.after(start, times + 1, demand)
    kept, given = series[times - 1].left, series[times - 1].given
    leave = f"{draw.name}: {_count(times)} from {shown(start, 'pressure')} leave{'s' if times == 1 else ''}"
    says = f"{leave} at least {shown(_less(kept, LEFT_LESS), 'pressure')} ({MODEL})"
    figure = _figure(series, start, times, limits, secondary)
    remark = _remark(draw, start, series, times)
    at = draw.tanks[0].span
    if figure is None:
        return undecided(draw.name, at, f"{says}; {remark}",
                         "`secondary-at` on the vehicle, the chamber pressure of secondary braking")
    if figure.margin < 0:
        last = f", the last one getting {shown(given, 'pressure')}" if given < kept else ""
        return not_met(draw.name, at, f"{leave} {shown(kept, 'pressure')} ({MODEL}){last}",
                     "more reservoir on this circuit, smaller chambers, or shorter and narrower lines", figure=figure,
                     also=tuple((c.span.outermost, "a brake it fills") for c in draw.chambers))
    wrong_by = 0.0 if has(limits, "vessel") else LEFT_LESS if figure.what.startswith("left") else GIVEN_LESS
    least = figure._replace(found=_less(figure.found, wrong_by))
    if least.margin < 0:
        return undecided(draw.name, at, f"{says}, too near to what is asked for a count", SIMULATE)._replace(figure=least)
    return met(draw.name, at, says, least, remark)


def _less(level: float, share: float) -> float:
    """An absolute pressure with a share of its gauge pressure taken off."""
    return ATMOSPHERE + (1 - share) * gauge(level)


def _figure(series: tuple[Application, ...], start: float, times: int, limits: Mapping[str, float],
            secondary: float | None) -> Figure | None:
    """What is compared: what is left against a share of the start, the last application against the first, or the
    application after it against what secondary braking takes."""
    for word in ("share_of_cut_out", "share_of_start"):
        if word in limits:
            least = ATMOSPHERE + limits[word] * gauge(start)
            return Figure(f"left after {_count(times)}", series[times - 1].left, least, "pressure")
    if "share_of_first" in limits:
        least = ATMOSPHERE + limits["share_of_first"] * gauge(series[0].given)
        return Figure(f"application {times}", series[times - 1].given, least, "pressure")
    if secondary is None:
        return None
    return Figure(f"application {times + 1}", series[times].given, secondary, "pressure")


def _remark(draw: Draw, start: float, series: tuple[Application, ...], times: int) -> str:
    """The plain count beside the real one, and what a further application would get."""
    if not draw.chambers:
        return ""
    plain = ATMOSPHERE + gauge(start) * plain_share(draw.plain_ratio, times)
    return (f"counted plainly, full strokes without lines at a ratio of {draw.plain_ratio:.1f}, "
            f"{shown(plain, 'pressure')} would be left; application {times + 1} would get at least "
            f"{shown(_less(series[times].given, GIVEN_LESS), 'pressure')}")


def _count(times: int) -> str:
    return "one full application" if times == 1 else f"{times} full applications"


RULE = Rule("reserve-too-small", "stored air lasts for the applications that are asked", "error", check, AT_WORST)
