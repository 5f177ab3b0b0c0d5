"""What the studies of motion and of faults say, as tables; where a study has no answer the paper says why."""

from circuit.model.circuit import Circuit
from circuit.report.sheets.table import Table
from circuit.units import shown

NOT_HERE = "Not predicted in this version."
_TIMES = ("done", "place", "time s", "quickest s", "slowest s", "limit s", "margin s", "outcome", "asked by", "measured s")


def response(circuit: Circuit, sets: tuple[str, ...] = ()) -> Table:
    """Application and release of every chamber, held to the design's own sets of rules or to others."""
    title = "Response prediction"
    try:
        from circuit.studies.hands import CannotAsk
        from circuit.studies.respond import respond
    except ImportError:
        return _silent("response", title, _TIMES, NOT_HERE)
    try:
        found = respond(circuit, sets)
    except CannotAsk as reason:
        return _silent("response", title, _TIMES, f"Not predicted: {reason}.")
    rows = []
    for done, times in (("apply", found.applied), ("release", found.released)):
        for timed in times:
            met = "" if timed.is_met is None else "met" if timed.is_met else "not met"
            if timed.hangs:
                met += ", turns within the band"
            rows.append((done, timed.name, _seconds(timed.time.value), _seconds(timed.time.quick), _seconds(timed.time.slow),
                         _seconds(timed.limit), _seconds(timed.margin), met, timed.clause.cited if timed.clause else "", ""))
    target = shown(found.target, "pressure") if found.target is not None else f"{found.share * 100:.0f} % of the final pressure"
    notes = [f"Application to {target} from {shown(found.start, 'pressure')} in the reservoirs; predicted by simulation, worst "
             "first. A margin below 0 is too slow. Quickest and slowest: valves and tubes let 20 % more or less through.",
             *(_sentence(note) for note in found.notes)]
    if not found.complete:
        notes.append("A run fell short of the accuracy asked for.")
    return Table("response", title, _TIMES, tuple(rows), tuple(notes), frozenset({"measured s"}),
                 frozenset({"time s", "quickest s", "slowest s", "limit s", "margin s"}), frozenset({"place"}),
                 assumed=bool(found.assumed))


def build_up(circuit: Circuit) -> Table:
    """Charging: from 85 to 100 psi, and every reservoir from empty."""
    title, columns = "Build-up prediction", ("what", "time s", "limit s", "asked by", "measured s")
    try:
        from circuit.studies.charge import charge
        from circuit.studies.hands import CannotAsk
    except ImportError:
        return _silent("build-up", title, columns, NOT_HERE)
    try:
        found = charge(circuit)
    except CannotAsk as reason:
        return _silent("build-up", title, columns, f"Not predicted: {reason}.")
    rows = [("85 to 100 psi in every supply and service reservoir", _seconds(found.build.value), _seconds(found.limit),
             found.clause.cited if found.clause else "", "")] if found.build else []
    rows += [(f"{tank.name} from empty to {shown(found.rated, 'pressure')}", _seconds(tank.whole), "", "", "")
             for tank in found.filled]
    return Table("build-up", title, columns, tuple(rows), ("Predicted by simulation.", *map(_sentence, found.notes)),
                 frozenset({"measured s"}), frozenset({"time s", "limit s"}), frozenset({"what"}), assumed=bool(found.assumed))


def applications(circuit: Circuit) -> Table:
    """Full applications with the engine off."""
    title = "Applications left, engine off"
    columns = ("store", "ratio", "% left after 1", "% left after 5", "% left after 8", "to half", "to half by volumes", "measured after 8")
    try:
        from circuit.studies.hands import CannotAsk
        from circuit.studies.reserve import reserve
    except ImportError:
        return _silent("applications", title, columns, NOT_HERE)
    try:
        found = reserve(circuit)
    except CannotAsk as reason:
        return _silent("applications", title, columns, f"Not predicted: {reason}.")
    rows = tuple((store.name, f"{store.ratio:.2f}", *(f"{100 * store.share_left(n):.0f}" for n in (1, 5, 8)),
                  str(store.halves), str(store.counted_halves), "") for store in found.stores)
    return Table("applications", title, columns, rows,
                 (f"Share of the gauge pressure left, from {shown(found.start, 'pressure')}; predicted by simulation.",
                  *map(_sentence, found.notes)), frozenset({"measured after 8"}), frozenset(columns[1:7]),
                 assumed=bool(found.assumed))


def faults(circuit: Circuit) -> Table:
    """Every single fault, those with the same outcome together."""
    title, columns = "Fault table", ("outcome", "lost", "left", "single faults that do it", "looked at by")
    try:
        from circuit.report.faults import ASSUMED, TITLES, left, lost, names
        from circuit.report.situations import unit_of
        from circuit.studies.faults import rank, study
    except ImportError:
        return _silent("faults", title, columns, NOT_HERE)
    found = study(circuit)
    unit = unit_of(circuit)
    groups: dict[tuple[str, str, str], list] = {}  # type: ignore[type-arg]
    for effect in found.effects:
        groups.setdefault((TITLES[rank(effect)], lost(effect, unit), left(effect, unit)), []).append(effect)
    rows = tuple((*key, names(same, len(same)), "") for key, same in groups.items())
    return Table("faults", title, columns, rows, (ASSUMED,), frozenset({"looked at by"}),
                 wide=frozenset(columns[1:4]), assumed=bool(circuit.assumed))


def _silent(key: str, title: str, columns: tuple[str, ...], says: str) -> Table:
    return Table(key, title, columns, (), (says,))


def _seconds(value: float | None) -> str:
    return "" if value is None else f"{value:.3f}" if abs(value) < 10 else f"{value:.1f}"


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:] + ("" if words.endswith(".") else ".")
