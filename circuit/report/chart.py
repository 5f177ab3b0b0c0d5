"""Curves as an SVG drawn by hand: few colours, a dash of its own for each curve, names at the curves' ends."""

from collections.abc import Sequence
from html import escape
from typing import NamedTuple

from circuit.draw.palette import FAINT, INK, PAPER, QUIET
from circuit.model.trace import Trace
from circuit.units import ATMOSPHERE

WIDE, HIGH = 900, 480
LEFT, RIGHT, TOP, BOTTOM = 64, 230, 58, 52
COLOURS = ("#212dff", "#111111", "#b0560a", "#0b6b3a", "#7a2a8c", "#1c7fb8", "#a01030", "#5a6068")
DASHES = ("", "7 3", "2 3", "10 3 2 3", "14 4", "4 2 1 2", "1 4", "9 3 2 3 2 3")
MOST = 8
"""Curves in one chart; more cannot be told apart."""
LETTER = 6.4
"""px that a letter of the smallest size takes at most."""
_FONT = "Bitstream Vera Sans, Verdana, DejaVu Sans, sans-serif"


class Curve(NamedTuple):
    """label: at its end. xs, ys: in the axes' units."""

    label: str
    xs: Sequence[float]
    ys: Sequence[float]


class Chart(NamedTuple):
    """title, under: the two rows on top. levels: (y, label) of limits, drawn across. moments: (x, label) of limits or
    events, drawn upright. x_ticks: (x, label) where round numbers do not serve. room: px for the curves' labels."""

    title: str
    under: str
    x_label: str
    y_label: str
    curves: tuple[Curve, ...]
    levels: tuple[tuple[float, str], ...] = ()
    moments: tuple[tuple[float, str], ...] = ()
    x_ticks: tuple[tuple[float, str], ...] = ()
    room: int = RIGHT


POINTS = 400


def bar(pressure: float) -> float:
    """Gauge bar of an absolute pressure."""
    return (pressure - ATMOSPHERE) / 1e5


def curve(trace: Trace, place: str | int, label: str, begin: float = 0.0, end: float | None = None,
          per: float = 1.0) -> Curve:
    """A place's gauge pressure in bar. per: s that one unit of the time axis stands for."""
    last = trace.end if end is None else min(end, trace.end)
    times = [begin + (last - begin) * number / POINTS for number in range(POINTS + 1)]
    return Curve(label, [(time - begin) / per for time in times], [bar(p) for p in trace.curve(place, times)])


def svg(chart: Chart) -> str:
    """The picture of a chart."""
    curves = chart.curves[:MOST]
    x_end = max((x for curve in curves for x in curve.xs), default=1.0) or 1.0
    x_start = min((x for curve in curves for x in curve.xs), default=0.0)
    y_top = max([y for curve in curves for y in curve.ys] + [y for y, _ in chart.levels] + [1e-9])
    x_ticks = chart.x_ticks or tuple((x, f"{x:g}") for x in ticks(x_start, x_end))
    y_ticks = ticks(0.0, y_top * 1.04)
    y_end = max(y_ticks[-1], y_top * 1.04)

    def at(x: float, y: float) -> tuple[float, float]:
        return (LEFT + (x - x_start) / (x_end - x_start) * (WIDE - LEFT - chart.room),
                HIGH - BOTTOM - y / y_end * (HIGH - TOP - BOTTOM))

    parts = [f'<rect width="{WIDE}" height="{HIGH}" fill="{PAPER}"/>',
             _text(LEFT, 24, chart.title, 15, INK, bold=True), _text(LEFT, 43, chart.under, 11, QUIET)]
    right, floor = at(x_end, 0.0)
    for x, label in x_ticks:
        px, _ = at(x, 0.0)
        parts += [_line(px, TOP, px, floor, FAINT, 0.6), _text(px, floor + 17, label, 11, QUIET, "middle")]
    for y in y_ticks:
        _, py = at(x_start, y)
        parts += [_line(LEFT, py, right, py, FAINT, 0.6), _text(LEFT - 8, py + 4, f"{y:g}", 11, QUIET, "end")]
    parts += [_line(LEFT, floor, right, floor, INK, 1.2), _line(LEFT, TOP, LEFT, floor, INK, 1.2),
              _text((LEFT + right) / 2, HIGH - 14, chart.x_label, 11, INK, "middle"),
              f'<g transform="translate(18 {(TOP + floor) / 2:.0f}) rotate(-90)">'
              + _text(0, 0, chart.y_label, 11, INK, "middle") + "</g>"]
    moments = [(at(x, 0.0)[0], label) for x, label in sorted(chart.moments) if x_start <= x <= x_end]
    levels = [(at(x_start, y)[1], label) for y, label in sorted(chart.levels)]
    parts += [_line(x, TOP, x, floor, QUIET, 1.0, "1 3") for x, _ in moments]
    parts += [_line(LEFT, y, right, y, QUIET, 1.0, "1 3") for y, _ in levels]
    parts += _curves(curves, at, right, floor, (chart.room - 48) // 6)
    taken: list[tuple[float, float, float]] = []
    for x, label in moments:
        wide = LETTER * len(label)
        begin = x - 4 - wide if x + wide > right else x + 4
        parts.append(_free(taken, begin, TOP + 11, label, 0.0, 13.0))
    for y, label in levels:
        parts.append(_free(taken, LEFT + 6, y - 4, label, LETTER * len(label) + 12, 0.0))
    if len(chart.curves) > MOST:
        parts.append(_text(right + 12, floor, f"and {len(chart.curves) - MOST} more, not drawn", 10, QUIET))
    body = "\n".join(parts)
    return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}" width="{WIDE}" height="{HIGH}" '
            f'font-family="{_FONT}">\n<title>{escape(chart.title)}</title>\n{body}\n</svg>\n')


def _free(taken: list[tuple[float, float, float]], x: float, y: float, label: str, right: float, down: float) -> str:
    """A label at the first free place, moved by steps to the right or down; what it takes is added to `taken`."""
    wide = LETTER * len(label)
    while any(x < end and begin < x + wide and abs(y - row) < 12 for begin, end, row in taken):
        x, y = x + right, y + down
    taken.append((x, x + wide, y))
    return _text(x, y, label, 10, QUIET, halo=True)


def _curves(curves: Sequence[Curve], at, right: float, floor: float, most: int  # type: ignore[no-untyped-def]
            ) -> list[str]:
    parts = []
    ends = []
    for number, curve in enumerate(curves):
        points = [at(x, max(y, 0.0)) for x, y in zip(curve.xs, curve.ys)]
        dash = f' stroke-dasharray="{DASHES[number]}"' if DASHES[number] else ""
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        parts.append(f'<polyline points="{path}" fill="none" stroke="{COLOURS[number]}" stroke-width="2" '
                     f'stroke-linejoin="round"{dash}/>')
        ends.append((points[-1][1] if points else floor, number))
    for (end, number), y in zip(sorted(ends), _spread([y for y, _ in sorted(ends)], 15.0, TOP + 6, floor)):
        dash = f' stroke-dasharray="{DASHES[number]}"' if DASHES[number] else ""
        parts += [f'<path d="M{right:.1f} {end:.1f} L{right + 10:.1f} {y:.1f}" fill="none" stroke="{FAINT}"/>',
                  f'<path d="M{right + 10:.1f} {y:.1f} h22" stroke="{COLOURS[number]}" stroke-width="2"{dash}/>',
                  _text(right + 37, y + 4, _short(curves[number].label, most), 11, COLOURS[number])]
    return parts


def ticks(low: float, high: float) -> list[float]:
    """Round numbers that cover a range in four to nine steps.

    >>> ticks(0.0, 0.55)
    [0.0, 0.1, 0.2, 0.3, 0.4, 0.5]
    """
    if high <= low:
        return [low]
    step = 10.0 ** -6
    while True:
        for factor in (1, 2, 5):
            if (high - low) / (step * factor) <= 8:
                size = step * factor
                first = -(-low // size)
                steps = int((high - first * size) / size + 1e-9)
                return [round((first + number) * size, 10) for number in range(steps + 1)]
        step *= 10


def _spread(wanted: Sequence[float], apart: float, low: float, high: float) -> list[float]:
    """Sorted places moved so that neighbours are some distance apart."""
    placed: list[float] = []
    for y in wanted:
        placed.append(max(y, placed[-1] + apart if placed else low))
    over = (placed[-1] - high) if placed else 0.0
    if over > 0:
        for number in range(len(placed) - 1, -1, -1):
            bound = high if number == len(placed) - 1 else placed[number + 1] - apart
            placed[number] = min(placed[number], bound)
    return placed


def _short(label: str, most: int) -> str:
    return label if len(label) <= most else label[:most - 2] + "..."


def _line(x1: float, y1: float, x2: float, y2: float, colour: str, width: float, dash: str = "") -> str:
    extra = f' stroke-dasharray="{dash}"' if dash else ""
    return (f'<path d="M{x1:.1f} {y1:.1f} L{x2:.1f} {y2:.1f}" stroke="{colour}" stroke-width="{width}" fill="none"'
            f"{extra}/>")


def _text(x: float, y: float, words: str, size: int, colour: str, anchor: str = "start", bold: bool = False,
          halo: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    weight += f' stroke="{PAPER}" stroke-width="3" paint-order="stroke"' if halo else ""
    return (f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size}" fill="{colour}" text-anchor="{anchor}"{weight}>'
            f"{escape(words)}</text>")
