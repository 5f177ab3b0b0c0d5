"""Every single fault of a design, played: one drive with each of them, all simulated together.

The fault is there from the start, everything full and the engine off; then the pedal goes down and up, and the brakes
are parked. A leak gets half an hour before that, a burst some seconds.
"""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from circuit.faults.effect import Effect
from circuit.faults.failing import Left, failing
from circuit.faults.outcome import outcomes as found_of
from circuit.faults.single import Fault
from circuit.faults.study import Study, worst_in
from circuit.faults.times import SLOW, is_slow, read
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.report.faults.losses import told
from circuit.report.faults.outcome_rows import TITLES, rows
from circuit.report.page.instruments import states
from circuit.report.page.pack import Parts, packed, parts_of, sampled, times_of
from circuit.report.page.settled import kilopascals
from circuit.sim import Engine, Script, Variant, simulate, simulate_many
from circuit.studies.hands import CannotAsk, apply, let_go
from circuit.studies.scenes import brake_words, is_sound, park, parking_words
from circuit.units import ATMOSPHERE

FAST = 20.0
"""s that a burst is watched before the pedal goes down; our choice."""
PRESSED, LET_GO, PARKED = 4.0, 4.0, 6.0
"""s that the pedal is held down, let up, and the park control out; our choice."""
RIG = ATMOSPHERE + 6.5e5
ROOM = 1_000_000
"""Characters that the courses of all faults may take; those for which none is left are shown at rest."""
AT_REST = ("without the fault, driving", "with the fault in time, driving", "with the fault in time, pedal down")


class Drive(NamedTuple):
    """What is done with each fault. done: (s, words). parts: how its time is shown."""

    script: Script
    done: tuple[tuple[float, str], ...]
    end: float
    parts: Parts


def drive(circuit: Circuit, before: float) -> Drive:
    """The drive in which the pedal goes down some time after the fault, s; without a pedal it only parks."""
    done: list[tuple[float, str]] = [(0.0, "fault")]
    try:
        actions = [*apply(circuit, before, rig=RIG), *let_go(circuit, before + PRESSED)]
        on, off = brake_words(circuit)
        done += [(before, on), (before + PRESSED, off)]
    except CannotAsk:
        actions = []
    at = before + PRESSED + LET_GO
    parks = park(circuit, at)
    if parks:
        done.append((at, parking_words(circuit)))
    moments = [moment for moment, _ in done]
    return Drive(Script((*actions, *parks)), tuple(done), at + PARKED, parts_of(moments, at + PARKED))


def played(study: Study, spaces: Sequence[int]) -> dict[str, Any]:
    """All faults, the worst first, as data for the page: drives, a sound course for each, then every fault."""
    circuit = study.circuit
    drives = [drive(circuit, before) for before in (FAST, SLOW)]
    traces: dict[int, tuple[int, Trace]] = {}
    sound = []
    faults = found_of(study)
    for number, each in enumerate(drives):
        chosen = [e for e in study.effects if is_slow(circuit, e) == bool(number)]
        first, *found = _simulated(study, each, chosen)
        sound.append((first, sampled(first, spaces, times_of(each.parts))))
        traces |= {id(effect): (number, trace) for effect, trace in zip(chosen, found, strict=True)}
    courses: dict[str, int] = {}
    entries = []
    used = 0
    for found_out in faults:
        effect = found_out.effect
        number, trace = traces.get(id(effect), (0, None))
        words = ""
        if trace is not None and is_sound(trace) and trace.complete:
            base = sound[number][1]
            words = packed(sampled(trace, spaces, times_of(drives[number].parts)), base)
        if words and words not in courses and used + len(words) <= ROOM:
            courses[words] = len(courses)
            used += len(words)
        fault = effect.fault
        entry: dict[str, Any] = {"title": fault.name, "part": fault.device, "seen": fault.says,
                                 "rank": int(found_out.rank), "says": told(study, found_out)}
        if trace is not None and words in courses:
            entry |= {"drive": number, "course": courses[words], "states": _changed(trace, sound[number][0]),
                      "events": [[round(e.time, 2), e.says] for e in read(study, effect, trace, False, True).events]}
        else:
            entry["levels"] = list(_at_rest(study, fault, spaces))
        entries.append(entry)
    return {
        "ranks": [TITLES[each] for each in sorted(TITLES)],
        "drives": [{"parts": each.parts, "done": each.done, "sound": packed(course), "states": states(trace)}
                   for each, (trace, course) in zip(drives, sound)],
        "courses": list(courses), "at_rest": AT_REST, "entries": entries,
        "notes": list(sound[0][0].notes),
    }


def _simulated(study: Study, of: Drive, effects: Sequence[Effect]) -> list[Trace]:
    """A drive without a fault, then with each; what is not a failure of a part is simulated by itself."""
    circuit, engine = study.circuit, Engine(False)
    batch = [e for e in effects if not _apart(e.fault)]
    first, *rest = simulate_many(circuit, of.script, [Variant("sound"), *(Variant(e.fault.name, e.fault.parts)
                                                                            for e in batch)], of.end, engine=engine)
    found = {id(effect): trace for effect, trace in zip(batch, rest, strict=True)}
    for effect in effects:
        if id(effect) not in found:
            changed, _, _ = failing(circuit, effect.fault, study.whole.normal.at("driving"))
            found[id(effect)] = simulate(changed, of.script, of.end, engine=engine)
    return [first, *(found[id(effect)] for effect in effects)]


def _apart(fault: Fault) -> bool:
    return bool(fault.exchanged or fault.holds or not fault.parts)


def _changed(trace: Trace, sound: Trace) -> dict[str, Any]:
    """The states of controls that are not as without the fault."""
    normal = states(sound)
    return {name: course for name, course in states(trace).items() if normal.get(name) != course}


def _at_rest(study: Study, fault: Fault, spaces: Sequence[int]) -> Iterator[list[float]]:
    left = Left(study.circuit, fault, study.whole.full, study.whole.normal)
    for air in (study.whole.normal.at("driving"), left.at("driving"), left.at("braking")):
        yield [kilopascals(air.level.get(space, ATMOSPHERE)) for space in spaces]


def outcomes(study: Study) -> list[tuple[str, str, str, list[tuple[int, str]]]]:
    """Faults of one outcome together: the outcome, what is lost, what is left, the faults with their numbers."""
    found = found_of(study)
    numbers = {each.effect.fault: number for number, each in enumerate(found)}
    return [(row.title, "; ".join(filter(None, (row.lost, row.what_it_is, row.then))), row.left,
             [(numbers[each.effect.fault], each.effect.fault.name) for each in row.found])
            for row in rows(study.circuit, ((each, worst_in(each.seen)) for each in found))]
