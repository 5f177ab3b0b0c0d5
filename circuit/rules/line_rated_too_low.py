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

from circuit.kinds.kind import Trait
from circuit.model.circuit import Device
from circuit.rules.evidence import Evidence
from circuit.rules.rule import Figure, Rule, Statement, fault, met
from circuit.tables import table
from circuit.units import ATMOSPHERE, shown, to_si


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Statement]:
    circuit = evidence.circuit
    airs = (evidence.filling, evidence.driving, evidence.braking, evidence.parked)
    rated_lines, closest = 0, None
    for line in circuit.having(Trait.LINE):
        rated = _rating(line)
        if rated is None:
            continue
        seen = max(air.level.get(circuit.space_of(line, end), ATMOSPHERE) for air in airs for end in ("1", "2"))
        figure = Figure("working pressure against the line's rating", seen, rated, "pressure", at_least=False)
        if figure.margin < -1.0:
            yield fault(line.name, line.span,
                        f"{line.title} is predicted to see {shown(seen, 'pressure')}, and is rated for "
                        f"{shown(rated, 'pressure')}", "use a line rated for it, or cut out lower", figure=figure)
        else:
            rated_lines += 1
            closest = figure if closest is None or figure.margin < closest.margin else closest
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


RULE = Rule("line-rated-too-low", "lines are rated for what they see", "error", ("good-practice/line-rating",), check)
