"""A vehicle's readings held against its library: as designed, or what explains them, and what to read next."""

from collections.abc import Mapping
from math import isfinite
from random import Random
from typing import NamedTuple

from circuit.declaring.proving import proof
from circuit.faults.library import Entry, Library, idle_with, scattered, signatures
from circuit.faults.single import single
from circuit.faults.ranking import Errors, Explained, Weighed, weigh
from circuit.model.circuit import Circuit
from circuit.studies.commission import Reading
from circuit.studies.hands import CannotAsk

SHOWN = 6
"""Explanations that are told."""
LEAST = 0.005
"""Weight below which an explanation is not told, behind the first three."""


class Candidate(NamedTuple):
    """An explanation. sort: designed, fault, leak, assumed or two. also: what reads the same. share: its weight of all. distance:
    between readings and what it predicts, in standard deviations, and usual: what that is for the true one. prove: how."""

    name: str
    sort: str
    also: tuple[str, ...]
    share: float
    distance: float
    usual: float
    prove: str


class Compared(NamedTuple):
    """A reading beside what is predicted of the vehicle as designed. off: standard deviations, None where it came and should not
    have, or did not come."""

    step: str
    place: str
    dimension: str
    expected: float | None
    measured: float | None
    off: float | None


class Next(NamedTuple):
    """A further reading that would tell the best explanations apart. gain: what it is expected to tell, bits."""

    step: str
    place: str
    how: str
    gain: float


class Diagnosis(NamedTuple):
    """What came of the readings. compared: how many. as_designed: the design explains them best and fits. fits: whether the best
    explanation does. far: the readings that are not as designed, the farthest first. silent: faults that no reading
    shows."""

    compared: int
    as_designed: bool
    fits: bool
    candidates: tuple[Candidate, ...]
    far: tuple[Compared, ...]
    further: tuple[Next, ...]
    silent: tuple[str, ...]
    errors: Errors


def diagnosis(library: Library, values: Mapping[int, float | None], errors: Errors = Errors()) -> Diagnosis:
    """The diagnosis of some readings, by the number of each."""
    found = weigh(library, values, errors)
    told = [each for place, each in enumerate(found.explained) if place < 3 or each.share > LEAST][:SHOWN]
    first = library.entries[0].signature
    numbers = {reading: number for number, reading in enumerate(library.commission.readings)}
    far = tuple(Compared(reading.step, reading.place, reading.dimension, first[numbers[reading]], values[numbers[reading]],
                         off if isfinite(off) else None) for reading, off in found.far)
    further = tuple(Next(each.reading.step, each.reading.place, each.reading.how, each.gain) for each in found.further)
    return Diagnosis(len(values), found.is_as_designed, _fits(found), tuple(_candidate(library, each) for each in told), far,
                     further, library.silent, errors)


def _fits(found: Weighed) -> bool:
    return found.fits(found.explained[0])


def _candidate(library: Library, each: Explained) -> Candidate:
    circuit = library.commission.circuit
    proofs = dict.fromkeys(f"{device}: {proof(circuit.by_name[device].kind, failure)}" for device, name in each.entry.failures
                           for failure in circuit.by_name[device].kind.failures if failure.name == name)
    if each.sort == "leak":
        proofs = {"brush every joint of these parts with soapy water under pressure": None}
    elif each.sort == "assumed":
        proofs = {"read what it is set to with a test gauge, or time it, beside what the design says": None}
    return Candidate(each.names[0], each.sort, each.names[1:], each.share, each.distance, each.usual, "; ".join(proofs))


def as_if(library: Library, name: str, seed: int, errors: Errors = Errors()) -> dict[int, float | None]:
    """What would be read of a vehicle with something wrong, its parts scattered and its instruments in error, by a seed.

    name: of a fault or an entry, or `as designed`. Raises CannotAsk for one that is not in the library.
    """
    asked, draw = library.commission, Random(f"as if {seed}")
    entry = _named(library, name)
    (found,) = signatures(asked, [scattered(asked.circuit, draw, entry.variant)], [tuple(idle_with(asked.circuit, entry))])
    values: dict[int, float | None] = {}
    for number, reading in enumerate(asked.readings):
        value = found[number]
        if reading.is_given or reading.dimension == "time":
            wrong = 0.0 if reading.dimension == "count" else draw.gauss(0.0, errors.of(reading))
            values[number] = None if value is None else max(0.0, value + wrong)
    return values


def _named(library: Library, name: str) -> Entry:
    from circuit.near import did_you_mean

    every = library.entries
    fault = next((fault for fault in single(library.commission.circuit) if fault.name == name and fault.parts), None)
    if fault is not None and any(name in entry.members for entry in every):
        return every[0]._replace(name=name, sort="fault", members=(name,), failures=fault.parts)  # as large as declared
    found = next((entry for entry in every if entry.name == name), None)
    if found is None or not (found.failures or found.settings or found.sort == "designed" or found.delivery != 1.0):
        known = [member for entry in every for member in (entry.name, *entry.members)]
        raise CannotAsk(f"no fault is called `{name}`: {did_you_mean(name, known) or 'airwright faults lists them'}")
    return found


def asked_first(circuit: Circuit, readings: tuple[Reading, ...]) -> tuple[int, ...]:
    """The readings of the form: gauges that are there, and times; of a vehicle without a gauge all of them."""
    given = tuple(number for number, reading in enumerate(readings) if reading.is_given or reading.dimension == "time")
    if any(readings[number].dimension == "pressure" for number in given):
        return given
    return tuple(range(len(readings)))
