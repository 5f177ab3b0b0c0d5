"""Double faults that matter: a first that no ordinary use shows, and a second that it makes worse; and how to prove it.

The proof does the second fault on purpose, on chocked wheels, and watches what the first would change.
"""

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.faults.effect import Effect, Tank
from circuit.faults.single import LEAK, both
from circuit.faults.study import Rank, Study, likeness, rank
from circuit.faults.times import is_slow

_MORE = 0.2
"""How much worse a share or a pressure in bar must be to count; above what settling leaves open."""


class Pair(NamedTuple):
    """first: hidden. second: what then happens, by itself. together: both. differs: what shows it. test: the second
    fault that is the easiest to do on purpose, with what shows the first then."""

    first: Effect
    second: Effect
    together: Effect
    differs: "Difference"
    test: "tuple[Effect, Difference] | None" = None


class Difference(NamedTuple):
    """place: what shows it, in words. sound, faulty: what it must do, and what it does with the faulty part. kept:
    absolute Pa that the place then holds, where it is a reservoir. by: what has to be done to see it, as an order;
    empty where one only has to look."""

    place: str
    sound: str
    faulty: str
    kept: tuple[float, float] | None = None
    by: str = ""


def pairs(study: Study) -> tuple[Pair, ...]:
    """Each hidden fault with the second fault that it makes worst, the worst pair first."""
    seconds = tuple(losses(study))
    found = [pair for pair in (_worst(study, first, seconds) for first in hidden(study)) if pair is not None]
    found.sort(key=_badness)
    return tuple(found)


def pair_of(study: Study, first: Effect) -> Pair | None:
    """A fault with the second that it makes worst; None where it makes none worse."""
    return _worst(study, first, tuple(losses(study)))


def as_proved(study: Study, found: Iterable[Pair]) -> tuple[Pair, ...]:
    """Pairs in the order in which a workshop proves them: what a drain shows first, reservoir by reservoir, and of each what
    only has to be looked at before what takes the pedal or a wait; last what a second fault on purpose cannot show."""
    place = {device.name: number for number, device in enumerate(study.circuit.devices)}

    def key(pair: Pair) -> tuple[bool, int, int, bool, bool]:
        second, shows = pair.test or (pair.second, pair.differs)
        trouble, _ = _trouble(study, pair._replace(second=second, differs=shows))
        return bool(second.rising), trouble, place[second.fault.device], is_slow(study.circuit, pair.first), bool(shows.by)

    return tuple(sorted(found, key=key))


def _worst(study: Study, first: Effect, seconds: tuple[Effect, ...]) -> Pair | None:
    if study.circuit.by_name[first.fault.device].has(Trait.RELIEVES):
        seconds = tuple(effect for effect in study.effects if effect.rising and rank(effect) is Rank.RISING)[:1]
    worse = [pair for pair in (_pair(study, first, second) for second in seconds
                               if second.fault.device != first.fault.device) if pair is not None]
    if not worse:
        return None
    easiest = min(worse, key=lambda pair: _trouble(study, pair))
    return min(worse, key=_badness)._replace(test=(easiest.second, easiest.differs))


def hidden(study: Study) -> Iterator[Effect]:
    """Faults that do something to a valve or a warning and that nothing shows in use, one for all that are alike."""
    seen = set()
    for effect in study.effects:
        if rank(effect) not in (Rank.NOTHING, Rank.UNGUARDED, Rank.BLIND):
            continue
        like = likeness(study.whole, effect.fault)
        device = study.circuit.by_name[effect.fault.device]
        blind = effect.dead and not device.has(Trait.WARNS_LOW)
        if like == "nothing" or like in seen or device.is_line or blind or not effect.fault.parts:
            continue
        seen.add(like)
        yield effect


def losses(study: Study) -> Iterator[Effect]:
    """Second faults: whatever lets air out at a stroke or makes none, one for all that are alike."""
    seen = set()
    for effect in study.effects:
        fault = effect.fault
        if not fault.parts or rank(effect) > Rank.AIR:
            continue
        failures = [next(f for f in study.circuit.by_name[name].kind.failures if f.name == failure)
                    for name, failure in fault.parts]
        if not any(f.stops or f.opens and f.share > LEAK for f in failures):
            continue
        like = _outcome(effect)
        if like not in seen:
            seen.add(like)
            yield effect


def _outcome(effect: Effect) -> object:
    return effect._replace(fault=effect.fault._replace(name="", says="", parts=()))


def _pair(study: Study, first: Effect, second: Effect) -> Pair | None:
    together = study.whole.effect(both(first.fault, second.fault))
    shown = _difference(second, together)
    return Pair(first, second, together, shown) if shown else None


def _difference(alone: Effect, together: Effect) -> Difference | None:
    """The first thing that is clearly worse with the hidden fault than without it."""
    for one, other in zip(alone.axles, together.axles):
        if one.wheels + one.pedal + one.springs - other.wheels - other.pedal - other.springs > _MORE:
            if one.pedal + one.springs - other.pedal - other.springs > _MORE:
                return Difference(f"the springs of {one.name}", "come on", "they do not", by="press the pedal")
            return Difference(f"the brakes of {one.name}", "apply", "they do not", by="press the pedal")
        if one.parks - other.parks > _MORE:
            return Difference(f"the springs of {one.name}", "come on", "they do not", by="apply the park control")
        if other.springs - one.springs > _MORE:
            return Difference(f"the springs of {one.name}", "stay off", "they come on by themselves")
        if other.stays - one.stays > _MORE:
            return Difference(f"the brakes of {one.name}", "let go", "they stay on", by="press the pedal and let it up")
    for had, has in zip(alone.tanks, together.tanks):
        if had.role != "regeneration" and _keeps(had) - _keeps(has) > _MORE * 1e5:
            by = "" if had.driving - has.driving > _MORE * 1e5 else "keep the pedal down meanwhile"
            return Difference(had.name, "keep", "it falls to", (_keeps(had), _keeps(has)), by)
    if alone.rising != together.rising:
        return Difference(together.fault.device, "blow", "it stays shut")
    gone = [name for name in alone.warned if name not in together.warned]
    if gone and together.unwarned:
        return Difference(gone[0], "warn", "it stays silent")
    return None


def _keeps(tank: Tank) -> float:
    return min(tank.driving, tank.braking)


def _badness(pair: Pair) -> tuple[float, ...]:
    effect = pair.together
    return (-round(effect.unbraked, 3), rank(effect), round(effect.braking, 3), -sum(t.is_lost for t in effect.tanks))


def _trouble(study: Study, pair: Pair) -> tuple[int, int]:
    """How much trouble a second fault is to do on purpose: draining is the least, a line undone the most."""
    device = study.circuit.by_name[pair.second.fault.device]
    for trouble, trait in enumerate((Trait.STORES_AIR, Trait.COMPRESSES, Trait.COUPLES_VEHICLES)):
        if device.has(trait):
            return trouble, pair.differs.kept is None
    return 3, pair.differs.kept is None
