"""Charging in words: the times that are asked for, every reservoir from empty, the compressor at work."""

from collections.abc import Iterator

from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.chart import Chart, bar, curve
from circuit.report.studies.words import clauses_of, decides, drawn, of_range, outcome, pressure, seconds, spread
from circuit.report.table import Table
from circuit.report.words import clock, count
from circuit.studies.band import SPREAD
from circuit.studies.charge import Charge, Filled, charge
from circuit.studies.holding import Held
from circuit.studies.knobs import NOTHING, named

_ASKED = ("what", "time s", "5 % s", "95 % s", "limit s", "to spare s", "outcome", "asked by", "measured s")
_DUTY = ("what", "predicted", "measured")
KEY, RECORD = "charge", Charge


def account(circuit: Circuit, sets: tuple[str, ...] = ()) -> Account:
    found = charge(circuit, sets)
    limits = (found.limit, *found.limits, *(each.figure.limit for each in found.held))
    tables = (_asked(found), *_decides(found), _from_empty(found), *([_duty(found)] if found.line is None else []))
    return Account(KEY, "Charging", circuit, found, tables, clauses_of(found.clause, found.filling_clause, *found.held),
                   any(limit is not None for limit in limits), found.assumed, found.notes, (("from empty", found.trace),),
                   lambda: (("", _chart(found)),), found.is_met)


def _asked(found: Charge) -> Table:
    """Every time that a clause limits, and that from one pressure to another."""
    rows: list[tuple[str, ...]] = []
    if found.build is not None:
        rows.append((f"{found.between} in every supply and service reservoir", *spread(found.build), seconds(found.limit),
                     seconds(found.margin, found.limit), _kept(found), found.clause.cited if found.clause else "", ""))
    if (slowest := found.slowest) and found.filling_clause is not None:
        for share, time, limit in zip((_part(found), "100 %"), (slowest.share, slowest.whole), found.limits):
            if limit is not None:
                rows.append(_limited(f"{share} in {slowest.name}, the slowest brake reservoir, from empty", time, limit,
                                     found.filling_clause.cited))
    rows += [_of(each) for each in found.held]
    notes = (f"The first time: {drawn(found.build)}",) if found.build else ()
    return Table("build-up", "Times to fill", _ASKED, tuple(rows), notes if rows else (), {"measured s"}, {*_ASKED[1:6]},
                 {"what", "outcome", "asked by"}, assumed=bool(rows and found.assumed))


def _kept(found: Charge) -> str:
    assert found.build is not None
    return of_range(found.kept_by, found.build.runs, found.build.value is not None)


def _decides(found: Charge) -> tuple[Table, ...]:
    if found.build is None:
        return ()
    told = [("fill", found.between, found.build)]
    return decides("build-up-decides", "What decides the time to fill", told, bool(found.assumed))


def _limited(what: str, time: float | None, limit: float, cited: str, advisory: bool = False) -> tuple[str, ...]:
    spare = None if time is None else limit - time
    return (what, seconds(time), "", "", seconds(limit), seconds(spare, limit),
            outcome(spare is not None and spare >= 0, reached=time is not None, advisory=advisory), cited, "")


def _of(held: Held) -> tuple[str, ...]:
    time = held.figure.found if held.reached else None
    return _limited(held.where, time, held.figure.limit, held.clause.cited, held.clause.advisory)


def _from_empty(found: Charge) -> Table:
    rows = tuple((tank.name, tank.role, seconds(tank.share), seconds(tank.whole), _ends(tank), "") for tank in found.filled)
    fed = "the governor's cut-in" if found.line is None else f"fed by a supply line held at {pressure(found.line)}"
    part, build = _part(found), found.build
    notes = [f"To {part} and all of {pressure(found.rated)}, {fed}, with every value as assumed."]
    if build is not None and build.quick and build.slow and build.typical:
        notes.append(f"In nine of ten vehicles about {build.quick / build.typical:.2f} to {build.slow / build.typical:.2f} times "
                     f"as long, as the time to fill from {found.between} has it.")
    if found.line is not None:
        notes.append(f"Each about {1 / (1 + SPREAD):.2f} to {1 / (1 - SPREAD):.2f} times as long, as valves and lines let "
                     f"{100 * SPREAD:.0f} % more and less through.")
    notes += [f"At {clock(each.time)}, with that pressure in every brake reservoir that has filled, the driver pushes in "
              f"{named(found.circuit, each)}: out until then." for each in found.pushed]
    columns = ("reservoir", "role", f"{part} s", "100 % s", "comes to", "measured s")
    return Table("filling", "From empty", columns, rows, tuple(notes), {"measured s"}, {f"{part} s", "100 % s"},
                 assumed=bool(found.assumed))


def _part(found: Charge) -> str:
    """The share of the pressure that is looked at on the way."""
    return f"{100 * found.part:.0f} %"


def _ends(tank: Filled) -> str:
    """What becomes of a reservoir that never has the pressure."""
    if tank.whole is not None:
        return ""
    return "stays empty: nothing feeds it" if tank.ends < NOTHING else pressure(tank.ends)


def _duty(found: Charge) -> Table:
    """The governor's round, and how soon the reservoirs are full again."""
    rows, notes = [*_round(found)], []
    if found.cycle is not None:
        notes.append(f"A round with one full application a minute ({60e3 * found.cycle.by_braking:.0f} g of air) and reservoirs "
                     f"that lose 2 psi a minute ({60e3 * found.cycle.by_leak:.0f} g).")
    for each in found.recoveries:
        after = f"after {count(each.applications, 'full application')}, engine running"
        again = ("the compressor does not start" if each.again == 0 else "not full again" if each.again is None else
                 f"full again {clock(each.again)} after the last release")
        rows += [(f"{after}: lowest service reservoir", pressure(each.lowest), ""), (f"{after}: then", again, "")]
    return Table("duty", "The compressor at work", _DUTY, tuple(rows), tuple(notes), {"measured"}, wide={"what"},
                 assumed=bool(found.assumed))


def _round(found: Charge) -> Iterator[tuple[str, ...]]:
    cycle = found.cycle
    if cycle is None:
        yield ("the governor's round", "the governor never stops the compressor in this run", "")
        return
    yield ("pumping, from cut-in to cut-out", clock(cycle.pumping), "")
    yield ("resting, until cut-in again", clock(cycle.resting) if cycle.resting else "it never catches up", "")
    yield ("share of the time that it works", f"{cycle.duty * 100:.0f} %", "")


def _chart(found: Charge) -> Chart:
    """Every reservoir from empty, with what the driver does on the way and the times that are allowed."""
    trace = found.trace
    ends = max([tank.whole for tank in found.filled if tank.whole] or [trace.end]) * 1.25
    moments = [(each.time, f"in: {named(found.circuit, each)}") for each in found.pushed]
    moments += [(limit, f"limit for {share}") for limit, share in zip(found.limits, (_part(found), "100 %")) if limit]
    under = ("compressors at their stated speed" if found.line is None else f"supply line held at {bar(found.line):.1f} bar")
    full = "governor's cut-in" if found.line is None else "100 %"
    return Chart(f"Charging from empty: {found.circuit.vehicle.title}", f"predicted; {under}", "time, s",
                 "pressure, bar above atmosphere",
                 tuple(curve(trace, found.circuit.store(found.circuit.by_name[tank.name]), tank.name, 0.0, ends)
                       for tank in found.filled),
                 ((bar(found.rated), full), (found.part * bar(found.rated), _part(found))), tuple(moments))
