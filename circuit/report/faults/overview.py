"""The fault study for people: a table worst first, one fault's story, hidden faults with their proofs, and JSON."""

import json
import textwrap
from collections.abc import Callable, Iterable
from typing import Any

from circuit import __version__
from circuit.faults.effect import BRAKING, GONE, LESS, Axle, Effect
from circuit.faults.pairs import Pair
from circuit.faults.play import Situation
from circuit.faults.study import Rank, Study, differs, rank, worst_in
from circuit.faults.times import Timeline
from circuit.report.faults.mending import PROVED, in_unit, proving
from circuit.report.situations import unit_of
from circuit.report.words import CAUTION, SHOP, count
from circuit.report.words import FAST as _FAST
from circuit.report.words import be as _is
from circuit.report.words import either as _either
from circuit.report.words import listed as _list
from circuit.report.words import verb as _verb
from circuit.units import ATMOSPHERE

WIDTH = 110
TITLES = {
    Rank.NO_BRAKE: "no service brake left",
    Rank.LESS_BRAKE: "some brakes lost",
    Rank.NO_PARKING: "does not park on all its springs",
    Rank.STUCK: "brakes come on by themselves or stay on",
    Rank.TOWED: "the towed vehicle gets less, or what it should not",
    Rank.WEAKER: "all wheels brake, some with less force",
    Rank.AIR: "air lost, all brakes still work",
    Rank.UNGUARDED: "hidden: nothing is lost until a second fault",
    Rank.RISING: "the compressor does not rest",
    Rank.BLIND: "an instrument is dead",
    Rank.USERS: "only what is not a brake",
    Rank.NOTHING: "nothing that air at rest can show",
}
ASSUMED = ("Predicted with air at rest, for each fault alone: it comes while driving with everything full, the engine "
           "then stands still, and a leak has all the time it needs. Pressures that are kept are closing pressures of "
           "valves; more is kept where a compressor pumps against the leak.")
_SHOWN = 4


def table(study: Study, only: str = "", situation: Situation = Situation(), assumed: str = ASSUMED,
          most: int = _SHOWN) -> str:
    """All faults, those with the same outcome in one row, with the situation in which each does its worst.

    only: a word that the fault or its outcome must have. situation: that the study is about. assumed: how it was found.
    most: how many parts are named for an outcome, where it is asked for no word.
    """
    return outcomes(study, [(effect, worst_in(effect)) for effect in study.effects], only,
                    f"{assumed} {asked(situation, unit_of(study.circuit))}".rstrip(), most)


def outcomes(study: Study, found: Iterable[tuple[Effect, str]], only: str, assumed: str, most: int = _SHOWN) -> str:
    """Faults with the situation that each is told for, alike ones in one row."""
    unit = unit_of(study.circuit)
    chosen = [(e, when) for e, when in found if not only or only.lower() in _searched(e, unit)]
    rows: dict[tuple[Rank, str, str, str], list[Effect]] = {}
    for effect, when in chosen:
        rows.setdefault((rank(effect), when, lost(effect, unit), left(effect, unit)), []).append(effect)
    vehicle = study.circuit.vehicle
    lines = [f"Faults: {vehicle.title}  ({vehicle.vehicle_class}, {study.circuit.source.name})",
             f"{count(len(chosen), 'single fault')}, {count(len(rows), 'outcome')}, the worst first"
             + (f", with `{only}`" if only else ""), *textwrap.wrap(assumed, WIDTH)]
    before = None
    for (at, when, gone, kept), same in rows.items():
        if at is not before:
            lines += ["", TITLES[at].upper()]
            before = at
        lines += _row("lost" if at is not Rank.NOTHING else "is", f"{when}: {gone}" if when else gone)
        lines += _row("left", kept) + _row("by", names(same, len(same) if only else most)) + [""]
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


def _searched(effect: Effect, unit: str) -> str:
    return " ".join((effect.fault.name, effect.fault.says, lost(effect, unit), TITLES[rank(effect)])).lower()


def names(effects: Iterable[Effect], most: int) -> str:
    """Faults with their parts, the failures of one part together: `pri: burst, leaks; dryer: blocked; and 3 more`."""
    parts: dict[str, list[str]] = {}
    for effect in effects:
        part, _, failure = effect.fault.name.partition(": ")
        parts.setdefault(part, []).append(failure)
    shown = [f"{part}: {', '.join(failures)}" for part, failures in list(parts.items())[:most]]
    return "; ".join(shown) + (f"; and {count(len(parts) - most, 'more part')}" if len(parts) > most else "")


# --- what is lost and left, in words ---------------------------------------------------------------------------------


def lost(effect: Effect, unit: str) -> str:
    """What a fault takes."""
    says = [*_brakes_lost(effect), *_parking_lost(effect), *_towed(effect, unit), *_air_lost(effect, unit)]
    if effect.seeps:
        loses = "loses" if len(effect.seeps) == 1 else "lose"
        says.append(f"{_list(effect.seeps)} {loses} a little air while the pedal is down")
    if effect.unwarned:
        says.append(f"no warning tells that {_list(effect.unwarned)} {_is(effect.unwarned)} empty")
    if effect.rising:
        ends = "and no safety valve stands there" if effect.rising == "nothing" else f"until {effect.rising} opens"
        says.append(f"the compressor pumps on past cut-out, {ends}")
    if effect.users:
        says.append(f"no air for {_list(effect.users, 3)}")
    says += _unguarded(effect)
    if effect.dead:
        says.append(f"{effect.dead} shows nothing")
    return "; ".join(says) or effect.fault.says


def left(effect: Effect, unit: str) -> str:
    """What brakes, holds and warns with a fault."""
    if rank(effect) in (Rank.BLIND, Rank.USERS, Rank.NOTHING, Rank.RISING, Rank.UNGUARDED):
        return ""
    says = []
    whole = [axle.name for axle in effect.axles if axle.served and axle.service >= LESS]
    if whole and len(whole) == sum(axle.served for axle in effect.axles):
        says.append("all service brakes")
    elif whole:
        says.append(f"service brake of {_list(whole)}")
    for share, axles in _alike(effect.axles, lambda a: a.pedal if a.pedal > GONE else None):
        says.append(f"springs of {_list(axles)} follow the pedal ({_percent(share)})")
    sprung = [axle for axle in effect.axles if axle.sprung]
    if sprung and all(axle.parks >= LESS for axle in sprung):
        says.append("parks on all its springs")
        if all(axle.lifts >= LESS for axle in sprung):
            says.append("can be released")
    kept = [(tank.name, min(tank.driving, tank.braking)) for tank in effect.tanks
            if tank.role in BRAKING and tank.full > ATMOSPHERE + 0.5e5 and not tank.is_lost]
    if kept:
        alike: dict[str, list[str]] = {}
        for name, pressure in kept:
            alike.setdefault(in_unit(pressure, unit), []).append(name)
        says.append(", ".join(f"{_list(named)} {pressure}" for pressure, named in alike.items()))
    if effect.warned:
        says.append(f"warned by {_list(effect.warned)}")
    return "; ".join(says) or "nothing"


def _brakes_lost(effect: Effect) -> list[str]:
    says = []
    for share, axles in _alike(effect.axles, lambda a: _share(a.service) if a.served and a.service < LESS
                               and not _lame(a) else None):
        force = f"{_percent(share)} of {'its' if len(axles) == 1 else 'their'} push-rod force"
        says.append(f"no service brake on {_list(axles)}" if share < GONE else
                    f"{_list(axles)} {_verb(axles, 'brakes')} with {force}")
    if says and worst_in(effect) != "braking":
        says = [f"with the pedal down {_list(says)}"]
    for share, axles in _alike(effect.axles, lambda a: 1 - a.wheels if _lame(a) else None):
        says.append(f"{_part(share)} of the brakes of {_list(axles)} do nothing")
    for share, axles in _alike(effect.axles, lambda a: _share(a.springs) if a.springs > GONE else None):
        how = "and stay" if share > LESS else f"with {_percent(share)} of their force"
        says.append(f"springs of {_list(axles)} come on by themselves {how}")
    if held := [axle.name for axle in effect.axles if axle.lifts < LESS and axle.springs <= GONE]:
        says.append(f"springs of {_list(held)} stay on once they are parked")
    if dragging := [axle.name for axle in effect.axles if axle.drags > GONE]:
        says.append(f"service brake of {_list(dragging)} comes on by itself")
    if stuck := [axle.name for axle in effect.axles if axle.stays > GONE >= axle.drags]:
        says.append(f"service brake of {_list(stuck)} does not let go")
    return says


def _share(share: float) -> float:
    """A share, nothing or all of it where it is as good as that, so that axles are told of together."""
    return 0.0 if share < GONE else 1.0 if share > LESS else share


def _lame(axle: Axle) -> bool:
    """Whether some wheels brake as ever and the others not at all."""
    return axle.served and GONE < axle.wheels < LESS and abs(axle.service - axle.wheels) < GONE


def _part(share: float) -> str:
    return {0.25: "a quarter", 0.5: "half", 0.75: "three quarters"}.get(round(share, 2), _percent(share))


def _parking_lost(effect: Effect) -> list[str]:
    return [f"springs of {_list(axles)} do not come on when parked" if share < GONE else
            f"only {_part(share)} of the springs of {_list(axles)} come on when parked"
            for share, axles in _alike(
                effect.axles, lambda a: _share(a.parks) if a.sprung and a.parks < LESS and a.stays <= GONE else None)]


def _unguarded(effect: Effect) -> list[str]:
    """What takes a reservoir along, a sentence for each set of them that would be lost."""
    found: dict[tuple[str, ...], list[str]] = {}
    for name, tanks in effect.unguarded:
        found.setdefault(tanks, []).append(name)
    return [f"when {_either(by)} is lost, {_list(tanks)} {_is(tanks)} lost with it" for tanks, by in found.items()]


def _towed(effect: Effect, unit: str) -> list[str]:
    found: dict[tuple[str, str, str], list[str]] = {}
    for head in effect.heads:
        for when, now, normal in (("", head.driving, head.full_driving),
                                  (" while braking", head.braking, head.full_braking)):
            if differs(now, normal):
                found.setdefault((in_unit(now, unit), when, in_unit(normal, unit)), []).append(head.name)
                break
    return [f"{_list(heads)} {'has' if len(heads) == 1 else 'have'} {now}{when} instead of {normal}"
            for (now, when, normal), heads in found.items()]


def _air_lost(effect: Effect, unit: str) -> list[str]:
    says = []
    tanks = [tank for tank in effect.tanks if tank.role != "regeneration"]
    empty = [tank.name for tank in tanks if tank.is_lost and tank.driving < ATMOSPHERE + 0.5e5]
    pedal = [tank.name for tank in tanks if tank.is_lost and tank.name not in empty]
    if empty:
        says.append(f"{_list(empty)} {'empties' if len(empty) == 1 else 'empty'}")
    if pedal:
        says.append(f"{_list(pedal)} {'empties' if len(pedal) == 1 else 'empty'} while the pedal is down")
    low: dict[str, list[str]] = {}
    for tank in tanks:
        if tank.is_low and not tank.is_lost:
            low.setdefault(in_unit(min(tank.driving, tank.braking), unit), []).append(tank.name)
    says += [f"{_list(named)} may fall to {pressure}" for pressure, named in low.items()]
    dry = [tank.name for tank in tanks if not tank.refilled and not tank.is_lost]
    if dry:
        says.append(f"{_list(dry)} {_is(dry)} not filled up again")
    return says


def _alike(axles: Iterable[Axle], share: Callable[[Axle], float | None]) -> list[tuple[float, list[str]]]:
    """Axles of one share together, to a per cent; those without one are left out."""
    found: dict[float, list[str]] = {}
    for axle in axles:
        value = share(axle)
        if value is not None:
            found.setdefault(round(value, 2), []).append(axle.name)
    return list(found.items())


def _percent(share: float) -> str:
    return f"{share * 100:.0f}{_FAST}%"


# --- one fault, two faults -------------------------------------------------------------------------------------------


def told(study: Study, effect: Effect) -> list[str]:
    """What a fault takes, what is left and whether it warns, a sentence each."""
    unit = unit_of(study.circuit)
    sentences = [f"At once or in time: {lost(effect, unit)}."]
    kept = left(effect, unit)
    if kept:
        sentences.append(f"What is left: {kept}.")
    if not effect.warned and rank(effect) <= Rank.AIR:
        sentences.append("No low-pressure warning comes on.")
    return [sentence.replace(_FAST, " ") for sentence in sentences]


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


def as_json(study: Study, effects: Iterable[Effect], more: dict[str, Any] | None = None) -> str:
    """The faults with all their figures; pressures are gauge bar, shares of the normal."""
    unit = unit_of(study.circuit)
    head = {"tool": "airwright", "version": __version__, "format": 1, "caution": CAUTION, "assumed": ASSUMED,
            "file": study.circuit.source.name, "faults": [_entry(effect, unit) for effect in effects], **(more or {})}
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def _entry(effect: Effect, unit: str) -> dict[str, Any]:
    return {
        "fault": effect.fault.name, "says": effect.fault.says, "parts": [list(part) for part in effect.fault.parts],
        "worst_in": worst_in(effect), "rank": rank(effect).name.lower().replace("_", "-"),
        "lost": lost(effect, unit).replace(_FAST, " "), "left": left(effect, unit).replace(_FAST, " "),
        "braking": round(effect.braking, 3), "force": round(effect.force, 3),
        "axles": [{"name": axle.name, **{key: round(getattr(axle, key), 3)
                                         for key in ("service", "wheels", "pedal", "springs", "drags", "stays",
                                                      "parks", "lifts")}}
                  for axle in effect.axles],
        "reservoirs": [{"name": tank.name, "role": tank.role, "full_bar": _bar(tank.full),
                        "keeps_bar": _bar(tank.driving), "keeps_braking_bar": _bar(tank.braking),
                        "filled_again": tank.refilled} for tank in effect.tanks],
        "heads": [{"name": head.name, "line": head.line, "driving_bar": _bar(head.driving),
                   "braking_bar": _bar(head.braking)} for head in effect.heads],
        "warned": list(effect.warned), "unwarned": list(effect.unwarned), "users": list(effect.users),
        "seeps": list(effect.seeps),
        "unguarded": [{"when": name, "lost_too": list(tanks)} for name, tanks in effect.unguarded],
        "rising": effect.rising,
    }


def _bar(pressure: float) -> float:
    return round(max(0.0, pressure - ATMOSPHERE) / 1e5, 2)
