"""What the studies found for other programs (JSON, CSV) and as charts.

JSON is SI: pressures absolute Pa, times s, lengths m, forces N. CSV is for spreadsheets: gauge bar, with the unit in
each heading.
"""

import json
from collections.abc import Iterable, Mapping
from typing import Any

from circuit import __version__
from circuit.clauses import Clause
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.report.chart import Chart, Curve
from circuit.report.words import CAUTION
from circuit.source import Span
from circuit.studies.charge import Charge
from circuit.studies.force import Forces
from circuit.studies.knobs import named
from circuit.studies.leak_down import LeakDown
from circuit.studies.reserve import HALF_TURN, Reserve
from circuit.studies.respond import HOLDS, Response, worst_first
from circuit.studies.trials import Tried
from circuit.syntax.statements import Name
from circuit.units import ATMOSPHERE

POINTS = 400
_DERIVED = ("margin", "is_met", "hangs", "halves", "halves_band", "counted_halves", "duty", "cam_torques", "torques",
            "spring_torque", "tyre_forces", "sound")


def document(study: str, circuit: Circuit, found: Any, **more: Any) -> str:
    """A study as JSON with a head that says what it is. more: goes beside what was found."""
    vehicle = circuit.vehicle
    head = {"tool": "airwright", "version": __version__, "format": 1, "study": study, "predicted": True, "units": "SI",
            "caution": CAUTION, "file": circuit.source.name,
            "vehicle": {"name": vehicle.name, "class": vehicle.vehicle_class, "title": vehicle.title}}
    return json.dumps({**head, "found": data(found), **more}, indent=2, ensure_ascii=False) + "\n"


def data(value: Any) -> Any:
    """A record as plain data: traces and circuits left out, a clause by its key, a place as text."""
    if isinstance(value, Clause):
        return value.key
    if isinstance(value, Span):
        return str(value)
    if isinstance(value, Name):
        return value.text
    if isinstance(value, tuple) and hasattr(value, "_fields"):
        plain = {field: data(each) for field, each in zip(value._fields, value)
                 if not isinstance(each, (Trace, Circuit)) and field not in ("traces", "step", "trial")}
        if hasattr(value, "trial"):
            plain = {"trial": value.trial.name, "ran": getattr(value, "trace", None) is not None, **plain}
        plain |= {name: data(getattr(value, name)) for name in _DERIVED if hasattr(type(value), name)}
        return plain
    if isinstance(value, (tuple, list)):
        return [data(each) for each in value]
    if isinstance(value, Mapping):
        return {str(key): data(each) for key, each in value.items()}
    if isinstance(value, float):
        return float(f"{value:.7g}") if value not in (float("inf"), float("-inf")) else None
    if hasattr(value, "item"):
        return value.item()
    return value


def csv(traces: Iterable[tuple[str, Trace]]) -> str:
    """Every space's pressure at the end of every step, traces below each other; a trace's label is the first column."""
    lines: list[str] = []
    known: tuple[str, ...] = ()
    for label, trace in traces:
        if trace.names != known:
            known = trace.names
            heads = (_quoted(f"{name} [bar above atmosphere]") for name in known)
            lines.append(",".join(['"run"', '"time [s]"', *heads]))
        for time, row in zip(trace.times, trace.pressures):
            lines.append(",".join([_quoted(label), f"{float(time):.6g}",
                                   *(f"{(float(p) - trace.atmosphere) / 1e5:.5g}" for p in row)]))
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return '"' + text.replace('"', '""') + '"'


# --- charts --------------------------------------------------------------------------------------------------------


def bar(pressure: float) -> float:
    return (pressure - ATMOSPHERE) / 1e5


def curve(trace: Trace, place: str | int, label: str, begin: float = 0.0, end: float | None = None,
          per: float = 1.0) -> Curve:
    """A place's gauge pressure in bar. per: s that one unit of the time axis stands for."""
    last = trace.end if end is None else min(end, trace.end)
    times = [begin + (last - begin) * number / POINTS for number in range(POINTS + 1)]
    return Curve(label, [(time - begin) / per for time in times], [bar(p) for p in trace.curve(place, times)])


def response_chart(found: Response, release: bool = False) -> Chart:
    """The worst of each kind of place at application, or at release."""
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
        levels = [(5 * 0.0689476, "5 psi")]
    limits = tuple(dict.fromkeys((timed.limit, f"limit {timed.limit:.2f} s") for timed in rows if timed.limit))
    end = begin + max(2.5 * slowest, *(1.1 * limit for limit, _ in limits), 0.1)
    verb = "Release" if release else "Application"
    return Chart(f"{verb}: {found.circuit.vehicle.title}", "predicted; pressure in the brake, from the first movement",
                 "time, s", "pressure, bar above atmosphere",
                 tuple(curve(trace, place, name, begin, end) for place, name in places),
                 tuple(levels), limits)


def charge_chart(found: Charge) -> Chart:
    """Every reservoir from empty, with what the driver does on the way and the times that are allowed."""
    trace = found.trace
    ends = max([tank.whole for tank in found.filled if tank.whole] or [trace.end]) * 1.25
    tanks = [found.circuit.by_name[tank.name] for tank in found.filled]
    moments = [(each.time, f"in: {named(found.circuit, each)}") for each in found.pushed]
    moments += [(limit, f"limit for {share}") for limit, share in zip(found.limits, ("65 %", "100 %")) if limit]
    under = ("compressors at their stated speed" if found.line is None else
             f"supply line held at {bar(found.line):.1f} bar")
    full = "governor's cut-in" if found.line is None else "100 %"
    return Chart(f"Charging from empty: {found.circuit.vehicle.title}", f"predicted; {under}", "time, s",
                 "pressure, bar above atmosphere",
                 tuple(curve(trace, found.circuit.store(tank), tank.name, 0.0, ends) for tank in tanks),
                 ((bar(found.rated), full), (0.65 * bar(found.rated), "65 %")), tuple(moments))


def reserve_chart(found: Reserve) -> Chart:
    curves = []
    for store in found.stores:
        xs = list(range(len(store.left)))
        curves.append(Curve(store.name, xs, [bar(p) for p in store.left]))
        curves.append(Curve(f"{store.name}, by volumes", xs, [bar(p) for p in store.counted]))
    first = found.stores[0].left[0]
    return Chart(f"Reserve: {found.circuit.vehicle.title}",
                 f"predicted; left after each full application of {2 * HALF_TURN:g} s, engine off", "applications made",
                 "pressure, bar above atmosphere", tuple(curves), ((0.5 * bar(first), "half"),), ((8.0, "eight"),))


def leak_chart(found: LeakDown) -> Chart:
    trace, circuit = found.trace, found.circuit
    tanks = circuit.reservoirs_for("supply", "service", "parking")
    curves = [curve(trace, circuit.store(tank), tank.name, per=60.0) for tank in tanks[:6]]
    shown, moments = set(), []
    for moment in found.moments:
        what = moment.what.split(":")[0] if moment.what.startswith("springs ") else moment.what
        if what not in shown:
            shown.add(what)
            moments.append((moment.time / 60.0, what))
    return Chart(f"Leaking down: {circuit.vehicle.title}", "predicted; engine off, holes as stated in the table",
                 "time, minutes", "pressure, bar above atmosphere", tuple(curves), (), tuple(moments))


def force_chart(found: Forces, torque: bool = False) -> Chart:
    """Push-rod force, or brake torque, of every kind of wheel."""
    curves: dict[tuple[float, ...], Curve] = {}
    for each in found.chambers:
        values = each.torques if torque else each.forces
        if values:
            curves.setdefault(values, Curve(f"{each.axle}, type {each.type}", [bar(step) for step in found.steps],
                                            [value / 1e3 for value in values]))
    if torque:
        return Chart(f"Brake torque per wheel: {found.circuit.vehicle.title}",
                     "predicted; linings cold, values as in the table", "pressure, bar above atmosphere",
                     "torque, kN.m", tuple(curves.values()))
    return Chart(f"Push-rod force: {found.circuit.vehicle.title}", "predicted; at working stroke, less return spring",
                 "pressure, bar above atmosphere", "force, kN", tuple(curves.values()))


def trial_chart(circuit: Circuit, run: Tried) -> Chart | None:
    """The places that a trial expects something of; None for one that was not run or looks at no pressure."""
    if run.trace is None:
        return None
    places = dict.fromkeys(outcome.place for outcome in run.outcomes if outcome.value is not None)
    if not places:
        return None
    moments = tuple((step.settings["at"], f"{step.action} {' and '.join(step.names)}") for step in run.trial.steps
                    if step.settings.get("at") is not None)
    levels = tuple(dict.fromkeys((bar(o.limit), f"at {'least' if o.at_least else 'most'} {bar(o.limit):.2f} bar")
                                 for o in run.outcomes if o.limit is not None))
    return Chart(f"{run.trial.name}: {circuit.vehicle.title}", "predicted", "time, s", "pressure, bar above atmosphere",
                 tuple(curve(run.trace, place, place) for place in places), levels, moments)
