"""When the vehicles of a combination first brake: one after the other, or the rear one first as the trade wants it."""

from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.gas.chamber import TAKES_UP
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.units import ATMOSPHERE


class Bite(NamedTuple):
    """One vehicle. first, last: s from the pedal until the shoes of its first and of its last brake touch, None where one
    never does. lag: s that its first is behind the first of the vehicle in front of all; negative is ahead of it."""

    vehicle: str
    first: float | None
    last: float | None
    lag: float | None

    @property
    def spread(self) -> float | None:
        """s from its first brake to its last."""
        return None if self.first is None or self.last is None else self.last - self.first


def bites(circuit: Circuit, application: Trace) -> tuple[Bite, ...]:
    """Every vehicle of a combination in its order, from a run that begins with the pedal; none of a single vehicle.

    A brake bites once its chamber holds what takes up the clearance, as its volume is reckoned (`gas/chamber`).
    """
    found: list[Bite] = []
    for vehicle in circuit.vehicles:
        chambers = [each for each in circuit.having(Trait.SERVICE_ACTUATOR) if each.name.startswith(f"{vehicle}.")]
        times = [application.first_time(circuit.service_space(each), ATMOSPHERE + TAKES_UP) for each in chambers]
        known = [each for each in times if each is not None]
        if times:
            first = min(known, default=None)
            ahead = found[0].first if found else first
            found.append(Bite(vehicle, first, max(known) if len(known) == len(times) else None,
                              None if first is None or ahead is None else first - ahead))
    return tuple(found) if len(found) > 1 else ()


def order(found: tuple[Bite, ...]) -> tuple[str, ...]:
    """The vehicles as they begin to brake; those that never do come last."""
    return tuple(each.vehicle for each in sorted(found, key=lambda each: (each.first is None, each.first or 0.0)))
