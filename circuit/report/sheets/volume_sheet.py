"""The volume sheet as tables: chambers, reservoirs, what they are to each other, and what one application takes."""

from circuit.clauses import Clause
from circuit.gas.chamber import push
from circuit.judging.rule import Result
from circuit.judging.storage import draws, spring_draws
from circuit.judging.volumes import counted_volume, counts, shares
from circuit.model.circuit import Device
from circuit.report.table import Table, said_once
from circuit.units import ATMOSPHERE, gauge, shown, to_si, value_in
from circuit.verdict.judge import Verdict

VOLUME_RULE = "reservoirs-too-small"
FORCE_AT = to_si("90 psi", "pressure")
_APPLICATIONS = (1, 5, 8)


def sheet(judged: Verdict, pressure: float = FORCE_AT) -> tuple[Table, ...]:
    """The whole sheet: what the command prints and the papers hold. pressure: absolute Pa for forces and free air.

    A combination has the ratios of each vehicle by itself too, since that is what rules ask a ratio of.
    """
    own = (ratios(verdict)._replace(key=f"ratios-{name}", title=f"Volume sheet: ratios, {name} by itself")
           for name, verdict in judged.vehicles)
    found = (chambers(judged, pressure), reservoirs(judged), ratios(judged), *own, fills(judged, pressure))
    return said_once(table for table in found if table.rows)


def chambers(judged: Verdict, pressure: float = FORCE_AT) -> Table:
    """What every chamber counts with, and why."""
    rows = []
    for chamber in judged.evidence.chambers:
        settings = chamber.settings
        force = push(gauge(pressure), settings["area"])
        rows.append((
            chamber.name, str(settings["axle"]), str(settings["side"]), str(settings["type"]),
            f"{value_in(settings['stroke'], 'in', 'length'):.2f}", *both_volumes(counted_volume(chamber)), why(chamber),
            f"{value_in(force, 'lbf', 'force'):.0f}", f"{value_in(force, 'kN', 'force'):.1f}",
        ))
    total = sum(counted_volume(chamber) for chamber in judged.evidence.chambers)
    estimated = any(j.result is Result.UNDECIDED and j.rule.name == VOLUME_RULE for j in judged.judgements)
    notes = [f"All chambers together: {both_words(total)}.",
             f"Push is pressure times area at {shown(pressure, 'pressure')}, predicted, without the return spring."]
    if estimated:
        notes.append("Some chambers are not in the rated-volume table at their stroke: their volume is estimated.")
    return Table(
        "chambers", "Volume sheet: brake chambers",
        ("chamber", "axle", "side", "type", "stroke in", "counts in3", "counts L", "why", "push lbf", "push kN"),
        tuple(rows), tuple(notes), numbers=frozenset({"stroke in", "counts in3", "counts L", "push lbf", "push kN"}),
        wide=frozenset({"why"}), assumed=estimated, marks=tuple((row[0],) for row in rows),
    )


def reservoirs(judged: Verdict) -> Table:
    """Every reservoir, and whether its air counts as brake volume."""
    rows = []
    for tank in judged.circuit.reservoirs:
        does, reason = counts(judged.evidence, tank)
        rows.append((tank.name, str(tank.settings["role"]), *both_volumes(float(tank.settings["volume"])),
                     "yes" if does else "no", reason))
    return Table(
        "reservoirs", "Volume sheet: reservoirs",
        ("reservoir", "role", "volume in3", "volume L", "counts", "why"), tuple(rows),
        numbers=frozenset({"volume in3", "volume L"}), wide=frozenset({"why"}), marks=tuple((row[0],) for row in rows),
    )


def ratios(judged: Verdict) -> Table:
    """Reservoir over chamber volume, of the vehicle and of each store."""
    asked = asked_by(judged)
    rows, marks = [], []
    for share in shares(judged.evidence):
        held_to = asked is not None and (share.rule_total is True or judged.circuit.is_towed)
        ratio = float(asked.values["ratio"]) if held_to and asked is not None else None
        needed = ratio * share.chamber_volume if ratio else None
        k = share.ratio
        rows.append((
            share.name, *both_volumes(share.tank_volume), *both_volumes(share.chamber_volume), f"{k:.2f}",
            f"{ratio:g}" if ratio else "", *(both_volumes(needed) if needed is not None else ("", "")),
            *(both_volumes(share.tank_volume - needed) if needed is not None else ("", "")),
            *(f"{100 * (k / (k + 1)) ** n:.0f}" for n in _APPLICATIONS),
        ))
        marks.append(tuple(device.name for device in (*share.tanks, *share.chambers)))
    notes = [
        "Left after full applications: predicted, isothermal, no refilling, each chamber filled to its full counted volume "
        "and vented; a real stroke is shorter, so more is left. Lines are not counted.",
    ]
    if asked is not None:
        notes.append(f"Asked by {asked.cited}: {asked.asks}")
    figures = ("reservoirs in3", "reservoirs L", "chambers in3", "chambers L", "ratio", "asked", "needed in3", "needed L",
               "margin in3", "margin L", *(f"left % after {n}" for n in _APPLICATIONS))
    return Table("ratios", "Volume sheet: ratios", ("serves", *figures), tuple(rows), tuple(notes),
                 numbers=frozenset(figures), marks=tuple(marks))


def fills(judged: Verdict, pressure: float = FORCE_AT) -> Table:
    """What one application, and one lift of the springs, fills and takes in free air."""
    rows = []
    for what, found in (("one application", draws(judged.evidence)),
                        ("lifting the springs", spring_draws(judged.evidence))):
        for draw in found:
            idle, full = draw.taken(ATMOSPHERE), draw.taken(pressure)
            free = (pressure * full - ATMOSPHERE * idle) / ATMOSPHERE
            rows.append((draw.name, what, *both_volumes(idle), *both_volumes(full), *both_volumes(free)))
    figures = tuple(f"{word} {unit}" for word in ("at rest", "filled", "free air") for unit in ("in3", "L"))
    return Table("fills", "Volume sheet: air that is filled in", ("filled by", "for", *figures), tuple(rows),
                 (f"At {shown(pressure, 'pressure')}, chambers at their working stroke, lines and valves on the way included; "
                  "predicted.",), numbers=frozenset(figures))


def asked_by(judged: Verdict) -> Clause | None:
    """The clause that asks for a ratio."""
    return next((j.clause for j in judged.judgements if j.rule.name == VOLUME_RULE), None)


def both_volumes(value: float) -> tuple[str, str]:
    """in3 and L as bare numbers."""
    return f"{value_in(value, 'in3', 'volume'):.1f}", f"{value_in(value, 'L', 'volume'):.2f}"


def both_words(value: float) -> str:
    """in3 and L in words."""
    inches, litres = both_volumes(value)
    return f"{inches} in3 ({litres} L)"


def why(chamber: Device) -> str:
    """Where a chamber's counted volume is from."""
    settings = chamber.settings
    if settings["rated-volume"] is not None and settings["holds"] is not None:
        return "lower of table and published"
    if settings["rated-volume"] is not None:
        return "rated-volume table"
    if settings["holds"] is not None:
        return "published by its maker, declared"
    return "estimated: type and stroke are not in the table"
