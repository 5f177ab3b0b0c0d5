"""How hard all brakes of a circuit push at a moment, as one number: whether it brakes at all, and follows the pedal."""

from circuit.declaring.traits import Trait
from circuit.gas.chamber import TAKES_UP, push
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.units import ATMOSPHERE

FULLY_ON = ATMOSPHERE + 22 * 6894.757293168361
"""Absolute Pa at which a spring pushes with all it has; common practice, 20 to 25 psi."""
SOME = 0.2
"""Share of the whole push that counts as emergency braking; our choice, standards set a stopping distance, which no
pressure tells."""


def effort(circuit: Circuit, trace: Trace, time: float) -> float:
    """N on all push rods, from service air and springs, the clearance taken up."""
    served = sum(push(max(0.0, trace.pressure(circuit.service_space(chamber), time) - ATMOSPHERE - TAKES_UP),
                      chamber.settings["area"]) for chamber in circuit.having(Trait.SERVICE_ACTUATOR))
    sprung = sum((chamber.settings.get("spring-force") or 0.0)
                 * spring_share(trace.pressure(circuit.spring_space(chamber), time), chamber.settings["holds-off-at"])
                 for chamber in circuit.having(Trait.SPRING_ACTUATOR))
    return float(served + sprung)


def spring_share(pressure: float, holds_off_at: float) -> float:
    """How far a spring is on, 0 to 1, between its hold-off pressure and FULLY_ON, absolute Pa.

    >>> [round(spring_share(ATMOSPHERE + bar * 1e5, ATMOSPHERE + 4.8e5), 2) for bar in (8, 4.8, 3.158, 1)]
    [0.0, 0.0, 0.5, 1.0]
    """
    return min(1.0, max(0.0, (holds_off_at - pressure) / (holds_off_at - FULLY_ON)))
