"""The situations whose settled air is shown, under one name everywhere, and that air as a reading for a drawing."""

from typing import NamedTuple

from circuit.draw.pressure import Reading
from circuit.judging.evidence import Evidence
from circuit.model.air import Air
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
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


def reading_of(circuit: Circuit, evidence: Evidence, state: str | None, trial: str | None = None, at: float = 0.0
               ) -> Reading | None:
    """The pressures to colour a drawing by: of a trial at a time, s, else of a state, else None.

    Raises ValueError for a trial or a time that is not there.
    """
    if trial is not None:
        return moment(circuit, trial, at)
    return None if state is None else reading(evidence, state)


def reading(evidence: Evidence, key: str) -> Reading:
    """A situation's air for a drawing, in the unit of the design."""
    found = situation(key)
    return Reading(found.air(evidence).level, unit_of(evidence.circuit), f"{found.title} ({found.says})")


def moment(circuit: Circuit, name: str, at: float) -> Reading:
    """The air at a time of one of the design's trials, s on its clock. Raises ValueError saying what is there instead."""
    trace = traced(circuit, name)
    if not 0 <= at <= trace.end:
        raise ValueError(f"trial `{name}` goes from 0 s to {trace.end:g} s: {at:g} s is not in it")
    level = {space: trace.pressure(space, at) for space in trace.node}
    return Reading(level, unit_of(circuit), f"Trial {name} at {at:g} s")


def traced(circuit: Circuit, name: str) -> Trace:
    """What one of the design's trials came to. Raises ValueError saying what is there instead."""
    from circuit.studies.trials import run_trial

    trial = next((trial for trial in circuit.trials if trial.name == name), None)
    if trial is None:
        known = ", ".join(trial.name for trial in circuit.trials)
        raise ValueError(f"there is no trial `{name}`" + (f": write one of {known}" if known else " in this design"))
    run = run_trial(circuit, trial)
    if run.trace is None:
        raise ValueError(f"trial `{name}` cannot be run: {run.why}")
    return run.trace


def unit_of(circuit: Circuit) -> str:
    """psi or bar, whichever the design writes more pressures in."""
    written = [given.text for device in circuit.devices for given in device.given.values() if not given.assumed]
    return "psi" if sum("psi" in text for text in written) > sum("bar" in text for text in written) else "bar"


def pressure_words(pressure: float, unit: str) -> str:
    """An absolute pressure with its unit as a gauge shows it."""
    return f"{value_in(max(pressure, ATMOSPHERE), unit, 'pressure'):.{0 if unit == 'psi' else 1}f} {unit}"
