"""The way a signal went through a circuit, found from which air went where, and what each part of it cost.

From the place that is asked for it goes back by the way that carried the most of the air that came, or that went: a side
that stands shut carries none. Where that air is a store's, or goes into the open, the signal is what opened the way.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.gas.flow import THROATS, mass_flow, tube
from circuit.model.air import opening
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device, Way
from circuit.model.trace import Trace
from circuit.sim.network import conductance_of
from circuit.sim.script import Options, Variant
from circuit.units import ATMOSPHERE

SOUND = 343.0
"""m/s in air at 20 °C: no change of pressure is quicker; not in the simulated times."""
MOMENTS = 24
"""At how many moments the flow of a way is looked at; our choice."""
CHANGES = 0.1
"""Share of the higher of a space's two pressures, above the open air, by which it has to change to carry a signal; our
choice."""
NEARLY = 0.95
"""Share of what comes to a place by which its way is told where the level asked for never comes; our choice."""
SHUT = 1e-6
"""Share of the most air that a way has to carry to be one; our choice."""
TELLS = 0.01
"""s that a feed has to cost to be told; our choice."""
WIDE = 30.0
"""How many times as much a feed lets through that is asked what it costs; our choice."""
_OPENING = Options().opening


class Feed(NamedTuple):
    """What brings a valve its air. parts: from the reservoir on, names at first and then titles. costs: s that the place
    would have its level sooner, did they resist next to nothing."""

    parts: tuple[str, ...]
    costs: float


class Leg(NamedTuple):
    """One part of the way. part: its title, name: its name. costs: s between the signal at its two ends. at: s at which
    the signal was at its end, there: the place that this is; share: of that place's own change. feed: what brings its
    air, where this part opens a way for other air than the signal's."""

    part: str
    name: str
    costs: float
    at: float
    there: str
    share: float
    feed: Feed | None = None


class Pathway(NamedTuple):
    """legs: from the pedal or the rig on. length: m of line in it. level: absolute Pa that came to the end."""

    legs: tuple[Leg, ...]
    length: float
    level: float = ATMOSPHERE

    @property
    def sound(self) -> float:
        """s that the front itself takes over the lines."""
        return self.length / SOUND

    @property
    def costs(self) -> float:
        """s of all its parts together."""
        return sum(leg.costs for leg in self.legs)


@dataclass(frozen=True)
class Change:
    """What is looked for in a run. began, settled: s between which a place makes its change. since: s from which the
    first part counts. rising: whether it rises. known: by space and ms, the way that carried the air to it."""

    circuit: Circuit
    trace: Trace
    began: float
    settled: float
    since: float
    rising: bool
    known: dict[tuple[int, int], Way | None] = field(default_factory=dict, compare=False)


def pathway(change: Change, place: int | str, level: float) -> Pathway:
    """The way by which a level came to a place, from its first cause. level: absolute Pa; place: a space, or a rig.

    A part costs the time between the same share of their own change at its two ends. Where the level never came, it is
    the way of nearly all that did; empty where nothing did.
    """
    first, last = (change.trace.pressure(place, time) for time in (change.began, change.settled))
    if (last <= first) if change.rising else (last >= first):
        return Pathway((), 0.0, level)
    at = change.trace.first_time(place, level, change.rising, change.began)
    if at is None:
        level = first + NEARLY * (last - first)
        at = change.trace.first_time(place, level, change.rising, change.began)
        assert at is not None
    share = (level - first) / (last - first)
    legs: list[Leg] = []
    if isinstance(place, str):
        place, at = _from_rig(change, place, at, share, legs)
    whole = tuple(_back(change, place, at, share, legs))
    return Pathway(whole, _length(change.circuit, whole), level)


def _from_rig(change: Change, rig: str, at: float, share: float, legs: list[Leg]) -> tuple[int, float]:
    """The space that a rig stands on, and when the signal was there."""
    head = change.circuit.by_name[rig.partition(" on ")[2]]
    space = change.circuit.store(head)
    before = arrival(change, space, share)
    before = at if before is None else before
    legs.append(Leg(rig, rig, at - before, at, rig, share))
    return space, before


def _back(change: Change, here: int, at: float, share: float, legs: list[Leg]) -> list[Leg]:
    """Further parts, from a space back to the cause of it all, in the order in which the signal took them."""
    seen = {here}
    while True:
        way = _carrying(change, here, at)
        source = None if way is None else _source(change, way, here, at, share, seen)
        before = change.since if source is None else arrival(change, source, share)
        assert before is not None
        device = _head(change.circuit, here, way) if way is None or source is None else way.device
        parts = () if way is None or source in (way.start, way.end) else _feeding(change, way, here, at)
        legs.append(Leg(device.title, device.name, at - before, at, change.circuit.space_name(here), share,
                        Feed(parts, 0.0) if parts else None))
        if source is None:
            return legs[::-1]
        here, at = source, before
        seen.add(here)


def _head(circuit: Circuit, here: int, way: Way | None) -> Device:
    """The part by which a signal comes in: a head that is fed, or what the way belongs to."""
    if way is not None and not way.device.is_line:
        return way.device
    heads = circuit.on_space(here, Trait.COUPLES_VEHICLES)
    return heads[0] if heads else circuit.by_name[circuit.ports_of[here][0][0]]


def _length(circuit: Circuit, legs: Iterable[Leg]) -> float:
    lines = [circuit.by_name[leg.name] for leg in legs if leg.name in circuit.by_name]
    return sum(float(line.settings.get("length") or 0.0) for line in lines if line.is_line)


def with_feeds(change: Change, paths: Sequence[Pathway], replay: Callable[[Sequence[Variant]], Sequence[Trace]]
               ) -> tuple[Pathway, ...]:
    """The same ways with what the feed of each valve on them costs: the run once more, with that feed very wide.

    replay: plays variants of the run that the ways were found in.
    """
    feeds = tuple(dict.fromkeys(leg.feed.parts for path in paths for leg in path.legs if leg.feed))
    if not feeds:
        return tuple(paths)
    runs = dict(zip(feeds, replay([Variant(feed[-1], conductances=dict.fromkeys(feed, WIDE)) for feed in feeds])))

    def costing(path: Pathway, leg: Leg) -> Leg:
        if leg.feed is None:
            return leg
        sooner = runs[leg.feed.parts].first_time(path.legs[-1].there, path.level, change.rising, change.began)
        titles = tuple(change.circuit.by_name[name].title for name in leg.feed.parts)
        return leg._replace(feed=Feed(titles, path.legs[-1].at - sooner if sooner is not None else 0.0))

    return tuple(path._replace(legs=tuple(costing(path, leg) for leg in path.legs)) for path in paths)


def arrival(change: Change, space: int, share: float) -> float | None:
    """When a share of a space's own change has come, s; None for one that hardly changes, or the other way."""
    trace = change.trace
    if space == SPACE_OUTSIDE or space not in trace.node:
        return None
    first, last = trace.pressure(space, change.began), trace.pressure(space, change.settled)
    high = max(abs(first - ATMOSPHERE), abs(last - ATMOSPHERE), 0.5e5)
    if (last - first if change.rising else first - last) < CHANGES * high:
        return None
    return trace.first_time(space, first + share * (last - first), change.rising, change.began)


# --- which way the air went ------------------------------------------------------------------------------------------


def _carrying(change: Change, here: int, at: float) -> Way | None:
    """The way by which most of the air came to a space, or left it where the pressure falls, by the time `at`."""
    key = here, round(1e3 * at)
    if key not in change.known:
        change.known[key] = _most(change, here, at)
    return change.known[key]


def _most(change: Change, here: int, at: float) -> Way | None:
    carried = {id(way): (carries(change, way, here, at), way) for way in change.circuit.ways_at[here]}
    most, way = max(carried.values(), key=lambda each: each[0], default=(0.0, None))
    whole = sum(abs(amount) for amount, _ in carried.values())
    return way if most > SHUT * whole and most > 0.0 else None


def carries(change: Change, way: Way, here: int, at: float) -> float:
    """kg by which a way helps a space on to its change by the time `at`: into it where it rises, else out of it."""
    return brings(change, way, here, at) if change.rising else -brings(change, way, here, at)


def brings(change: Change, way: Way, here: int, at: float) -> float:
    """kg that a way brings into a space by the time `at`."""
    if way.start == way.end:
        return 0.0
    wide = (at - change.began) / MOMENTS
    into = wide * sum(flow(change, way, change.began + (number + 0.5) * wide) for number in range(MOMENTS))
    return into if way.end == here else -into


def _feeding(change: Change, way: Way, here: int, at: float) -> tuple[str, ...]:
    """The parts by which stored air comes to a valve that lets it into a space, by name, from the reservoir on."""
    here = way.start if way.end == here else way.end
    found: list[str] = []
    seen = {here, SPACE_OUTSIDE}
    while change.rising and here != SPACE_OUTSIDE and not change.circuit.on_space(here, Trait.STORES_AIR):
        ways = [(brings(change, each, here, at), each) for each in change.circuit.ways_at[here]]
        most, through = max(ways, key=lambda each: each[0], default=(0.0, None))
        if through is None or most <= 0.0:
            break
        here = through.start if through.end == here else through.end
        if here in seen:
            break
        seen.add(here)
        found += [through.device.name] if through.device is not way.device else []
    return tuple(reversed(found))


def flow(change: Change, way: Way, time: float) -> float:
    """kg/s from the start of a way to its end at a time, as far open as it then stands."""
    device, passage = way.device, way.passage
    start, end = _pressure(change, way.start, time), _pressure(change, way.end, time)
    if start < end and not passage.both_ways:
        return 0.0
    open_by = min(1.0, max(0.0, _opens(change, way, time, {}) / _OPENING))
    if device.is_line and not passage.conductance:
        bore, length = device.settings["bore"], device.settings["length"]
        conductance, ratio = tube(bore, float(device.settings.get("resisting-length") or length))
        subsonic = 0.5
    else:
        throat = THROATS[passage.throat]
        conductance, ratio, subsonic = conductance_of(device, passage.conductance), throat.ratio, throat.subsonic
    return open_by * mass_flow(conductance, ratio, start, end, subsonic=subsonic)


def _pressure(change: Change, space: int, time: float) -> float:
    return change.trace.pressure(space, time) if space in change.trace.node else change.trace.atmosphere


def _opens(change: Change, way: Way, time: float, instead: dict[int, float]) -> float:
    """Pa by which a way is pushed open at a time. instead: absolute Pa of spaces taken in place of what they had."""
    device = way.device
    level = {space: instead.get(space, _pressure(change, space, time))
             for _, space in change.circuit.spaces_of.get(device.name, ())}
    state = {variable: _state(change.trace, device, variable, time) for variable in device.kind.rest}
    start, end = (level.get(space, _pressure(change, space, time)) for space in (way.start, way.end))
    return opening(change.circuit, way, state, start, end, level)


def _state(trace: Trace, device: Device, variable: str, time: float) -> float:
    """A state variable at a time; what a foot works moves evenly between its changes."""
    history = trace.states.get((device.name, variable))
    if history is None:
        return device.kind.state("driving")[variable]
    after = next((each for each in history if each[0] > time), None)
    if after is None or variable not in device.kind.when.get("braking", {}):
        return trace.state(device.name, variable, time)
    before = history[max(history.index(after) - 1, 0)]
    return before[1] + (after[1] - before[1]) * (time - before[0]) / max(after[0] - before[0], 1e-9)


# --- what the signal was ---------------------------------------------------------------------------------------------


def _source(change: Change, way: Way, here: int, at: float, share: float, seen: set[int]) -> int | None:
    """The space from which the signal came through a way: its other end, or what works it; None where a foot did."""
    other = way.start if way.end == here else way.end
    if other not in seen and arrival(change, other, share) is not None:
        return other
    spaces = {space for _, space in change.circuit.spaces_of.get(way.device.name, ())} - {here, other, SPACE_OUTSIDE}
    works = {space: time for space in spaces - seen if (time := arrival(change, space, share)) is not None
             and _works(change, way, space)}
    if not works:
        return None
    alone = {space: works[space] for space in works if _spoils(change, way, at, {space})}
    # each of several that are needed has to come; of several that do alike the first is enough
    return max(alone, key=lambda space: (alone[space], space)) if alone else min(works, key=lambda space: (works[space], space))


def _works(change: Change, way: Way, space: int) -> bool:
    """Whether a way opens by what is in a space."""
    time = change.settled
    there = _pressure(change, space, time)
    now = {each: _opens(change, way, time, {space: pressure}) for each, pressure in
           (("low", ATMOSPHERE), ("high", there + 8e5))}
    return now["low"] != now["high"]


def _spoils(change: Change, way: Way, at: float, spaces: set[int]) -> bool:
    """Whether a way would be shut for most of the time, had some spaces kept what they had at the beginning."""
    before = {space: _pressure(change, space, change.began) for space in spaces}
    times = [change.began + (number + 0.5) * (at - change.began) / MOMENTS for number in range(MOMENTS)]
    opened = [time for time in times if _opens(change, way, time, {}) > 0]
    return bool(opened) and sum(_opens(change, way, time, before) > 0 for time in opened) < 0.5 * len(opened)
