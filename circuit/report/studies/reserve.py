"""The reserve in words: what is left after each application, beside the count by volumes, and what happens on the way."""

from itertools import groupby

from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.chart import Chart, Curve, bar
from circuit.report.studies.words import clauses_of, limits, pressure
from circuit.report.table import Table
from circuit.studies.reserve import COUNTED, HALF_TURN, Reserve, StoreLeft, reserve

_SHOWN = (1, 2, 3, 4, 5, 6, COUNTED, COUNTED + 1, 12)
_LEFT = ("store", "after", "left in the reservoir", "left %", "by volumes alone", "given to the chambers", "of the first %",
         "measured")
_HALF = ("store", "ratio", "to half", "to half, at least", "to half, at most", "to half by volumes", "measured")
KEY, RECORD = "reserve", Reserve


def account(circuit: Circuit, sets: tuple[str, ...] = ()) -> Account:
    found = reserve(circuit, sets)
    tables = (_left(found), _to_half(found), *limits("reserve-limits", "What is asked of the reserve", found.held),
              *([_on_the_way(found)] if found.happened else []))
    return Account(KEY, "Reserve", circuit, found, tables, clauses_of(*found.held), bool(found.held), found.assumed,
                   found.notes, (("applications", found.trace),), lambda: (("", _chart(found)),), found.is_met)


def _left(found: Reserve) -> Table:
    rows = tuple(
        (store.name, str(number), pressure(store.left[number]), f"{100 * store.share_left(number):.0f}",
         pressure(store.counted[number]), pressure(store.given[number - 1]), f"{100 * store.share_given(number):.0f}", "")
        for store in found.stores for number in _SHOWN)
    asked = f", {pressure(found.demand)} asked for" if found.demand else ""
    return Table("applications", "Full applications with the engine off", _LEFT, rows,
                 (f"From {pressure(found.start)}{asked}; shares of gauge pressure. The median of "
                  f"{len(found.stores[0].every)} plausible vehicles: more take long to play.",), {"measured"},
                 {"after", "left %", "of the first %"}, bands=("store",), assumed=bool(found.assumed))


def _to_half(found: Reserve) -> Table:
    """How many applications leave half the pressure or more."""
    rows = tuple((store.name, f"{store.ratio:.2f}", *_counts(found, store), str(store.counted_halves), "")
                 for store in found.stores)
    notes = ["How many leave half the pressure or more: in the median of the vehicles that were drawn, where 5 and 95 % of them "
             "have it, and by volumes alone. Ratio: reservoirs over the chambers that they serve by themselves."]
    if found.stops_at is not None:
        notes.append(f"From application {found.stops_at} on the brakes stay on by themselves and take no more.")
    return Table("to-half", "How long the air lasts", _HALF, rows, tuple(notes), {"measured"}, {*_HALF[1:6]},
                 assumed=bool(found.assumed))


def _counts(found: Reserve, store: StoreLeft) -> tuple[str, str, str]:
    """How many, with the band; nothing where the brakes stay on before that."""
    if found.stops_at is not None and found.stops_at <= store.halves:
        return "", "", ""
    least, most = store.halves_band
    return str(store.halves), str(least), str(most)


def _on_the_way(found: Reserve) -> Table:
    rows = tuple((str(after), "; ".join(dict.fromkeys(each.what for each in same)), "")
                 for after, same in groupby(found.happened, lambda each: each.after))
    return Table("on-the-way", "On the way", ("in application", "what happens", "seen in application"), rows,
                 blank={"seen in application"}, wide={"what happens"}, assumed=bool(found.assumed))


def _chart(found: Reserve) -> Chart:
    curves = []
    for store in found.stores:
        xs = list(range(len(store.left)))
        curves.append(Curve(store.name, xs, [bar(p) for p in store.left]))
        curves.append(Curve(f"{store.name}, by volumes", xs, [bar(p) for p in store.counted]))
    first = found.stores[0].left[0]
    return Chart(f"Reserve: {found.circuit.vehicle.title}",
                 f"predicted; left after each full application of {2 * HALF_TURN:g} s, engine off", "applications made",
                 "pressure, bar above atmosphere", tuple(curves), ((0.5 * bar(first), "half"),), ((8.0, "eight"),))
