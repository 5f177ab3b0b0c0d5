"""A reservoir is declared to stand less than the hydrostatic test asks.

Why
---
Brake reservoirs are tested with water to several times the pressure they work at: five times the cut-out or 500 psi
on a powered vehicle, 500 psi on a trailer.

What happens
------------
A seam may let go under pressure, with all of the air at once.

What is not checked
-------------------
The test itself: what the maker declares is compared, nothing else.

Bad
---
    governor gov: cut-in 104 psi, cut-out 125 psi
    reservoir dry: volume 46 L, rated 10 bar, role service, tested-to 500 psi

Good
----
    governor gov: cut-in 104 psi, cut-out 125 psi
    reservoir dry: volume 46 L, rated 10 bar, role service, tested-to 650 psi
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed
from circuit.judging.evidence import Evidence
from circuit.judging.limits import pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.storage import cut_out
from circuit.units import ATMOSPHERE, gauge, shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    vehicle = circuit.vehicle
    if not circuit.reservoirs:
        yield undecided(vehicle.name, vehicle.span, "no reservoir is written", "the reservoirs")
    least, highest = pressure(limits, "least"), cut_out(evidence)
    if "times_cut_out" in limits and highest is not None:
        least = max(least, ATMOSPHERE + limits["times_cut_out"] * gauge(highest))
    silent = [tank for tank in circuit.reservoirs if tank.settings["tested-to"] is None]
    for tank in circuit.reservoirs:
        if tank in silent:
            continue
        figure = Figure("declared test pressure", tank.settings["tested-to"], least, "pressure")
        told = f"{tank.name} is declared to stand {shown(figure.found, 'pressure')}"
        if figure.margin < -1.0:
            given = tank.given["tested-to"].span or tank.span
            yield not_met(tank.name, given, f"{told}, and {shown(least, 'pressure')} is asked",
                        f"a reservoir tested to {shown(least, 'pressure')}, or a lower cut-out", figure=figure)
        elif "times_cut_out" in limits and highest is None:
            yield undecided(tank.name, tank.span, f"{told}; five times the cut-out may be more",
                            "a governor with its cut-out")
        else:
            yield met(tank.name, tank.span, told, figure, remark="declared, not tested")
    if silent:
        yield undecided(silent[0].name, silent[0].span,
                        f"{'it' if len(silent) == 1 else 'each'} must stand {shown(least, 'pressure')} of water",
                        f"`tested-to`, the test pressure its maker declares, on {listed(tank.name for tank in silent)}")


RULE = Rule("reservoir-tested-low", "reservoirs are declared to stand their test", "error", check)
