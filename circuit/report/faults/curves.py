"""The pressures of a fault's story: reservoirs, brakes, springs and the lines to what is towed.

The time until the pedal stands at the left on a scale of its own, the stop and the parking at the right: minutes of a
leak and tenths of a second of a brake side by side.
"""

from collections.abc import Iterator, Sequence

from circuit.declaring.traits import Trait
from circuit.faults.effect import BRAKING
from circuit.faults.stops import WAITS
from circuit.faults.telling import Told
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.report.chart import MOST, Chart, Curve, ticks
from circuit.report.situations import unit_of
from circuit.units import ATMOSPHERE, value_in

POINTS = 240
"""Of each curve on each side, before those that lie on a straight line are left out."""
STRAIGHT = 0.005
"""Share of the full pressure that a curve may be off by that; our choice, half of a line's width."""
ALIKE = 0.2e5
"""Pa within which two curves are drawn as one; our choice."""
QUIET = 0.35
"""Width of the left side, of 1 at the right, where nothing happens before the pedal."""
ROOM = 250
_MINUTES = 300.0
"""s from which the left half is labelled in minutes."""


def chart(told: Told) -> Chart:
    """A story's chart, in the unit of the design."""
    unit, acts = unit_of(told.circuit), told.acts
    times = [acts.pedal * n / POINTS for n in range(POINTS)] + [
        acts.pedal + (acts.end - acts.pedal) * n / POINTS for n in range(POINTS + 1)]
    xs = [_x(told, time) for time in times]
    curves = tuple(_curve(label, xs, [value_in(max(p, ATMOSPHERE), unit, "pressure") for p in pressures])
                   for label, pressures in _chosen(told, times))
    moments = [(_x(told, time), done) for time, done in (
        (acts.pedal, "pedal down"), (acts.up, "up"), (acts.park, "parked"), (acts.release, "released"))]
    for event in told.events:
        if event.kind in ("warning", "knob"):
            moments.append((_x(told, event.time), event.says))
    left, per = ("min", 60.0) if acts.pedal >= _MINUTES else ("s", 1.0)
    return Chart(told.effect.fault.name, f"{told.circuit.vehicle.title}, predicted; the engine stands still",
                 f"{left} from the fault to the pedal, then s from the pedal on",
                 f"pressure, {unit} above atmosphere", curves, _warnings(told, unit), tuple(moments),
                 tuple(_ticks(told, per)), ROOM)


def _x(told: Told, time: float) -> float:
    """From 0 to the width of the left side until the pedal, then 1 more."""
    acts = told.acts
    left = 1.0 if told.events or acts.pedal > WAITS[0] else QUIET
    return left * min(1.0, time / acts.pedal) + max(0.0, (time - acts.pedal) / (acts.end - acts.pedal))


def _ticks(told: Told, per: float) -> Iterator[tuple[float, str]]:
    acts = told.acts
    for tick in ticks(0.0, acts.pedal / per):
        if tick * per < 0.9 * acts.pedal:
            yield _x(told, tick * per), f"{tick:g}"
    for tick in ticks(0.0, acts.end - acts.pedal):
        yield _x(told, acts.pedal + tick), f"{tick:g}"


def _curve(label: str, xs: Sequence[float], ys: Sequence[float]) -> Curve:
    """A curve with only the points that it needs."""
    off = STRAIGHT * max(max(ys), 1e-9)
    kept, todo = {0, len(xs) - 1}, [(0, len(xs) - 1)]
    while todo:
        first, last = todo.pop()
        slope = (ys[last] - ys[first]) / (xs[last] - xs[first])
        aside = [abs(ys[n] - ys[first] - slope * (xs[n] - xs[first])) for n in range(first + 1, last)]
        if aside and max(aside) > off:
            middle = first + 1 + aside.index(max(aside))
            kept.add(middle)
            todo += [(first, middle), (middle, last)]
    return Curve(label, [xs[n] for n in sorted(kept)], [ys[n] for n in sorted(kept)])


def _warnings(told: Told, unit: str) -> tuple[tuple[float, str], ...]:
    levels = {value_in(s.settings["on-below"], unit, "pressure") for s in told.circuit.having(Trait.WARNS_LOW)
              if s.settings["on-below"] is not None}
    return tuple((level, "low-pressure warning") for level in sorted(levels))


def _chosen(told: Told, times: Sequence[float]) -> list[tuple[str, list[float]]]:
    """The curves to draw, those alike as one; where there are too many, those that differ most from the sound ones."""
    grouped: list[tuple[str, list[str], list[float], float]] = []
    for what, name, space in _candidates(told):
        pressures = told.trace.curve(space, times)
        away = max(abs(p - q) for p, q in zip(pressures, told.sound.curve(space, times)))
        same = next((g for g in grouped if g[0] == what
                     and max(abs(p - q) for p, q in zip(g[2], pressures)) < ALIKE), None)
        if same is None:
            grouped.append((what, [name], pressures, away))
        else:
            same[1].append(name)
    keep = sorted(sorted(grouped, key=lambda g: -g[3])[:MOST], key=grouped.index)
    return [(f"{_names(names)}{what}", pressures) for what, names, pressures, _ in keep]


def _candidates(told: Told) -> Iterator[tuple[str, str, int]]:
    """What is drawn of each place behind its name, the name, and the space."""
    circuit = told.circuit
    seen: set[int] = set()
    places = [("", tank.name, circuit.store(tank)) for tank in circuit.reservoirs_for(*BRAKING, "auxiliary")]
    places += [(" line", _line(told, head), circuit.store(head)) for head in circuit.having(Trait.COUPLES_VEHICLES)]
    places += [(" brakes", wheel.settings["axle"], circuit.service_space(wheel))
               for wheel in circuit.having(Trait.SERVICE_ACTUATOR)]
    places += [(" springs' air", spring.settings["axle"], circuit.spring_space(spring))
               for spring in circuit.having(Trait.SPRING_ACTUATOR)]
    for place in places:
        if place[2] != SPACE_OUTSIDE and place[2] not in seen:
            seen.add(place[2])
            yield place


def _line(told: Told, head: Device) -> str:
    """The supply or the control line, and whose, where there are several."""
    vehicle = head.name.rpartition(".")[0]
    line = str(head.settings["line"])
    several = sum(each.settings["line"] == line for each in told.circuit.having(Trait.COUPLES_VEHICLES))
    return f"{vehicle}.{line}" if vehicle and several > 2 else line


def _names(names: Sequence[str]) -> str:
    """Names with what they share written once: `pri, sec`, `drive-1, 2`, `tractor.pri, sec`."""
    names = list(dict.fromkeys(names))
    shown = names[:1]
    for before, name in zip(names, names[1:]):
        vehicle = before[: before.rfind(".") + 1]
        own = before[len(vehicle):]
        rest = name.removeprefix(vehicle)
        stem = rest[: rest.rfind("-") + 1]
        shown.append(rest.removeprefix(stem) if name.startswith(vehicle) and stem and own.startswith(stem) else rest)
    return ", ".join(shown)
