"""A reservoir is larger, or for a higher pressure, than the standard that it is made to reaches.

Why
---
A standard for vessels made in series covers them up to a volume, a pressure and the product of the two, which stands
for the energy in them. Beyond that its rules for the plate, the welds and the test say nothing of the vessel.

What happens
------------
The mark on the reservoir is worth nothing for it: a vessel of another kind, or approval for this one, is asked for.

What is not checked
-------------------
The vessel itself: what is written of its volume and its plate is compared, nothing else.

Bad
---
    reservoir dry: volume 150 L, rated 12.5 bar, role service

Good
----
    reservoir dry: volume 100 L, rated 12.5 bar, role service
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.limits import has, pressure, volume
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.model.devices import Device
from circuit.units import ATMOSPHERE, gauge, shown, value_in

BAR_L = 100.0
"""J in a bar L."""


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not circuit.reservoirs:
        yield undecided(circuit.vehicle.name, circuit.vehicle.span, "no reservoir is written", "the reservoirs")
    for tank in circuit.reservoirs:
        figure, told = _held(tank, limits)
        if figure.margin < -1e-9 * figure.limit:
            given = tank.given["volume" if figure.dimension == "volume" else "rated"].span or tank.span
            yield not_met(tank.name, given, told, "smaller reservoirs, or a vessel made and approved under other rules",
                        figure=figure)
        else:
            least = limits.get("least_bar_l")
            small = least is not None and _energy(tank) <= least * BAR_L
            yield met(tank.name, tank.span, told, figure,
                      remark=f"at {least:g} bar L or less the standard does not ask for it" if small else "")


def _held(tank: Device, limits: Mapping[str, float]) -> tuple[Figure, str]:
    """What is compared, and in words. A product of pressure and volume is compared as the pressure for that volume."""
    holds, rated = float(tank.settings["volume"]), float(tank.settings["rated"])
    if has(limits, "volume"):
        return (Figure("volume of a reservoir", holds, volume(limits, "volume"), "volume", at_least=False),
                f"{tank.name} holds {shown(holds, 'volume')}")
    if has(limits, "pressure"):
        return (Figure("working pressure on the plate", rated, pressure(limits, "pressure"), "pressure", at_least=False),
                f"{tank.name} is rated {shown(rated, 'pressure')}")
    most = limits["most_bar_l"] * BAR_L / holds + ATMOSPHERE
    return (Figure(f"working pressure for {value_in(holds, 'L', 'volume'):g} L", rated, most, "pressure", at_least=False),
            f"{tank.name} holds {_energy(tank) / BAR_L:.0f} bar L: {value_in(holds, 'L', 'volume'):g} L at "
            f"{shown(rated, 'pressure')}")


def _energy(tank: Device) -> float:
    """Working pressure times volume, J."""
    return gauge(float(tank.settings["rated"])) * float(tank.settings["volume"])


RULE = Rule("reservoir-beyond-standard", "reservoirs are within the standard they are made to", "warning", check)
