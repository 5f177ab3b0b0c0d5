"""Pieces that kinds of many sorts share: settings, sources of values, and openings."""

from collections.abc import Callable

from circuit.kinds.kind import Pressures, Setting, Settings, State, Typical

COMMON = "common practice, no source"
FROM_MEMORY = "typical part, from memory"


def conductance(text: str) -> Setting:
    """How easily air passes when fully open: the sonic conductance of ISO 6358."""
    return Setting("conductance", "conductance", "sonic conductance (ISO 6358) when fully open",
                   Typical(text, FROM_MEMORY))


def feeding(own: str, other: str) -> Callable[[Pressures, Settings, State], float]:
    """How a shuttle lets port `own` feed on: unless `other`, on its far side, is the higher by half of `shifts-at`."""
    return lambda p, s, x: p[own] - p[other] + s["shifts-at"] / 2


def returning(own: str, other: str, out: str) -> Callable[[Pressures, Settings, State], float]:
    """How a shuttle lets air of `out` go back by port `own`: as it feeds, and only while `out` is above `other` too.

    So air never passes from one source by the outlet into the other, however near to each other they are.
    """
    return lambda p, s, x: min(p[own] - p[other] + s["shifts-at"] / 2, p[out] - p[other])


def cavity(litres: float) -> Callable[[Settings, float], float]:
    """The volume of a valve's inside, the same at every pressure. litres: L."""
    return lambda settings, pressure: litres * 1e-3


ON = Setting("on", "reference", "the space it is screwed into")
AXLE = Setting("axle", "name", "the axle it works on", required=True)
SIDE = Setting("side", "word", "left or right, seen by the driver", choices=("left", "right"), required=True)
DELIVERIES = Setting("deliveries", "count", "how many holes the delivery port has", Typical("2", COMMON))
