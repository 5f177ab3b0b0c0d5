"""The stop of a fault's story, in sentences: what each axle gives, what it costs, what holds the vehicle parked."""

from collections.abc import Iterable

from circuit.faults.effect import BRAKING, GONE
from circuit.faults.telling import APPLIED, BRAKES_AT, Stop, Told
from circuit.report.faults.mending import in_unit
from circuit.report.situations import unit_of
from circuit.report.words import FAST, be, listed, verb
from circuit.units import ATMOSPHERE

LESS = 0.3e5
"""Pa below the sound vehicle from which it is worth a word; our choice."""
EMPTY = ATMOSPHERE + 0.25e5


def stop(told: Told) -> Iterable[str]:
    """What each axle does while the pedal is down, and what it costs; sentences without capital and full stop."""
    unit = unit_of(told.circuit)
    for axles, stop in _alike(told):
        yield from _axles_stop(axles, stop, unit)
    yield from _heads(told, told.acts.up)
    costs = []
    for tank in told.circuit.reservoirs_for("supply", "service"):
        before, after = (told.trace.pressure(tank.name, t) for t in (told.acts.pedal, told.acts.up))
        sound = told.sound.pressure(tank.name, told.acts.pedal) - told.sound.pressure(tank.name, told.acts.up)
        if before - after > sound + LESS:
            costs.append(f"{tank.name} from {in_unit(before, unit)} to {in_unit(after, unit)}")
    if costs:
        yield f"the pedal costs more air than it should: {listed(costs)}"
    lower: dict[str, list[str]] = {}
    for kept in told.effect.tanks:
        floor = min(kept.driving, kept.braking)
        if kept.role in BRAKING and floor < told.trace.pressure(kept.name, told.acts.up) - 2 * LESS:
            lower.setdefault(in_unit(floor, unit) if floor > EMPTY else "nothing", []).append(kept.name)
    if lower:
        says = [f"{listed(names)} to {pressure}" for pressure, names in lower.items()]
        yield f"held down for longer, or pressed again and again, it takes {listed(says)}"


def _alike(told: Told) -> Iterable[tuple[list[str], Stop]]:
    """Axles that do the same, together."""
    found: dict[object, tuple[list[str], Stop]] = {}
    for stop in told.stops:
        key = tuple(round(value, 2) if isinstance(value, float) else value for value in (
            _bar(stop.given), _bar(stop.sound), stop.reached, _bar(stop.kept), stop.on)) + (
            tuple(round(share, 1) for share in stop.springs) if stop.springs else None,)
        found.setdefault(key, ([], stop))[0].append(stop.axle)
    return found.values()


def _bar(pressure: float | None) -> float | None:
    return None if pressure is None else round((pressure - ATMOSPHERE) / 1e5, 1)


def _axles_stop(axles: list[str], stop: Stop, unit: str) -> Iterable[str]:
    who = listed(axles)
    if stop.first is not None and stop.given is not None and stop.sound is not None:
        now, first, normal = (in_unit(pressure, unit) for pressure in (stop.given, stop.first, stop.sound))
        soon = f"{'it' if len(axles) == 1 else 'they'} never {verb(axles, 'has')} {in_unit(BRAKES_AT, unit)}" if (
            stop.reached is None) else f"{in_unit(BRAKES_AT, unit)} after {clock(stop.reached)}"
        if stop.before is not None and stop.before > APPLIED:
            yield f"{who} {be(axles)} braked already, with {in_unit(stop.before, unit)}"
        elif stop.first < EMPTY < stop.sound and stop.given < EMPTY:
            yield f"{who} {verb(axles, 'gets')} no air from the pedal"
        elif stop.given >= stop.sound - LESS:
            yield f"{who} {verb(axles, 'brakes')} as ever: {soon}, {now} in the end"
        elif abs(stop.first - stop.given) > 3 * LESS:
            yield (f"{who} {verb(axles, 'brakes')} with {first} at first and {now} in the end, instead of {normal}: "
                   f"{soon}")
        else:
            yield f"{who} {verb(axles, 'brakes')} with {now} instead of {normal}: {soon}"
    if stop.springs is not None:
        yield from _springs_stop(axles, stop)
    if stop.kept > APPLIED:
        yield f"{who} {verb(axles, 'does')} not let go with the pedal: {in_unit(stop.kept, unit)} stay in"


def _springs_stop(axles: list[str], stop: Stop) -> Iterable[str]:
    assert stop.springs is not None
    before, during, after, _, _ = stop.springs
    who = f"the springs of {listed(axles)}"
    if before > GONE:
        yield f"{who} are on already" + (f", with {_percent(before)} of their force" if before < 0.95 else "")
        if during < before - 0.2:
            yield f"the pedal's air takes their force back to {_percent(during)}"
    elif during > GONE:
        instead = "in its place" if stop.given is not None and stop.given < EMPTY else "as well"
        yield f"{who} come on {instead}, with {_percent(during)} of their force" + (
            ", and let go again with the pedal" if after < GONE else ", and stay on" if after > 0.95 else "")
    elif after > GONE:
        yield f"{who} come on as the pedal is let up, with {_percent(after)} of their force"


def following(told: Told) -> Iterable[str]:
    """What is less in the next stop than in this one, the vehicle parked and released in between."""
    unit = unit_of(told.circuit)
    found: dict[tuple[str, str], list[str]] = {}
    for stop in told.stops:
        if stop.following is not None and stop.given is not None and stop.following[0] < stop.given - LESS:
            now, sound = stop.following
            if now < sound - LESS:
                found.setdefault((in_unit(now, unit), in_unit(sound, unit)), []).append(stop.axle)
    for (now_, normal), axles in found.items():
        yield f"{listed(axles)} {verb(axles, 'brakes')} with {now_} instead of {normal}"
    if found:
        yield from _heads(told, told.acts.last)


def _heads(told: Told, time: float) -> Iterable[str]:
    unit = unit_of(told.circuit)
    found: dict[tuple[str, str], list[str]] = {}
    for head in told.effect.heads:
        now, sound = (trace.pressure(head.name, time) for trace in (told.trace, told.sound))
        if abs(now - sound) > LESS:
            found.setdefault((in_unit(now, unit), in_unit(sound, unit)), []).append(head.name)
    for (has, normal), names in found.items():
        yield f"{listed(names)} {verb(names, 'has')} {has} for what is towed, instead of {normal}"


def parked(told: Told) -> Iterable[str]:
    """Which springs come on, what is towed gets, and whether there is air to let the springs off again."""
    yield from _heads(told, told.acts.release)
    rows: dict[str, list[str]] = {}
    for stop in told.stops:
        if stop.springs is None:
            continue
        before, last = stop.springs[2:4]
        if before > 0.95:
            how = "are on already"
        elif stop.on is not None:
            how = f"are on after {clock(stop.on)}"
        elif last < GONE:
            how = "do not come on" + (" while air holds their brakes on" if stop.kept > APPLIED else "")
        else:
            how = f"come on with {_percent(last)} of their force"
        rows.setdefault(how, []).append(stop.axle)
    for how, axles in rows.items():
        yield f"the springs of {listed(axles)} {how}"
    if not rows:
        yield "there is no spring brake: only air holds it, for as long as it lasts, so it must be chocked"
        return
    came = [(stop.axle, stop.springs[4]) for stop in told.stops if stop.springs and stop.springs[3] > GONE]
    for says, axles in (("come off again", [axle for axle, on in came if on <= GONE]),
                        ("stay on", [axle for axle, on in came if on > 0.95]),
                        ("come off only in part", [axle for axle, on in came if GONE < on <= 0.95])):
        if axles:
            who = "they" if len(axles) == len(came) else f"those of {listed(axles)}"
            yield f"with the park control released again {who} {says}"


def clock(seconds: float) -> str:
    """Seconds as a person times them.

    >>> clock(0.376), clock(20.0), clock(458.2)
    ('0.38 s', '20 s', '7 min 38 s')
    """
    if seconds < 10:
        return f"{seconds:.{2 if seconds < 1 else 1}f} s"
    if seconds < 120:
        return f"{seconds:.0f} s"
    minutes, rest = divmod(round(seconds), 60)
    whole = f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60} min"
    return f"{whole} {rest} s" if rest and minutes < 60 else whole


def _percent(share: float) -> str:
    return "all" if share > 0.95 else f"{share * 100:.0f}{FAST}%"
