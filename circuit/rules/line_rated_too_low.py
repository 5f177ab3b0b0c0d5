"""A line sees more pressure than it is rated for.

Why
---
Inch-size plastic tube is made for 150 psi at most, and a hose or a metric tube for what its maker says. A vehicle with
a European cut-out of 10 bar or more stands above the first of these every day.

What happens
------------
The line creeps at its fittings and bursts on a hot day, at full pressure.

What is not checked
-------------------
Lines whose rating is not known: of metric tube, hose and pipe only what is written with `rated`. The strength of
fittings.

Bad
---
    compressor pump: displacement 12 cfm
    governor gov: cut-in 10 bar, cut-out 11 bar
    reservoir dry: volume 46 L, rated 12 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    tube dry -> gov.1: size 1/4 in, length 1 m
    tube gov.2 -> pump.4: size 1/4 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    governor gov: cut-in 10 bar, cut-out 11 bar
    reservoir dry: volume 46 L, rated 12 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    tube dry -> gov.1: size 6x1, length 1 m, rated 12.5 bar
    tube gov.2 -> pump.4: size 6x1, length 1 m, rated 12.5 bar
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Figure, Rule, met, not_met
from circuit.model.devices import Device
from circuit.tables import table
from circuit.units import ATMOSPHERE, shown, to_si

MANY = 2
"""Lines rated too low, of which more are the governor's fault."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    airs = (evidence.filling, evidence.driving, evidence.braking, evidence.parked)
    rated_lines, closest = 0, None
    low: list[tuple[Device, Figure]] = []
    for line in circuit.having(Trait.LINE):
        rated = _rating(line)
        if rated is None:
            continue
        seen = max(air.level.get(circuit.space_of(line, end), ATMOSPHERE) for air in airs for end in ("1", "2"))
        figure = Figure("working pressure against the line's rating", seen, rated, "pressure", at_least=False)
        if figure.margin < -1.0:
            low.append((line, figure))
        else:
            rated_lines += 1
            closest = figure if closest is None or figure.margin < closest.margin else closest
    governors = [g for g in circuit.having(Trait.GOVERNS) if len(low) > MANY
                 and all(g.settings["cut-out"] > figure.limit for _, figure in low)]
    if governors:
        line, figure = min(low, key=lambda each: each[1].margin)
        yield not_met(governors[0].name, governors[0].span,
                    f"{governors[0].name} cuts out at {shown(governors[0].settings['cut-out'], 'pressure')}, and "
                    f"{len(low)} lines are rated for less, {line.title} for {shown(figure.limit, 'pressure')}",
                    "cut out lower, or use lines rated for it", figure=figure,
                    also=tuple((each.span, "one of the lines") for each, _ in low))
    for line, figure in low if not governors else ():
        yield not_met(line.name, line.span,
                    f"{line.title} is predicted to see {shown(figure.found, 'pressure')}, and is rated for "
                    f"{shown(figure.limit, 'pressure')}", "use a line rated for it, or cut out lower", figure=figure)
    if closest is not None:
        yield met("lines", circuit.vehicle.span, f"{rated_lines} lines of known rating hold what they see", closest)


def _rating(line: Device) -> float | None:
    """The highest pressure a line is made for, absolute Pa: as written, or that of all inch-size plastic tube."""
    written = line.settings.get("rated")
    if written is not None:
        return float(written)
    if line.has(Trait.MELTS) and "x" not in line.given["size"].text:
        return to_si(f"{table('tubes')['rated_psi']} psi", "pressure")
    return None


RULE = Rule("line-rated-too-low", "lines are rated for what they see", "error", check)
