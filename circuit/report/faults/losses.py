"""What a fault takes and leaves, in words: in a stop, and what is worse later."""

from collections.abc import Callable, Iterable

from circuit.faults.effect import BRAKING, GONE, LESS, Axle, Effect
from circuit.faults.outcome import Outcome, Worse
from circuit.faults.single import THEN
from circuit.faults.study import Rank, Study, differs, rank, worst_in
from circuit.model.circuit import Circuit
from circuit.report.faults.mending import in_unit
from circuit.report.situations import unit_of
from circuit.report.words import FAST as _FAST
from circuit.report.words import be as _is
from circuit.report.words import either as _either
from circuit.report.words import listed as _list
from circuit.report.words import verb as _verb
from circuit.units import ATMOSPHERE

ROUNDED = 0.05
"""To what a share of a force is rounded; our choice: more says no more, and faults that are alike stand together."""


def lost(effect: Effect, unit: str) -> str:
    """What a fault takes."""
    says = [*_brakes_lost(effect), *_parking_lost(effect), *_towed(effect, unit), *_air_lost(effect, unit)]
    told_of = {tank.name for tank in effect.tanks if tank.role == "regeneration" or tank.is_lost or tank.is_low}
    if seeps := [name for name in effect.seeps if name not in told_of]:
        says.append(f"{_list(seeps)} {_verb(seeps, 'loses')} a little air while the pedal is down")
    if effect.unwarned:
        says.append(f"no warning tells that {_list(effect.unwarned)} {_is(effect.unwarned)} empty")
    if effect.rising:
        seized = any(failure == "seized" for _, failure in effect.fault.parts)
        none = "and no safety valve opens" if seized else "and no safety valve stands there"
        ends = none if effect.rising == "nothing" else f"until {effect.rising} opens"
        says.append(f"the compressor pumps on past cut-out, {ends}")
    if effect.fills is not None:
        says.append(f"it fills to {in_unit(effect.fills, unit)}")
    if effect.users:
        says.append(f"no air for {_list(effect.users, 3)}")
    if effect.starved:
        holds = "it holds" if len(effect.starved) == 1 else "they hold"
        says.append(f"{_list(effect.starved, 3)} {_verb(effect.starved, 'gets')} no more air than {holds}")
    says += _unguarded(effect)
    if effect.dead:
        own = effect.fault.device == effect.dead
        says.append(f"{effect.dead}: {effect.fault.says.partition(THEN)[0]}" if own else f"{effect.dead} shows nothing")
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
    for follows in (True, False):
        for share, axles in _alike(effect.axles, lambda a: _share(a.pedal) if (
                a.follows is follows and a.pedal > GONE and a.lifts >= LESS) else None):
            how = "follow the pedal, up to {}" if follows else "come on with the pedal down, with {}"
            says.append(f"springs of {_list(axles)} {how.format(_of_force(share))}")
    sprung = [axle for axle in effect.axles if axle.sprung]
    if sprung and all(axle.parks >= LESS for axle in sprung):
        says.append("parks on all its springs")
        if all(axle.lifts >= LESS for axle in sprung):
            says.append("can be released")
    whole_tanks: list[str] = []
    for tank in effect.tanks:
        if tank.role in BRAKING and tank.sound > ATMOSPHERE + 0.5e5 and not tank.is_lost:
            whole_tanks += [] if tank.is_low or tank.name in effect.seeps else [tank.name]
    if whole_tanks:
        says.append(f"{_list(whole_tanks)} {_verb(whole_tanks, 'keeps')} {'its' if len(whole_tanks) == 1 else 'their'} air")
    if effect.warned:
        says.append(f"warned by {_list(effect.warned)}")
    return "; ".join(says) or "nothing"


def _brakes_lost(effect: Effect) -> list[str]:
    says = []
    for share, axles in _alike(effect.axles, lambda a: _share(a.service) if a.served and a.service < LESS
                               and not _lame(a) else None):
        force = _of_rods(share, axles)
        says.append(f"no service brake on {_list(axles)}" if share < GONE else
                    f"{_list(axles)} {_verb(axles, 'brakes')} with {force}")
    if says and worst_in(effect) != "braking":
        says = [f"with the pedal down {_list(says)}"]
    for share, axles in _alike(effect.axles, lambda a: 1 - a.wheels if _lame(a) else None):
        says.append(f"{_part(share)} of the brakes of {_list(axles)} do nothing")
    for stay in (True, False):
        for share, axles in _alike(effect.axles, lambda a: _share(a.springs) if (
                a.springs > GONE and stay is (a.springs > LESS > a.lifts)) else None):
            how = " and stay" if stay else "" if share > LESS else f" with {_percent(share)} of their force"
            says.append(f"springs of {_list(axles)} come on by themselves{how}")
    for share, axles in _alike(effect.axles, lambda a: _share(a.pedal) if a.pedal > GONE and a.lifts < LESS else None):
        says.append(f"springs of {_list(axles)} come on with the pedal, with {_of_force(share)}, and stay on")
    if held := [axle.name for axle in effect.axles if axle.lifts < LESS and axle.springs <= GONE >= axle.pedal]:
        says.append(f"springs of {_list(held)} stay on once they are parked")
    if dragging := [axle.name for axle in effect.axles if axle.drags > GONE]:
        says.append(f"service brake of {_list(dragging)} comes on by itself")
    if stuck := [axle.name for axle in effect.axles if axle.stays > GONE >= axle.drags]:
        says.append(f"service brake of {_list(stuck)} does not let go")
    return says


def _share(share: float) -> float:
    """A share, nothing or all of it where it is as good as that, else as it is printed."""
    return 0.0 if share < GONE else 1.0 if share > LESS else min(max(round(share / ROUNDED), 1), round(1 / ROUNDED) - 1) * ROUNDED


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
                                  (" while braking", head.braking, head.full_braking),
                                  (" when parked", head.parked, head.full_parked)):
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
    says += [f"{_list(named)} {_verb(named, 'falls')} to {pressure}" for pressure, named in low.items()]
    dry = [head.name for head in effect.heads if not head.refilled]
    dry += [tank.name for tank in tanks if not tank.refilled and not tank.is_lost]
    if dry and (effect.fills is None or len(effect.fault.parts) > 1):
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


def _of_force(share: float) -> str:
    return "all their force" if share > LESS else f"{_percent(share)} of their force"


def _of_rods(share: float, axles: list[str]) -> str:
    return f"{_percent(share)} of {'its' if len(axles) == 1 else 'their'} push-rod force"


def _percent(share: float) -> str:
    return f"{share * 100:.0f}{_FAST}%"


def later(found: Outcome, circuit: Circuit, unit: str) -> str:
    """What is worse in time, or in the next stop where nothing escapes; empty where nothing is."""
    worse = found.later
    if worse is None:
        return ""
    says = []
    service: dict[float, list[str]] = {}
    for name, share in worse.service.items():
        service.setdefault(_share(share), []).append(name)
    says += [f"no service brake on {_list(axles)}" if share < GONE else
             f"{_list(axles)} {_verb(axles, 'brakes')} with {_of_rods(share, axles)}" for share, axles in service.items()]
    if worse.springs:
        says.append(f"springs of {_list(worse.springs)} come on by themselves")
    if worse.stuck:
        says.append(f"springs of {_list(worse.stuck)} do not come on when parked")
    heads: dict[tuple[str, str], list[str]] = {}
    for name, (now, sound) in worse.heads.items():
        heads.setdefault((in_unit(now, unit), in_unit(sound, unit)), []).append(name)
    says += [f"{_list(names)} {_verb(names, 'has')} {now_} while braking instead of {normal}"
             for (now_, normal), names in heads.items()]
    if worse.tanks:
        says.append(f"{_list(worse.tanks)} {'empties' if len(worse.tanks) == 1 else 'empty'}")
    return f"{_when(found, worse, circuit)}: {'; '.join(says)}"


def _when(found: Outcome, worse: Worse, circuit: Circuit) -> str:
    if not found.leaks:
        return "at the next stop, parked and released in between"
    held = ", the pedal held down" if worse.pedal else "" if found.rests else ", for it may fall for longer than two hours"
    fed = ", no air coming from the towing vehicle" if circuit.is_towed else ""
    return f"in time{held}{fed}"


def told(study: Study, found: Outcome) -> list[str]:
    """What a fault takes, what is left, what is worse later and whether it warns, a sentence each."""
    unit, effect = unit_of(study.circuit), found.seen
    sentences = [f"In a stop: {lost(effect, unit)}."]
    kept, worse = left(effect, unit), later(found, study.circuit, unit)
    if kept:
        sentences.append(f"What is left: {kept}.")
    if worse:
        sentences.append(f"{worse[:1].upper()}{worse[1:]}.")
    if not effect.warned and rank(effect) <= Rank.AIR:
        sentences.append("No low-pressure warning comes on.")
    return [sentence.replace(_FAST, " ") for sentence in sentences]
