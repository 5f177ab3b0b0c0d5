"""A diagnosis in words, and the form that it reads."""

from collections.abc import Mapping, Sequence

from circuit.faults.diagnosis import Candidate, Compared, Diagnosis, asked_first
from circuit.faults.library import Library
from circuit.report.account import Account
from circuit.report.studies.words import names, seconds
from circuit.report.table import Table
from circuit.studies.commission import DRAWN_OUT, Reading
from circuit.units import shown, value_in

KEY, RECORD = "diagnose", Diagnosis
FORM = ("step", "what is done", "place", "how", "expected", "unit", "measured", "instrument", "remarks")
_RANKED = ("rank", "explanation", "weight %", "distance", "usual", "also", "proof")
_NOTES = (
    "Weight: a probability under a model in which half of all vehicles are as designed, one thing of the library is wrong with "
    "the others, and parts and instruments scatter. It ranks what to look at; it proves nothing.",
    "Distance: standard deviations between the readings and what is predicted with it; usual is what the true one has.",
    "What fits the design is not safe for that: faults that no reading shows, faults of several parts at once and what is not in "
    "the library stay unseen. A licensed person tests and signs.",
)
_DONE = {
    "stand-start": "engine off, park control released, pedal up: read at once", "stand-end": "one minute later",
    "pressed-start": "engine off, pedal all the way down, read after 8 s", "pressed-end": "one minute later, pedal still down",
    "apply-time": "engine off, full reservoirs, pedal all the way down at once: s until the chamber has 60 psi",
    "release-time": "pedal up at once: s until the chamber has 5 psi", "cut-out": "engine on: where the compressor stops",
    "cut-in": "engine on, pedal pumped slowly: where the compressor pumps again",
    "build-up": "filling from empty: s from 85 to 100 psi", "fill-time": "filling from empty: s until the compressor stops",
    "restarts": "engine on, pedal up, after the compressor has stopped for the first time",
    "warning": "engine off, pedal pumped: where the warning comes",
    "applications": "engine off, pedal pumped every 4 s: which application brings the warning",
}


def account(library: Library, found: Diagnosis, unweighed: int = 0) -> Account:
    circuit = library.commission.circuit
    notes = list(_NOTES)
    if unweighed:
        notes.append(f"{unweighed} measured rows of the test record are of steps that are not weighed here.")
    if found.silent:
        notes.append(f"No reading here shows: {names(found.silent)}.")
    tables = (_verdict(found), _ranked(found), *([_far(found.far)] if found.far else []),
              *([_further(found)] if found.further else []))
    return Account(KEY, "Diagnosis", circuit, found, tables, notes=tuple(notes), is_met=found.as_designed)


def _verdict(found: Diagnosis) -> Table:
    best = found.candidates[0]
    if found.as_designed:
        says = (f"as designed within the instruments: {found.compared} readings, {found.errors.pressure / 6894.757:.1f} psi and "
                f"{found.errors.time:.2f} s of error")
    elif not found.fits:
        says = ("nothing in the library fits all readings: read again what is farthest off, and look at what the first "
                "explanations have in common")
    elif best.sort == "designed":
        says = "as designed is likeliest, but does not fit well: read again what is farthest off"
    elif best.sort == "two":
        says = "no single thing explains the readings; two at once do"
    else:
        says = "not as designed: one thing explains the readings"
    return Table("verdict", "What the readings say", ("what the readings say",), ((says,),), wide={"what the readings say"})


def _ranked(found: Diagnosis) -> Table:
    rows = tuple((str(rank), each.name, f"{100 * each.share:.1f}", f"{each.distance:.1f}", f"{each.usual:.1f}",
                  _same(each), each.prove) for rank, each in enumerate(found.candidates, 1))
    return Table("explanations", "What explains them, the likeliest first", _RANKED, rows,
                 numbers={"rank", "weight %", "distance", "usual"}, wide={"explanation", "also", "proof"},
                 cards=True)


def _same(each: Candidate) -> str:
    return names(each.also)


def _far(far: Sequence[Compared]) -> Table:
    rows = tuple((each.step, each.place, _value(each.expected, each.dimension), _value(each.measured, each.dimension),
                  "" if each.off is None else f"{each.off:.1f}") for each in far[:12])
    return Table("not-as-designed", "Readings farther from the design than parts and instruments scatter",
                 ("step", "place", "as designed", "measured", "off, standard deviations"), rows,
                 numbers={"off, standard deviations"}, wide={"place"})


def _further(found: Diagnosis) -> Table:
    rows = tuple((each.step, each.place, _DONE.get(each.step, each.step), each.how, f"{each.gain:.2f}") for each in found.further)
    return Table("next", "What to read next, the most telling first", ("step", "place", "what is done", "how", "tells, bits"),
                 rows, ("Write it as a further row of the form, and ask again.",), numbers={"tells, bits"},
                 wide={"what is done", "how"})


def _value(value: float | None, dimension: str) -> str:
    if value is None:
        return "never"
    if dimension == "time":
        return f"{seconds(value)} s"
    return f"{value:.0f}" if dimension == "count" else shown(value, "pressure")


def form(library: Library, every: bool = False, values: Mapping[int, float | None] | None = None, unit: str = "psi") -> Table:
    """What a fitter fills in. every: at places without a gauge too. values: what is filled in already, in the unit."""
    readings, expected = library.commission.readings, library.entries[0].signature
    numbers = range(len(readings)) if every else asked_first(library.commission.circuit, readings)
    done = {step.key: f"{step.stands}: {step.done}" for step in library.commission.steps}
    rows = []
    for number in numbers:
        reading = readings[number]
        its = {"pressure": unit, "time": "s", "count": ""}[reading.dimension]
        filled = "" if values is None or number not in values else _bare(values[number], reading, its)
        rows.append((reading.step, done.get(reading.step) or _DONE.get(reading.step) or _pops(reading.step), reading.place,
                     reading.how, _value(expected[number], reading.dimension), its, filled, "", ""))
    return Table("readings", "Readings", FORM, tuple(rows), (f"A slow vehicle is given {DRAWN_OUT:g} times as long to fill.",),
                 frozenset(("measured", "instrument", "remarks")))


def _bare(value: float | None, reading: Reading, unit: str) -> str:
    if value is None:
        return "none"
    if reading.dimension == "count":
        return f"{value:.0f}"
    return f"{value_in(value, unit, reading.dimension):.{2 if reading.dimension == 'time' or unit == 'bar' else 0}f}"


def _pops(step: str) -> str:
    return "engine off, pedal pumped on: where the knob comes out by itself" if step.startswith("pop-out") else step
