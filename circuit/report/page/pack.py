"""Pressures over time as text for a script: whole kPa, differences, bytes in planes, deflated, base64.

A course of frames is written as its differences from the frame before, and where a course without a fault is known, as
differences from that: most of a fault's numbers are then nothing.
"""

import zlib
from base64 import b64encode
from collections.abc import Sequence
from typing import Any

from circuit.model.trace import Trace
from circuit.units import ATMOSPHERE

QUICK = 3.0
"""s after something is done that are shown at a finer pace; our choice."""
_FINE, _COARSE, _LEAST = 36, 34, 8

Parts = tuple[tuple[float, int], ...]
"""A course of time in parts: until when, s, and in how many even frames."""


def parts_of(moments: Sequence[float], end: float) -> Parts:
    """A course of time with fine frames after each moment at which something is done.

    >>> parts_of([0.5], 100.0)
    ((0.5, 8), (3.5, 36), (100.0, 34))
    """
    found: list[tuple[float, int]] = []
    start = 0.0
    for stop in (*sorted({moment for moment in moments if 0.0 < moment < end}), end):
        if stop - start > 2 * QUICK:
            found += [(start + QUICK, _FINE), (stop, _COARSE)]
        else:
            found.append((stop, max(_LEAST, min(_FINE, round((stop - start) * _FINE / QUICK)))))
        start = stop
    return tuple(found)


def times_of(parts: Parts) -> list[float]:
    """Every frame's time, s."""
    found = [0.0]
    for until, frames in parts:
        start = found[-1]
        found += [start + (until - start) * frame / frames for frame in range(1, frames + 1)]
    return found


def sampled(trace: Trace, spaces: Sequence[int], times: Sequence[float]) -> Any:
    """Gauge pressures in whole kPa: an array of a row each space, a column each time; spaces without air stay at 0."""
    import numpy

    rows = trace.rows(times)
    found = numpy.zeros((len(spaces), len(times)), dtype=numpy.int32)
    for place, space in enumerate(spaces):
        if space in trace.node:
            found[place] = numpy.rint(numpy.maximum(0.0, rows[:, trace.node[space]] - ATMOSPHERE) / 1e3)
    return found


def packed(courses: Any, base: Any = None) -> str:
    """Courses as text. base: other courses of the same shape that they are written against."""
    import numpy

    whole = courses if base is None else courses - base
    steps = numpy.diff(whole, axis=1, prepend=0).astype("<i2")
    planes = numpy.frombuffer(steps.tobytes(), dtype=numpy.uint8).reshape(-1, 2).T.tobytes()
    press = zlib.compressobj(9, zlib.DEFLATED, -15)
    return b64encode(press.compress(planes) + press.flush()).decode()
