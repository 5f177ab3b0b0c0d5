"""The volume sheet: what every chamber and reservoir counts, why, and what the ratios are."""

from circuit.clauses import Clause
from circuit.gas.chamber import push
from circuit.report.sheets.volume import VOLUME_RULE, asked_by, why
from circuit.report.words import CAUTION
from circuit.rules.judge import Verdict
from circuit.rules.rule import Result
from circuit.rules.storage import draws, spring_draws
from circuit.rules.volumes import counted_volume, counts, shares
from circuit.units import ATMOSPHERE, gauge, value_in


def sizes(judged: Verdict, pressure: float) -> str:
    """The sheet of one design. pressure: absolute Pa at which the push-rod force is stated."""
    circuit, evidence = judged.circuit, judged.evidence
    lines = [f"Volume sheet: {circuit.vehicle.title}  ({circuit.vehicle.vehicle_class}, {circuit.source.name})", ""]
    at = f"push at {value_in(pressure, 'psi', 'pressure'):.0f} psi"
    rows = [("chamber", "axle", "side", "type", "stroke", "counts", at, "why")]
    for chamber in evidence.chambers:
        settings = chamber.settings
        rows.append((
            chamber.name, settings["axle"], settings["side"], settings["type"],
            f"{value_in(settings['stroke'], 'in', 'length'):.2f} in",
            _volume(counted_volume(chamber)),
            _force(push(gauge(pressure), settings["area"])),
            why(chamber),
        ))
    lines += _table(rows)
    total = sum(counted_volume(chamber) for chamber in evidence.chambers)
    lines += [f"all chambers: {_volume(total)}", ""]
    rows = [("reservoir", "role", "volume", "counts", "why")]
    for tank in circuit.reservoirs:
        does, reason = counts(evidence, tank)
        rows.append((tank.name, tank.settings["role"], _volume(tank.settings["volume"]), "yes" if does else "no", reason))
    lines += _table(rows) + [""]
    rows = [("serves", "reservoirs", "chambers", "ratio", "asked", "margin", "left after 1, 5, 8 full applications")]
    asked = asked_by(judged)
    for share in shares(evidence):
        judged_share = asked is not None and (share.rule_total is True or circuit.is_towed)
        ratio = asked.values["ratio"] if judged_share and asked is not None else None
        margin = share.tank_volume - ratio * share.chamber_volume if ratio else None
        k = share.ratio
        left = ", ".join(f"{100 * (k / (k + 1)) ** n:.0f} %" for n in (1, 5, 8))
        rows.append((
            share.name, _volume(share.tank_volume), _volume(share.chamber_volume), f"{k:.1f}",
            f"{ratio:g}" if ratio else "-", f"{'+' if margin >= 0 else '-'}{_volume(abs(margin))}" if margin is not None
            else "-", left,
        ))
    lines += _table(rows)
    if asked is not None:
        lines += ["", f"asked by {asked.cited}: {asked.asks}"]
    lines += [
        "left after applications: predicted, isothermal, no refilling, each chamber filled to its full rated volume and",
        "vented; a real stroke is shorter, so more is left. Lines are not counted.",
    ]
    lines += _fills(judged, pressure)
    if any(j.result is Result.UNDECIDED and j.rule.name == VOLUME_RULE for j in judged.judgements):
        lines.append("some chambers are not in the rated-volume table at their stroke: their volume is estimated here")
    return "\n".join([*lines, "", CAUTION]) + "\n"


def _fills(judged: Verdict, pressure: float) -> list[str]:
    """What one application, and one lift of the springs, fills and takes in free air."""
    rows = [("filled by", "for", "volume at rest", "volume filled", "free air")]
    evidence = judged.evidence
    for what, found in (("one application", draws(evidence)), ("lifting the springs", spring_draws(evidence))):
        for draw in found:
            idle, full = draw.taken(ATMOSPHERE), draw.taken(pressure)
            rows.append((draw.name, what, _volume(idle), _volume(full),
                         _volume((pressure * full - ATMOSPHERE * idle) / ATMOSPHERE)))
    if len(rows) == 1:
        return []
    at = f"{value_in(pressure, 'psi', 'pressure'):.0f} psi"
    return ["", *_table(rows),
            f"at {at}: chambers at their working stroke, lines and valves on the way included; predicted"]


def _volume(value: float) -> str:
    return f"{value_in(value, 'in3', 'volume'):,.0f} in3 = {value_in(value, 'L', 'volume'):.2f} L"


def _force(value: float) -> str:
    return f"{value_in(value, 'lbf', 'force'):,.0f} lbf = {value_in(value, 'kN', 'force'):.1f} kN"


def _table(rows: list[tuple[str, ...]]) -> list[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    lines = ["  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip() for row in rows]
    return [lines[0], "-" * len(lines[0]), *lines[1:]]


