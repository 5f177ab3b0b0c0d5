"""Hidden faults with their proofs, faults over time, and some faults with their figures as JSON."""

import json
import textwrap
from collections.abc import Iterable
from typing import Any

from circuit import __version__
from circuit.faults.effect import Effect
from circuit.faults.outcome import Outcome
from circuit.faults.pairs import Pair
from circuit.faults.study import Study, rank, worst_in
from circuit.faults.times import Timeline
from circuit.report.faults.losses import later, left, lost
from circuit.report.faults.outcome_rows import PLAYED
from circuit.report.faults.mending import PROVED, in_unit, proving
from circuit.report.situations import unit_of
from circuit.report.words import CAUTION, SHOP, count
from circuit.report.words import FAST as _FAST
from circuit.units import ATMOSPHERE

WIDTH = 110
ASSUMED = ("Predicted with air at rest, for each fault alone: it comes while driving with everything full, the engine "
           "then stands still, and a leak has all the time it needs. Pressures that are kept are closing pressures of "
           "valves; more is kept where a compressor pumps against the leak.")


def _row(word: str, says: str) -> list[str]:
    if not says:
        return []
    lines = textwrap.wrap(says, WIDTH, initial_indent=f"  {word:<5} ", subsequent_indent=" " * 8,
                          break_on_hyphens=False)
    return [line.replace(_FAST, " ") for line in lines]


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
            "assumed": PLAYED, "file": study.circuit.source.name,
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
