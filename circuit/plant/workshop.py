"""Finding a fault from what a vehicle does: a complaint, a hidden fault, and measurements that are asked for one by one.

What is read comes from the library of single faults that `diagnose` weighs, on a vehicle whose parts scatter, with instruments in
error. Prices are our choice: a look at the dash is cheap, opening a line is dear, a new part dearest.
"""

import re
from random import Random
from typing import NamedTuple

from circuit import kinds
from circuit.declaring.kind import OUTSIDE
from circuit.declaring.traits import Role, Trait
from circuit.faults.library import Entry, Library, idle_with, scattered, signatures
from circuit.faults.ranking import Errors, Explained, weigh
from circuit.studies.commission import Reading
from circuit.units import to_si, value_in

LOOK, WATCH, SCREW, OPEN, LISTEN, SWAP = 1, 2, 3, 8, 1, 25
"""Prices: a gauge that is there, a stopwatch, a test point, a line opened at a port, an ear at a part, a new part."""
SEEN = to_si("12 psi", "difference")
"""Pa that a driver notices; our choice."""
FELT = 0.15
"""s by which a brake is felt to be late; our choice."""
BUDGET = 60
"""What may be spent on one vehicle; our choice: a few gauges, an ear and one new part."""
SURE, ENOUGH, MOST, FEW = 0.8, 0.25, 14, 8
"""Weight at which a mechanic stops; weight that a diagnosis needs by what was read; readings that a mechanic takes at most; how
many faults may read alike by what was asked, for it to be a diagnosis."""


class Case(NamedTuple):
    """hidden: the fault. complaint: what the driver says. where: the reading that each complaint is about, by number.
    values: what every reading would be, SI, None for what never comes.
    library: all that could be wrong."""

    library: Library
    hidden: Entry
    complaint: tuple[str, ...]
    where: tuple[int, ...]
    values: tuple[float | None, ...]


def case(library: Library, seed: int) -> Case | None:
    """The vehicle of a seed, or None where no fault of the design is noticed."""
    draw = Random(f"workshop {seed}")
    known = [entry for entry in library.entries if entry.sort == "fault" and entry.failures and complaints(library, entry)]
    if not known:
        return None
    hidden = draw.choice(known)
    asked, errors = library.commission, Errors()
    (found,) = signatures(asked, [scattered(asked.circuit, draw, hidden.variant)], [tuple(idle_with(asked.circuit, hidden))])
    values = tuple(value if value is None or reading.dimension == "count" else
                   max(0.0, value + draw.gauss(0.0, errors.of(reading))) for reading, value in zip(asked.readings, found))
    told = list(complaints(library, hidden).items())[:2]
    return Case(library, hidden, tuple(words for words, _ in told), tuple(number for _, number in told), values)


def complaints(library: Library, entry: Entry) -> dict[str, int]:
    """What a driver says of a vehicle with a fault, in the order of the commissioning, each with a reading that shows it."""
    circuit, readings = library.commission.circuit, library.commission.readings
    chambers = {circuit.service_space(each): each.settings["axle"] for each in circuit.having(Trait.SERVICE_ACTUATOR)}
    springs = {circuit.spring_space(each): each.settings["axle"] for each in circuit.having(Trait.SPRING_ACTUATOR)}
    told: dict[str, int] = {}
    for number, (reading, was, now) in enumerate(zip(readings, library.entries[0].signature, entry.signature)):
        axle, spring = chambers.get(reading.space, ""), springs.get(reading.space, "")
        if reading.dimension == "pressure" and was is not None and now is not None and abs(now - was) > SEEN:
            told.setdefault(_said(reading.step, axle, spring, now > was), number)
        elif reading.step in ("apply-time", "release-time") and was is not None and (now is None or now - was > FELT):
            told.setdefault(f"the {axle} brakes {'come' if reading.step == 'apply-time' else 'let go'} late", number)
        elif reading.step == "warning" and (now is None) != (was is None):
            told.setdefault("the warning does not come on when it should", number)
        elif reading.step == "fill-time" and was is not None and (now is None or now > 1.5 * was):
            told.setdefault("it takes far too long to fill", number)
    return {words: number for words, number in told.items() if words}


def _said(step: str, axle: str, spring: str, more: bool) -> str:
    """What somebody says who feels a pressure to be higher or lower than it was."""
    if step == "apply" and axle:
        return f"the {axle} brakes {'come too hard' if more else 'hardly come'}"
    if step == "release" and axle and more:
        return f"the {axle} brakes stay on when the foot is off"
    if step in ("drive", "release") and spring and not more:
        return f"it rolls badly, and the {spring} brakes get hot"
    if step == "park" and spring and more:
        return "it does not hold on a slope when it is parked"
    if step == "charge" and not axle and not spring:
        return "the pressure goes far too high" if more else "it does not fill"
    if step in ("stand-end", "pressed-end") and not more and not axle and not spring:
        return "it loses air while it stands" if step == "stand-end" else "it loses air while the foot is down"
    return ""


# --- what can be asked ------------------------------------------------------------------------------------------------


def price(reading: Reading) -> int:
    """What a reading costs."""
    if reading.dimension == "count" or "nearest gauge" in reading.how or "fullest gauge" in reading.how:
        return LOOK
    if "port" in reading.how or "chamber" in reading.how:
        return OPEN
    if "stopwatch" in reading.how:
        return WATCH
    return LOOK if reading.how.endswith(" gauge") and reading.is_given else SCREW


def numbered(one: Case) -> dict[str, int]:
    """Every reading by what it is asked as: its step and its place."""
    return {reading.name: number for number, reading in enumerate(one.library.commission.readings)}


def worded(reading: Reading, value: float | None) -> str:
    """What a gauge or a watch says."""
    if value is None:
        return "never"
    if reading.dimension == "pressure":
        return f"{max(0.0, value_in(value, 'psi', 'pressure')):.0f} psi"
    return f"{value:.2f} s" if reading.dimension == "time" else f"{value:.0f}"


def is_heard(one: Case, part: str) -> bool:
    """Whether air is heard at a part that should be quiet: a failure of it opens a way out."""
    return any(part in (name, one.hidden.name.rpartition(": ")[0]) and _opens_out(one, name, failure)
               for name, failure in one.hidden.failures)


def _opens_out(one: Case, part: str, failure: str) -> bool:
    """Whether a failure of a part opens a way to the outside or to an exhaust of it."""
    kind = one.library.commission.circuit.by_name[part].kind
    out = {OUTSIDE, *(port.number for port in kind.ports if port.role is Role.EXHAUST)}
    return any(set(way) & out for each in kind.failures if each.name == failure for way in each.opens)


def cures(one: Case, part: str) -> bool:
    """Whether a new part takes the complaint away."""
    return part in {one.hidden.name.rpartition(": ")[0], *(name for name, _ in one.hidden.failures)}


def explained(one: Case, asked: dict[int, float | None]) -> tuple[Explained, ...]:
    """What explains the readings that were asked for, the likeliest first."""
    return weigh(one.library, asked, pairs=False).explained if asked else ()


def proven(one: Case, name: str, asked: dict[int, float | None], ears: bool = False) -> bool:
    """Whether a fault is the one that is there, or reads as it does, and what was asked shows it: a right guess without a
    reading is no diagnosis. name: a part and a failure, as `relay: does not apply`.

    ears: air was heard at the part, or a new one cured it, which shows it too.
    """
    found = explained(one, asked)
    same = next((each for each in found if one.hidden.name in each.names), None)
    if name not in alike(one):
        return False
    return ears or same is not None and same.share >= ENOUGH and len(same.names) <= FEW


def alike(one: Case) -> frozenset[str]:
    """The hidden fault and those that no reading of the whole commissioning tells from it."""
    every = weigh(one.library, dict(enumerate(one.values)), pairs=False).explained
    return frozenset({one.hidden.name, *one.hidden.members, *(
        name for each in every if one.hidden.name in each.names for name in each.names)})


class Diagnosed(NamedTuple):
    """name: the fault that is named, or "". taken: the readings asked for, by number. listened: the parts that were listened at.
    heard: whether air was heard at the last, or a new part took the complaint away. cost: of all."""

    name: str
    taken: tuple[int, ...]
    listened: tuple[str, ...]
    heard: bool
    cost: int


def mechanic(one: Case) -> Diagnosed:
    """What a good mechanic does: first the dash, then what tells most for its price, until one explanation is left; where that
    lets air out, an ear at each part that reads alike."""
    readings = one.library.commission.readings
    taken = [number for number, reading in enumerate(readings)
             if reading.step in ("charge", "apply", "release") and price(reading) == LOOK]
    taken += [number for number in one.where if number not in taken]
    while True:
        asked = {number: one.values[number] for number in taken}
        found = weigh(one.library, asked, pairs=False)
        faults = [each for each in found.explained if each.sort == "fault"]
        further = [each for each in found.further if readings.index(each.reading) not in asked]
        if faults and faults[0].share > SURE or len(taken) >= MOST or not further:
            break
        taken.append(readings.index(max(further, key=lambda each: each.gain / (2 + price(each.reading))).reading))
    likely = [name for each in faults[:4] if each.share > 0.01 for name in each.names]
    listened: list[str] = []
    named = likely[0] if likely else ""
    for name in [*likely[:16], *(_beside(one, likely[0]) if likely and _lets_out(one, likely[0]) else ())]:
        if _lets_out(one, name) and name.rpartition(": ")[0] not in listened:
            listened.append(name.rpartition(": ")[0])
            if is_heard(one, listened[-1]):
                named = name
                break
    heard = bool(listened) and is_heard(one, listened[-1])
    cost = sum(price(readings[number]) for number in taken) + LISTEN * len(listened)
    rest = [name for name in likely if name.rpartition(": ")[0] not in listened]
    while not heard and len(rest) > 1 and cost + SWAP <= BUDGET:  # what reads alike is told apart by a new part
        named = rest.pop(0)
        cost, heard = cost + SWAP, cures(one, named.rpartition(": ")[0])
        named = named if heard or not rest else rest[0]
    return Diagnosed(named, tuple(taken), tuple(listened), heard, cost)


def _beside(one: Case, name: str) -> list[str]:
    """Faults that let air out at what is joined to a part: where nothing is heard, the ear goes on along the line."""
    lines = {kind.name for kind in kinds.every() if Trait.LINE in kind.traits}
    words = set(re.findall(r"[\w-]+", name.rpartition(": ")[0].replace("->", " "))) - lines
    return [each.name for each in one.library.entries if each.sort == "fault" and each.name != name
            and words & set(re.findall(r"[\w-]+", each.name)) and _lets_out(one, each.name)][:12]


def _lets_out(one: Case, name: str) -> bool:
    """Whether a fault by its name opens a way for the air to leave, so that it can be heard."""
    entry = next((each for each in one.library.entries if name == each.name and each.failures), None)
    return entry is not None and any(_opens_out(one, part, failure) for part, failure in entry.failures)


def guesser(one: Case, seed: int) -> Diagnosed:
    """What somebody names who knows no air: three readings by chance and a fault by chance."""
    draw = Random(f"guess {seed}")
    readings = one.library.commission.readings
    taken = draw.sample(range(len(readings)), 3)
    named = draw.choice([entry for entry in one.library.entries if entry.sort == "fault" and entry.failures])
    return Diagnosed(named.name, tuple(taken), (), False, sum(price(readings[number]) for number in taken))


def solved(one: Case, by: Diagnosed) -> bool:
    """Whether somebody has found the fault and can show it."""
    return by.cost <= BUDGET and proven(one, by.name, {number: one.values[number] for number in by.taken}, by.heard)
