"""What single faults say of the clauses that speak of one failure, for a check that is asked to simulate.

From the air at rest: whether it brakes, parks and keeps at all, not how soon, how far or how hard.
"""

from collections.abc import Iterator
from typing import NamedTuple

from circuit.kinds.kind import Trait
from circuit.model.circuit import TOWED
from circuit.studies.fault_effect import Effect
from circuit.studies.faults import Study
from circuit.units import ATMOSPHERE, to_si

SOME = 0.2
"""Share of the wheels' brakes, springs that follow the pedal included, that counts as emergency braking; our choice,
the clause sets a stopping distance, which no pressure tells."""


class Answer(NamedTuple):
    """clause: its key. met: whether every fault that the clause speaks of leaves what it asks. worst: the fault that
    leaves the least. says: why, lower case."""

    clause: str
    met: bool
    worst: Effect
    says: str


def answers(study: Study) -> tuple[Answer, ...]:
    """What the study can say of 571.121 S5.6.3.1, S5.7.1, S5.7.3(b) and S5.8.2 for this vehicle; empty for others."""
    return tuple(_answers(study, [effect for effect in study.effects if is_leak_of_service(study, effect)]))


def is_leak_of_service(study: Study, effect: Effect) -> bool:
    """Whether a fault opens something of a service brake that holds air: a line, a reservoir, a diaphragm, a fitting.

    The bodies of valves and couplings are left out, as the clauses do, and so is a trailer's supply line.
    """
    circuit = study.circuit
    if len(effect.fault.parts) != 1:
        return False
    name, failure_name = effect.fault.parts[0]
    device = circuit.by_name[name]
    failure = next(f for f in device.kind.failures if f.name == failure_name)
    whole = device.is_line or device.kind.traits & {Trait.STORES_AIR, Trait.SERVICE_ACTUATOR, Trait.JOINS}
    spaces = {circuit.space_of(device, start) for start, _ in failure.opens}
    return bool(whole and spaces & study.whole.service_system)


def _answers(study: Study, faults: list[Effect]) -> Iterator[Answer]:
    vehicle = study.circuit.vehicle.vehicle_class
    if not faults or study.circuit.is_combination:
        return
    weakest = min(faults, key=lambda e: sum(a.brakes for a in e.axles))
    parks = [e for e in faults if any(a.sprung for a in e.axles)]
    if parks:
        worst = min(parks, key=lambda e: min(a.parks for a in e.axles if a.sprung))
        share = min(a.parks for a in worst.axles if a.sprung)
        yield Answer("us-federal/S5.6.3.1", share > 0.95, worst,
                     f"{share * 100:.0f} % of an axle's springs still come on with {worst.fault.name}")
    if vehicle not in TOWED:
        yield Answer("us-federal/S5.7.1", weakest.braking > SOME, weakest,
                     f"{weakest.braking * 100:.0f} % of the brakes are left with {weakest.fault.name}")
        heads = [e for e in faults if e.heads]
        if heads:
            worst = min(heads, key=_signal)
            yield Answer("us-federal/S5.7.3(b)", _signal(worst) > ATMOSPHERE + 0.5e5, worst,
                         f"the trailer's signal rises with {worst.fault.name}" if _signal(worst) > ATMOSPHERE + 0.5e5
                         else f"the trailer gets no signal with {worst.fault.name}")
    else:
        floor = to_si("70 psi", "pressure")
        worst = min(faults, key=study.supply_kept)
        yield Answer("us-federal/S5.8.2", study.supply_kept(worst) >= floor - 100, worst,
                     f"the supply line keeps {(study.supply_kept(worst) - ATMOSPHERE) / 6894.757:.0f} psi with "
                     f"{worst.fault.name}")


def _signal(effect: Effect) -> float:
    """The most that the control line or the supply line carries to the trailer that braking can vary."""
    return max((head.braking for head in effect.heads if head.line == "control"), default=ATMOSPHERE)
