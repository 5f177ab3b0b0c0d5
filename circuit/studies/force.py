"""Push-rod force against pressure at every chamber, and torque where the slack adjuster's length is written."""

from typing import NamedTuple

from circuit.gas.chamber import push
from circuit.kinds.kind import Trait
from circuit.model.circuit import Circuit
from circuit.studies.hands import PSI, CannotAsk
from circuit.units import ATMOSPHERE

STEPS = tuple(ATMOSPHERE + psi * PSI for psi in (10, 20, 40, 60, 80, 100, 120))
"""Absolute Pa at which a force is stated."""
RETURN_FORCE = 200.0
"""N of the return spring at rest; typical, from memory: 130 to 270 N."""
RETURN_RATE = 4000.0
"""N/m of the return spring; typical, from memory: 3 to 5 N/mm."""


class Pushed(NamedTuple):
    """One chamber. forces: N at each step, less its return spring. spring: N of a spring brake at working stroke.
    slack: m. torques: N m at each step, empty without a slack adjuster's length. spring_torque: N m."""

    name: str
    axle: str
    side: str
    type: str
    area: float
    forces: tuple[float, ...]
    spring: float | None
    slack: float | None

    @property
    def torques(self) -> tuple[float, ...]:
        return () if self.slack is None else tuple(force * self.slack for force in self.forces)

    @property
    def spring_torque(self) -> float | None:
        return None if self.slack is None or self.spring is None else self.spring * self.slack


class Forces(NamedTuple):
    """steps: absolute Pa."""

    circuit: Circuit
    steps: tuple[float, ...]
    chambers: tuple[Pushed, ...]
    unknown: tuple[str, ...]
    notes: tuple[str, ...]


def forces(circuit: Circuit, steps: tuple[float, ...] = STEPS) -> Forces:
    """Force and torque at camshaft of every chamber. Raises CannotAsk where there is none."""
    chambers = circuit.having(Trait.SERVICE_ACTUATOR)
    if not chambers:
        raise CannotAsk("there is no brake chamber here")
    found = []
    for chamber in chambers:
        settings = chamber.settings
        found.append(Pushed(chamber.name, settings["axle"], settings["side"], settings["type"], settings["area"],
                            tuple(rod(step, settings["area"], settings["working-stroke"]) for step in steps),
                            settings.get("spring-force") if chamber.has(Trait.SPRING_ACTUATOR) else None,
                            settings.get("slack-length")))
    unknown = tuple(p.name for p in found if p.slack is None)
    return Forces(circuit, steps, tuple(found), unknown, (
        f"the return spring takes {RETURN_FORCE:.0f} N and {RETURN_RATE / 1e3:.0f} N for each mm of working stroke, "
        "from memory",
        "area as the type says up to the working stroke; it falls by 15 to 25 % near the end, from memory",
        "torque is at the camshaft; cam and drum are not in the language, so no brake torque is worked out"))


def rod(pressure: float, area: float, stroke: float) -> float:
    """Push-rod force, N, at a working stroke: pressure times area less the return spring; never less than 0.

    pressure: absolute Pa. area: m2. stroke: m.

    >>> round(rod(ATMOSPHERE + 100 * 6894.757, 30 * 0.0254**2, 0.0381) / 4.448222)
    2921
    """
    return max(0.0, push(pressure - ATMOSPHERE, area) - RETURN_FORCE - RETURN_RATE * stroke)
