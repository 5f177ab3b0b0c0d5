"""The fault study for people: a table worst first, one fault's story, hidden faults with their proofs, and JSON."""

import json
import textwrap
from collections.abc import Iterable
from typing import Any

from circuit import __version__
from circuit.faults.effect import Effect
from circuit.faults.outcome import Outcome
from circuit.faults.outcome import outcomes as found_of
from circuit.faults.pairs import Pair
from circuit.faults.play import Situation
from circuit.faults.stops import PEDAL
from circuit.faults.study import Rank, Study, rank, worst_in
from circuit.faults.times import Timeline
from circuit.report.faults.losses import later, left, lost
from circuit.report.faults.mending import PROVED, in_unit, proving
from circuit.report.situations import unit_of
from circuit.report.words import CAUTION, SHOP, count
from circuit.report.words import FAST as _FAST
from circuit.units import ATMOSPHERE

WIDTH = 110
TITLES = {
    Rank.NO_BRAKE: "no service brake left, at once or in time",
    Rank.LESS_BRAKE: "some brakes lost",
    Rank.NO_PARKING: "does not park on all its springs",
    Rank.STUCK: "brakes come on by themselves or stay on",
    Rank.TOWED: "the towed vehicle gets less, or what it should not",
    Rank.WEAKER: "all wheels brake in a stop, some with less force",
    Rank.AIR: "air lost, all brakes still work",
    Rank.UNGUARDED: "hidden: nothing is lost until a second fault",
    Rank.RISING: "the compressor does not rest",
    Rank.BLIND: "an instrument is dead",
    Rank.USERS: "only what is not a brake",
    Rank.IN_TIME: "nothing in the first stop, something later",
    Rank.NOTHING: "nothing in these stops: some of it matters later, or with a second fault",
}
ASSUMED = ("Predicted with air at rest, for each fault alone: it comes while driving with everything full, the engine "
           "then stands still, and a leak has all the time it needs. Pressures that are kept are closing pressures of "
           "valves; more is kept where a compressor pumps against the leak.")
PLAYED = ("Predicted by simulation, for each fault alone: it comes while driving with everything full, the engine then "
          "stands still, a towing vehicle outside the drawing feeds on. When all is at rest, after two hours at the most, "
          f"the pedal goes all the way down for {PEDAL:.0f}{_FAST}s and up, the vehicle is parked, released, and stops again. "
          f"Shares of a force are to the next 5{_FAST}%. `In time` is proved without a clock: a leak has all the time it "
          "needs, and no air comes from outside; pressures that are kept then are closing pressures of valves.")
_SHOWN = 4


def table(study: Study, only: str = "", situation: Situation = Situation(), most: int = _SHOWN) -> str:
    """All faults, those with the same outcome in one row, with the situation in which each does its worst.

    only: a word that the fault or its outcome must have. situation: that the study is about. most: how many parts are
    named for an outcome, where it is asked for no word.
    """
    return outcomes(study, [(found, worst_in(found.seen)) for found in found_of(study)], only,
                    f"{PLAYED} {asked(situation, unit_of(study.circuit))}".rstrip(), most)


def outcomes(study: Study, found: Iterable[tuple[Outcome, str]], only: str, assumed: str, most: int = _SHOWN) -> str:
    """Faults with the situation that each is told for, alike ones in one row."""
    unit = unit_of(study.circuit)
    chosen = [(each, when) for each, when in found if not only or only.lower() in _searched(each, unit)]
    rows: dict[tuple[Rank, str, str, str, str], list[Outcome]] = {}
    for each, when in chosen:
        row = (each.rank, when, lost(each.seen, unit), later(each, study.circuit, unit), left(each.seen, unit))
        rows.setdefault(row, []).append(each)
    vehicle = study.circuit.vehicle
    lines = [f"Faults: {vehicle.title}  ({vehicle.vehicle_class}, {study.circuit.source.name})",
             f"{count(len(chosen), 'single fault')}, {count(len(rows), 'outcome')}, the worst first"
             + (f", with `{only}`" if only else ""), *textwrap.wrap(assumed.replace(_FAST, " "), WIDTH)]
    before = None
    for (at, when, gone, worse, kept), same in rows.items():
        if at is not before:
            lines += ["", TITLES[at].upper()]
            before = at
        lines += _row("is" if rank(same[0].seen) is Rank.NOTHING else "lost", f"{when}: {gone}" if when else gone)
        by = names([each.effect for each in same], len(same) if only else most)
        lines += _row("then", worse) + _row("left", kept) + _row("by", by) + [""]
    return "\n".join([*lines, *textwrap.wrap(CAUTION, WIDTH)]) + "\n"


def asked(situation: Situation, unit: str) -> str:
    """What is not as usual in a situation, as a sentence; empty where the engine is off and the pedal all the way down."""
    return "" if situation.demand is None else f"The pedal asks for {in_unit(situation.demand, unit)}.".replace(_FAST, " ")


def _row(word: str, says: str) -> list[str]:
    if not says:
        return []
    lines = textwrap.wrap(says, WIDTH, initial_indent=f"  {word:<5} ", subsequent_indent=" " * 8,
                          break_on_hyphens=False)
    return [line.replace(_FAST, " ") for line in lines]


def _searched(found: Outcome, unit: str) -> str:
    fault = found.effect.fault
    return " ".join((fault.name, fault.says, lost(found.seen, unit), TITLES[found.rank])).lower()


def names(effects: Iterable[Effect], most: int) -> str:
    """Faults with their parts, the failures of one part together: `pri: burst, leaks; dryer: blocked; and 3 more`."""
    parts: dict[str, list[str]] = {}
    for effect in effects:
        part, _, failure = effect.fault.name.partition(": ")
        parts.setdefault(part, []).append(failure)
    shown = [f"{part}: {', '.join(failures)}" for part, failures in list(parts.items())[:most]]
    return "; ".join(shown) + (f"; and {count(len(parts) - most, 'more part')}" if len(parts) > most else "")


# --- one fault, two faults -------------------------------------------------------------------------------------------


def pair_table(study: Study, found: Iterable[Pair]) -> str:
    """Double faults, the first of them hidden, each with its proof."""
    unit = unit_of(study.circuit)
    found = tuple(found)
    lines = [f"Double faults: {study.circuit.vehicle.title}  ({study.circuit.source.name})",
             f"{count(len(found), 'fault')} that no ordinary use shows, each with the second that it makes worst, and "
             "how a workshop proves the part",
             f"Each proof begins with {PROVED}.", ""]
    for pair in found:
        lines += _row("first", f"{pair.first.fault.name}: {pair.first.fault.says}")
        lines += _row("then", pair.second.fault.name) + _row("lost", lost(pair.together, unit))
        lines += _row("prove", proving(study, pair, unit)) + [""]
    return "\n".join([*lines, *textwrap.wrap(ASSUMED, WIDTH), *textwrap.wrap(SHOP, WIDTH)]) + "\n"


# --- over time -------------------------------------------------------------------------------------------------------


def _told(study: Study, line: Timeline) -> str:
    unit = unit_of(study.circuit)
    engine = "the engine runs" if line.running else "the engine stands still"
    happens = ", ".join(f"{event.says} after {_seconds(event.time)}" for event in line.events) or "nothing comes on"
    kept = ", ".join(f"{name} {in_unit(pressure, unit)}" for name, pressure in line.last.items())
    ended = "" if line.complete else "; the run did not reach its end"
    wrong = f"; graph and simulation disagree: {'; '.join(line.disagrees)}" if line.disagrees else ""
    return f"simulated for {_seconds(line.until)}, {engine}: {happens}; at the end {kept}{ended}{wrong}"


def times_table(study: Study, found: Iterable[Timeline]) -> str:
    """Bursts and leaks with their times."""
    found = tuple(found)
    lines = [f"Faults over time: {study.circuit.vehicle.title}  ({study.circuit.source.name})", ""]
    for line in found:
        grace = "" if line.grace is None else (
            f"; first loss {_seconds(abs(line.grace))} {'after' if line.grace >= 0 else 'before'} the warning")
        lines += _row("fault", line.name) + _row("then", _told(study, line) + grace) + [""]
    wrong = sum(bool(line.disagrees) for line in found)
    lines.append(f"{count(len(found), 'fault')} simulated, {wrong} where graph and simulation disagree")
    return "\n".join([*lines, *textwrap.wrap(CAUTION, WIDTH)]) + "\n"


def _seconds(time: float) -> str:
    return f"{time:.1f}{_FAST}s" if time < 120 else f"{time / 60:.1f}{_FAST}min"


# --- for programs ----------------------------------------------------------------------------------------------------


def as_json(study: Study, found: Iterable[Outcome], more: dict[str, Any] | None = None) -> str:
    """The faults with all their figures; pressures are gauge bar, shares of the normal."""
    head = {"tool": "airwright", "version": __version__, "format": 2, "caution": CAUTION,
            "assumed": PLAYED.replace(_FAST, " "), "file": study.circuit.source.name,
            "faults": [_outcome(study, each) for each in found], **(more or {})}
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def _outcome(study: Study, found: Outcome) -> dict[str, Any]:
    """What a fault does in a stop, in the next one, and in time."""
    unit = unit_of(study.circuit)
    entry = {**_entry(found.seen, unit), "rank": found.rank.name.lower().replace("_", "-")}
    if found.first is not None and found.following is not None:
        entry["then"] = later(found, study.circuit, unit).replace(_FAST, " ")
        entry["next_stop"], entry["in_time"] = (
            {key: _entry(each, unit)[key] for key in ("lost", "braking", "force", "axles", "reservoirs", "heads")}
            for each in (found.following, found.effect))
    return entry


def _entry(effect: Effect, unit: str) -> dict[str, Any]:
    return {
        "fault": effect.fault.name, "says": effect.fault.says, "parts": [list(part) for part in effect.fault.parts],
        "worst_in": worst_in(effect), "rank": rank(effect).name.lower().replace("_", "-"),
        "lost": lost(effect, unit).replace(_FAST, " "), "left": left(effect, unit).replace(_FAST, " "),
        "braking": round(effect.braking, 3), "force": round(effect.force, 3),
        "axles": [{"name": axle.name, **{key: round(getattr(axle, key), 3)
                                         for key in ("service", "wheels", "pedal", "springs", "drags", "stays",
                                                      "parks", "lifts")}, "follows": axle.follows}
                  for axle in effect.axles],
        "reservoirs": [{"name": tank.name, "role": tank.role, "full_bar": _bar(tank.full),
                        "keeps_bar": _bar(tank.driving), "keeps_braking_bar": _bar(tank.braking),
                        "filled_again": tank.refilled} for tank in effect.tanks],
        "heads": [{"name": head.name, "line": head.line, "driving_bar": _bar(head.driving),
                   "braking_bar": _bar(head.braking), "parked_bar": _bar(head.parked),
                   "filled_again": head.refilled} for head in effect.heads],
        "warned": list(effect.warned), "unwarned": list(effect.unwarned), "users": list(effect.users),
        "starved": list(effect.starved),
        "seeps": list(effect.seeps),
        "unguarded": [{"when": name, "lost_too": list(tanks)} for name, tanks in effect.unguarded],
        "rising": effect.rising,
    }


def _bar(pressure: float) -> float:
    return round(max(0.0, pressure - ATMOSPHERE) / 1e5, 2)
