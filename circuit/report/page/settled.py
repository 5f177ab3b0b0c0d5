"""Pressures as numbers for the page's scripts, and which spaces its recorder begins with."""

from typing import Any

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.units import ATMOSPHERE

PLOTTED = 8
"""Curves at most; our choice."""


def kilopascals(pressure: float) -> float:
    """Gauge kPa, one decimal, of an absolute pressure."""
    return round(max(0.0, pressure - ATMOSPHERE) / 1e3, 1)


def plotted(circuit: Circuit, spaces: list[int]) -> list[dict[str, Any]]:
    """The few spaces whose pressures are plotted: reservoirs, then one chamber and one spring of each axle."""
    found: dict[int, str] = {}
    for tank in circuit.reservoirs_for("service", "supply", "parking"):
        found.setdefault(circuit.store(tank), tank.name)
    axles: set[tuple[str, str]] = set()
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        if ("service", key := chamber.settings["axle"]) not in axles:
            axles.add(("service", key))
            found.setdefault(circuit.service_space(chamber), f"{chamber.name} service")
    for chamber in circuit.having(Trait.SPRING_ACTUATOR):
        if ("spring", key := chamber.settings["axle"]) not in axles:
            axles.add(("spring", key))
            found.setdefault(circuit.spring_space(chamber), f"{chamber.name} spring")
    return [{"at": spaces.index(space), "name": name} for space, name in list(found.items())[:PLOTTED]
            if space in spaces]
