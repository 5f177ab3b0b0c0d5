"""The schematic coloured by pressure: bands, pills with values, and where the pills find room. Lengths in U.

A band has colour, weight and dash, and the darker the more air, so that the picture reads without colour too.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from circuit.draw import palette
from circuit.draw.glyphs import path, px
from circuit.draw.layout import Layout
from circuit.draw.parts import Body, Run, is_wheel
from circuit.draw.roles import downstream_first
from circuit.draw.room import Lettering, Space, Spot
from circuit.draw.text import LETTER
from circuit.draw.tree import Drawn, Stretch, chains
from circuit.declaring.symbol import Point
from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.units import ATMOSPHERE, to_si, value_in

HALF_WIDE, HALF_HIGH = 1.75, 0.8
"""Half of a pill's width and height."""
PLACES = {"psi": 0, "bar": 1}
"""Decimals of a written pressure."""


class Reading(NamedTuple):
    """A state of the air to draw. level: absolute Pa by space; a space that is not in it is empty.

    unit: psi or bar. title: for the legend. live: a page colours it; the sheet then keeps its circuits' colours and
    carries what the page needs. played: it comes from a simulation.
    """

    level: Mapping[int, float]
    unit: str = "psi"
    title: str = ""
    live: bool = False
    played: bool = False


class Band(NamedTuple):
    """From a gauge pressure on, Pa: how a line looks."""

    above: float
    colour: str
    weight: float
    dash: str


BANDS = (
    Band(0.0, "#6b7178", 1.2, "1.5 3"),
    Band(to_si("5 psi", "difference"), "#b07000", 1.8, ""),
    Band(to_si("30 psi", "difference"), "#b0452f", 2.6, ""),
    Band(to_si("60 psi", "difference"), "#7d2a68", 3.4, ""),
    Band(to_si("90 psi", "difference"), "#1b2a6b", 4.2, ""),
)


def band_of(pressure: float) -> Band:
    """The band of an absolute pressure."""
    return next(band for band in reversed(BANDS) if pressure - ATMOSPHERE >= band.above or band is BANDS[0])


def written(pressure: float, unit: str) -> str:
    """An absolute pressure as a gauge shows it, without its unit; never `-0`."""
    return f"{value_in(max(pressure, ATMOSPHERE), unit, 'pressure'):.{PLACES[unit]}f}"


def band_titles(unit: str) -> list[str]:
    """The bands in words."""
    edges = [f"{value_in(band.above, unit, 'difference'):.{PLACES[unit]}f}" for band in BANDS]
    return [f"below {edges[1]} {unit}", *(f"{low} to {high} {unit}" for low, high in zip(edges[1:], edges[2:])),
            f"{edges[-1]} {unit} and more"]


def pill(spot: Point, space: int, reading: Reading) -> str:
    """A value in its frame."""
    x, y = spot
    pressure = reading.level.get(space, ATMOSPHERE)
    band = band_of(pressure)
    dash = ' stroke-dasharray="1.5 1.5"' if band is BANDS[0] else ""
    return (f'<g class="pill" data-space="{space}" transform="translate({px(x)},{px(y)})">'
            f'<rect x="{px(-HALF_WIDE)}" y="{px(-HALF_HIGH)}" width="{px(2 * HALF_WIDE)}" height="{px(2 * HALF_HIGH)}" '
            f'rx="3" fill="{palette.PAPER}" stroke="{band.colour}" stroke-width="1.2"{dash}/>'
            f'<text y="4" font-size="{LETTER:g}" font-weight="bold" text-anchor="middle" fill="{palette.INK}">'
            f"{written(pressure, reading.unit)}</text></g>")


def airs(circuit: Circuit, drawn: Drawn, reading: Reading) -> list[str]:
    """A wire's lines in the looks of their bands; first what several of them share, as the first one's upper end."""
    upper = circuit.space[downstream_first(circuit, drawn.wire.runs[0])[0]]
    shared = [part for stretch in drawn.stretches for part in left_over(stretch, drawn.own)]
    rows = [_air(shared, (upper, upper), reading)] if shared else []
    for run, own in zip(drawn.wire.runs, drawn.own):
        rows.append(_air(own, (circuit.space[run.ports[0]], circuit.space[run.ports[1]]), reading))
    return rows


def left_over(stretch: Stretch, own: list[list[Stretch]]) -> list[Stretch]:
    """The parts of a stretch that no run has drawn as its own: dots on dots would look like a line of another kind."""
    along = 0 if stretch.level else 1
    here = sorted((s.start[along], s.end[along]) for stretches in own for s in stretches
                  if s.level == stretch.level and s.start[1 - along] == stretch.start[1 - along])
    at, end = stretch.start[along], stretch.end[along]
    gaps = []
    for low, high in [*here, (end, end)]:
        if min(low, end) > at:
            gaps.append((at, min(low, end)))
        at = max(at, high)
    if stretch.level:
        return [Stretch((a, stretch.start[1]), (b, stretch.start[1]), stretch.role) for a, b in gaps]
    return [Stretch((stretch.start[0], a), (stretch.start[0], b), stretch.role) for a, b in gaps]


def _air(stretches: list[Stretch], spaces: tuple[int, int], reading: Reading) -> str:
    band = band_of(sum(reading.level.get(space, ATMOSPHERE) for space in spaces) / 2)
    dash = f' stroke-dasharray="{band.dash}"' if band.dash else ""
    d = "".join(path(chain) for chain in chains(stretches))
    return (f'<path class="air" data-ends="{spaces[0]} {spaces[1]}" d="{d}" stroke="{band.colour}" '
            f'stroke-width="{band.weight:g}"{dash} stroke-linejoin="round"/>')


def legend(reading: Reading) -> list[tuple[float, str, str]]:
    """The bands as blocks of a legend: room, sign, words."""
    rows = [(0.0, "", f"{reading.title}, predicted, values in {reading.unit}:")]
    for band, words in zip(BANDS, band_titles(reading.unit)):
        dash = f' stroke-dasharray="{band.dash}"' if band.dash else ""
        rows.append((4.4, f'<path d="M0 0H36" stroke="{band.colour}" stroke-width="{band.weight:g}" fill="none"{dash}/>',
                     words))
    return rows


# --- where pills stand ---------------------------------------------------------------------------------------------


def place_pills(layout: Layout, space: Space, result: Lettering) -> None:
    """A pill on each reservoir, and on each wire near what it works on, wherever there is room."""
    for body in layout.bodies:
        if body.device.has(Trait.STORES_AIR):
            _put(_on_edge(body), layout.circuit.store(body.device), space, result)
    for drawn in sorted(layout.wires, key=lambda d: (not _wheels(layout, d), d.wire.number)):
        done = False
        for place, run in sorted(enumerate(drawn.wire.runs), key=lambda pair: not _at_wheel(layout, pair[1])):
            if done and not _at_wheel(layout, run):
                break
            lower = downstream_first(layout.circuit, run)[1]
            stretches = drawn.own[place] if _at_wheel(layout, run) else drawn.stretches
            done |= _put(_on_line(drawn, stretches, _at_wheel(layout, run)), layout.circuit.space[lower], space, result)


def _put(spots: Iterator[tuple[Point, tuple[Stretch, ...]]], of: int, space: Space, result: Lettering) -> bool:
    for (x, y), over in spots:
        box = (x - HALF_WIDE, y - HALF_HIGH, x + HALF_WIDE, y + HALF_HIGH)
        if space.is_free(box, 0.15, over=over):
            result.pills.append(Spot(x, y, of))
            space.take(box)
            return True
    return False


def _on_edge(body: Body) -> Iterator[tuple[Point, tuple[Stretch, ...]]]:
    """Just outside a reservoir's lower and upper edge."""
    low, high = body.y + body.height + HALF_HIGH + 0.35, body.y - HALF_HIGH - 0.35
    for y in (low, high):
        for share in (0.8, 0.2, 0.9, 0.1, 0.5):
            yield (body.x + body.width * share, y), ()


def _on_line(drawn: Drawn, stretches: list[Stretch], outward: bool) -> Iterator[tuple[Point, tuple[Stretch, ...]]]:
    """On a wire's stretches, level ones first. outward: the rightmost first, else the longest."""
    order = sorted(stretches, key=lambda s: (not s.level, -s.end[0] if outward else -s.length, s.start))
    for stretch in order:
        (x0, y0), (x1, y1) = stretch.start, stretch.end
        if stretch.length < (2 * HALF_WIDE + 0.8 if stretch.level else 2 * HALF_HIGH + 1):
            continue
        for share in ((0.7, 0.5, 0.3, 0.85, 0.15) if outward else (0.5, 0.35, 0.65, 0.2, 0.8)):
            x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
            if all(abs(x - jx) + abs(y - jy) > HALF_WIDE + 0.6 for jx, jy in drawn.joints):
                yield (x, y), tuple(s for s in drawn.stretches if _passes(s, x, y, stretch.level))


def _passes(stretch: Stretch, x: float, y: float, level: bool) -> bool:
    (x0, y0), (x1, y1) = stretch.start, stretch.end
    return stretch.level == level and x0 <= x <= x1 and y0 <= y <= y1


def _at_wheel(layout: Layout, run: Run) -> bool:
    return any(is_wheel(layout.circuit.by_name[key[0]]) for key in run.ports)


def _wheels(layout: Layout, drawn: Drawn) -> bool:
    return any(_at_wheel(layout, run) for run in drawn.wire.runs)

