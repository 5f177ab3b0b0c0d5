"""The situations whose settled air is shown, under one name everywhere, and that air as a reading for a drawing."""

from typing import NamedTuple

from circuit.draw.pressure import Reading
from circuit.model.air import Air
from circuit.model.circuit import Circuit
from circuit.rules.evidence import Evidence
from circuit.units import ATMOSPHERE, value_in


class Situation(NamedTuple):
    """key: on the command line. evidence: the name of the air among the evidence."""

    key: str
    title: str
    says: str
    evidence: str

    def air(self, evidence: Evidence) -> Air:
        found: Air = getattr(evidence, self.evidence)
        return found


SITUATIONS = (
    Situation("parked", "Parked", "park control applied after driving, pedal up", "park_applied"),
    Situation("driving", "Driving", "charged, park control released, pedal up", "driving"),
    Situation("braking", "Braking", "as driving, with the pedal all the way down", "braking"),
    Situation("released", "Released", "after braking, with the pedal let up", "released"),
)


def situation(key: str) -> Situation:
    """A situation by its key; raises KeyError."""
    return {each.key: each for each in SITUATIONS}[key]


def reading(evidence: Evidence, key: str) -> Reading:
    """A situation's air for a drawing, in the unit of the design."""
    found = situation(key)
    return Reading(found.air(evidence).level, unit_of(evidence.circuit), f"{found.title} ({found.says})")


def unit_of(circuit: Circuit) -> str:
    """psi or bar, whichever the design writes more pressures in."""
    written = [given.text for device in circuit.devices for given in device.given.values() if not given.assumed]
    return "psi" if sum("psi" in text for text in written) > sum("bar" in text for text in written) else "bar"


def pressure_words(pressure: float, unit: str) -> str:
    """An absolute pressure with its unit as a gauge shows it."""
    return f"{value_in(max(pressure, ATMOSPHERE), unit, 'pressure'):.{0 if unit == 'psi' else 1}f} {unit}"
