"""The response in words: application and release at every place, worst first, and where the time goes."""

from collections.abc import Iterator
from typing import Any

from circuit.gas.chamber import TAKES_UP
from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.chart import Chart, bar, curve
from circuit.report.studies.words import clauses_of, decides, drawn, limits, names, of_range, pressure, seconds, spread
from circuit.report.table import Table
from circuit.report.words import listed
from circuit.studies.bite import order
from circuit.studies.pathway import NEARLY, TELLS, Feed
from circuit.studies.application import HOLDS
from circuit.studies.respond import Response, Timed, respond, worst_first, worth_a_way
from circuit.units import ATMOSPHERE

_TIMES = ("done", "how", "place", "time s", "5 % s", "95 % s", "limit s", "margin s", "outcome", "asked by",
          "measured s")
_BITES = ("vehicle", "first s", "last s", "spread s", "behind the first vehicle s")
_WAYS = ("done", "to", "part", "costs ms", "feed of that part", "feed costs ms")
KEY, RECORD = "respond", Response


def account(circuit: Circuit, sets: tuple[str, ...] = ()) -> Account:
    found = respond(circuit, sets)
    held = () if found.balance is None else (found.balance,)
    every = (*found.applied, *found.released)
    tables = (_times(found), *_bites(found), *_decides(found), _ways(found),
              *limits("control-line", "Control line, input against output", held))
    return Account(KEY, "Response of the service brakes", circuit, found, tables,
                   clauses_of(*(timed.clause for timed in every), *held), any(timed.limit is not None for timed in every),
                   found.assumed, found.notes, tuple(zip(("application", "release"), found.traces)),
                   lambda: _charts(found), found.is_met)


def _done(found: Response) -> Iterator[tuple[str, str, tuple[Timed, ...]]]:
    """What is done, how, and the times of it."""
    target = f"to {pressure(found.target)}" if found.target is not None else f"to {found.share * 100:.0f} % of the final pressure"
    hand = "fed by the test rig" if found.circuit.is_towed else f"pedal down in {found.foot:g} s"
    yield "apply", f"{target}, from {pressure(found.start)} in the reservoirs, {hand}", found.applied
    if found.lets_go_from is not None and found.lets_go_to is not None:
        how = f"to {pressure(found.lets_go_to)}, from {pressure(found.lets_go_from)} in the lowest chamber"
        yield "release", how, found.released


def _times(found: Response) -> Table:
    rows, marks = [], []
    for done, how, times in _done(found):
        for timed in times:
            met = of_range(timed.share, timed.time.runs, timed.time.value is not None)
            rows.append((done, how, timed.name, *spread(timed.time), seconds(timed.limit), seconds(timed.margin), met,
                         timed.clause.cited if timed.clause else "", ""))
            marks.append((timed.name,) if timed.name in found.circuit.by_name else ())
    notes = [f"{drawn(each.time)} Worst first; a margin below 0 is too slow." for each in (*found.applied, *found.released)[:1]]
    if not found.complete:
        notes.append("A run fell short of the accuracy asked for: nothing here is to be relied on.")
    return Table("response", "Application and release", _TIMES, tuple(rows), tuple(notes), {"measured s"}, {*_TIMES[3:8]},
                 {"place", "outcome", "asked by"}, bool(found.assumed), tuple(marks), ("done", "how"), "place")


def _bites(found: Response) -> tuple[Table, ...]:
    """Which vehicle of a combination brakes first, and how far the others are behind."""
    if not found.bites:
        return ()
    rows = tuple((each.vehicle, *(seconds(time) for time in (each.first, each.last, each.spread, each.lag)))
                 for each in found.bites)
    first, *others = order(found.bites)
    notes = (f"In this order: {listed([first, *others])}. A brake bites when its shoes touch: its chamber then holds about "
             f"{pressure(ATMOSPHERE + TAKES_UP)}. With every value as assumed, air alone: how the vehicles push and pull on "
             "each other, no pressure tells.",)
    return (Table("bite", "When the vehicles begin to brake", _BITES, rows, notes, numbers={*_BITES[1:]},
                  assumed=bool(found.assumed)),)


def _decides(found: Response) -> tuple[Table, ...]:
    """For the same places whose way is told."""
    told = [(done, names(each.name for each in group), group[0].time) for done, _, times in _done(found)
            for group in alike(times) if group[0] in worth_a_way(times)]
    return decides("decides", "What decides it", told, bool(found.assumed))


def _ways(found: Response) -> Table:
    """What each part costs on the way to the slowest place, and to every place that is late; alike places together."""
    rows: list[tuple[str, ...]] = []
    notes = ["With every value as assumed, from the pedal or the rig on. A part takes the time between the same share of their "
             "own change at its two ends. What the feed of a valve costs is of the whole: how much sooner the place would have "
             "its pressure, did that feed resist next to nothing."]
    for done, _, times in _done(found):
        told = worth_a_way(times)
        for group in alike(times):
            if group[0] in told:
                first, to = group[0], names(timed.name for timed in group)
                rows += [(done, to, leg.part, f"{round(1e3 * leg.costs)}", *_feed(leg.feed)) for leg in first.path.legs]
                notes += _front(done, first)
    return Table("ways", "Where the time goes", _WAYS, tuple(rows), tuple(notes), numbers={"costs ms", "feed costs ms"},
                 wide={"part", "feed of that part"}, bands=("done", "to"), assumed=bool(found.assumed))


def alike(rows: tuple[Timed, ...]) -> list[list[Timed]]:
    """Neighbours with the same times as printed and the same limit: left and right."""
    groups: list[list[Timed]] = []
    for timed in rows:
        last = groups[-1][0] if groups else None
        if last is not None and spread(last.time) == spread(timed.time) and last.limit == timed.limit:
            groups[-1].append(timed)
        else:
            groups.append([timed])
    return groups


def _feed(feed: Feed | None) -> tuple[str, str]:
    if feed is None or feed.costs < TELLS:
        return "", ""
    return listed(feed.parts), f"{round(1e3 * feed.costs)}"


def _front(done: str, timed: Timed) -> Iterator[str]:
    """What is in none of the times of a way, and what is told of a place that is never there."""
    if timed.time.value is None:
        yield f"{timed.name} never gets there: its way is told to {100 * NEARLY:.0f} % of what comes."
    if timed.path.length:
        yield (f"{done.capitalize()}: about {1e3 * timed.path.sound:.0f} ms more for the front itself over "
               f"{timed.path.length:.1f} m of line to {timed.name}, which is in none of these times.")


def _charts(found: Response) -> Iterator[tuple[str, Chart]]:
    yield "application", _chart(found, False)
    if found.released:
        yield "release", _chart(found, True)


def _chart(found: Response, release: bool) -> Chart:
    """The worst of each kind of place."""
    rows = found.released if release else found.applied
    trace = found.traces[-1] if release else found.traces[0]
    begin = HOLDS if release else 0.0
    shown: dict[str, Any] = {}
    for timed in worst_first(list(rows)):
        shown.setdefault("-".join(f"{leg.costs:.3f}" for leg in timed.path.legs), timed)
    slowest = max((t.time.value for t in rows if t.time.value is not None), default=1.0)
    places: list[tuple[str | int, str]] = []
    for timed in shown.values():
        device = found.circuit.by_name.get(timed.name)
        place: str | int = found.circuit.service_space(device) if device is not None else timed.name.split(",")[0]
        if (isinstance(place, int) or place in trace.rigs) and place not in [each for each, _ in places]:
            places.append((place, timed.name.split(",")[0]))
    levels = [(bar(found.target), f"{bar(found.target) / 0.0689476:.0f} psi")] if found.target and not release else []
    if release:
        levels = [(bar(found.lets_go_to), f"{bar(found.lets_go_to) / 0.0689476:.0f} psi")] if found.lets_go_to else []
    marked = tuple(dict.fromkeys((timed.limit, f"limit {timed.limit:.2f} s") for timed in rows if timed.limit))
    end = begin + max(2.5 * slowest, *(1.1 * limit for limit, _ in marked), 0.1)
    verb = "Release" if release else "Application"
    return Chart(f"{verb}: {found.circuit.vehicle.title}", "predicted; pressure in the brake, from the first movement",
                 "time, s", "pressure, bar above atmosphere",
                 tuple(curve(trace, place, name, begin, end) for place, name in places), tuple(levels), marked)
