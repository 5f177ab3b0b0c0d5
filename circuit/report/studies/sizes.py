"""The volume sheet in words: what the command prints, the papers and the page hold."""

from circuit.report.account import Account
from circuit.report.table import Table, said_once
from circuit.studies.sizes import APPLICATIONS, FORCE_AT, Ratio, Sizes, sizes
from circuit.units import shown, value_in
from circuit.verdict.judge import Verdict

_CHAMBERS = ("chamber", "axle", "side", "type", "stroke in", "counts in3", "counts L", "why", "push lbf", "push kN")
_TANKS = ("reservoir", "role", "volume in3", "volume L", "counts", "why")
_RATIOS = ("serves", "reservoirs in3", "reservoirs L", "chambers in3", "chambers L", "ratio", "asked", "needed in3", "needed L",
           "margin in3", "margin L", *(f"left % after {number}" for number in APPLICATIONS))
_FILLS = ("filled by", "for", *(f"{word} {unit}" for word in ("at rest", "filled", "free air") for unit in ("in3", "L")))
KEY, RECORD = "sizes", Sizes


def account(judged: Verdict, pressure: float = FORCE_AT) -> Account:
    """pressure: absolute Pa for forces and free air."""
    found = _found(judged, pressure)
    own = (_ratios(each, f"ratios-{name}", f"Ratios, {name} by itself") for name, each in found.vehicles)
    tables = (_chambers(found), _tanks(found), _ratios(found, "ratios", "Ratios"), *own, _fills(found))
    return Account(KEY, "Volume sheet", judged.circuit, found, said_once(table for table in tables if table.rows),
                   predicted=False)


def _found(judged: Verdict, pressure: float) -> Sizes:
    vehicles = tuple((name, _found(own, pressure)) for name, own in judged.vehicles)
    return sizes(judged.evidence, tuple(each.name for each in judged.sets), pressure, vehicles)


def _chambers(found: Sizes) -> Table:
    """What every chamber counts with, and why."""
    rows = tuple((each.name, each.axle, each.side, each.type, f"{value_in(each.stroke, 'in', 'length'):.2f}",
                  *both_volumes(each.counts), each.why, f"{value_in(each.push, 'lbf', 'force'):.0f}",
                  f"{value_in(each.push, 'kN', 'force'):.1f}") for each in found.chambers)
    inches, litres = both_volumes(sum(each.counts for each in found.chambers))
    notes = [f"All chambers together: {inches} in3 ({litres} L).",
             f"Push is pressure times area at {shown(found.pressure, 'pressure')}, predicted, without the return spring."]
    if found.estimated:
        notes.append("Some chambers are not in the rated-volume table at their stroke: their volume is estimated.")
    return Table("chambers", "Brake chambers", _CHAMBERS, rows, tuple(notes), frozenset(), {*_CHAMBERS[4:7], *_CHAMBERS[8:]},
                 {"why"}, found.estimated, tuple((row[0],) for row in rows))


def _tanks(found: Sizes) -> Table:
    """Every reservoir, and whether its air counts as brake volume."""
    rows = tuple((each.name, each.role, *both_volumes(each.volume), "yes" if each.counts else "no", each.why)
                 for each in found.reservoirs)
    return Table("reservoirs", "Reservoirs", _TANKS, rows, numbers={*_TANKS[2:4]}, wide={"why"},
                 marks=tuple((row[0],) for row in rows))


def _ratios(found: Sizes, key: str, title: str) -> Table:
    """Reservoir over chamber volume, of the vehicle and of each store."""
    notes = ["Left after full applications: counted from these volumes alone, isothermal, no refilling, each chamber filled to "
             "its full counted volume and vented. airwright reserve plays it, with strokes, lines and all that draws on the air."]
    if found.clause is not None:
        notes.append(f"Asked by {found.clause.cited}: {found.clause.asks}")
    return Table(key, title, _RATIOS, tuple(map(_ratio, found.ratios)), tuple(notes), numbers={*_RATIOS[1:]},
                 marks=tuple(each.parts for each in found.ratios))


def _ratio(each: Ratio) -> tuple[str, ...]:
    left = tuple(f"{100 * share:.0f}" for share in each.left) or ("",) * len(APPLICATIONS)
    return (each.serves, *both_volumes(each.reservoirs), *both_volumes(each.chambers),
            "" if each.ratio is None else f"{each.ratio:.2f}", f"{each.asked:g}" if each.asked else "",
            *both_volumes(each.needed), *both_volumes(each.margin), *left)


def _fills(found: Sizes) -> Table:
    """What one application, and one lift of the springs, fills and takes in free air."""
    rows = tuple((each.by, each.what, *both_volumes(each.at_rest), *both_volumes(each.filled), *both_volumes(each.free_air))
                 for each in found.fills)
    return Table("fills", "Air that is filled in", _FILLS, rows,
                 (f"At {shown(found.pressure, 'pressure')}, chambers at their working stroke, lines and valves on the way "
                  "included; predicted.",), numbers={*_FILLS[2:]})


def both_volumes(value: float | None) -> tuple[str, str]:
    """in3 and L as bare numbers; nothing of nothing."""
    return ("", "") if value is None else (f"{value_in(value, 'in3', 'volume'):.1f}", f"{value_in(value, 'L', 'volume'):.2f}")
