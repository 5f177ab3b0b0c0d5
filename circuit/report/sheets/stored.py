"""Charging, what applications take out of the reservoirs, and what happens as the air leaks away, as tables."""

from itertools import groupby

from circuit.model.circuit import Circuit
from circuit.report.sheets.motion import Sets, band, seconds, sentence, silent
from circuit.report.table import Table
from circuit.report.study_words import clock, quantity
from circuit.studies.charge import SCATTER, Charge, Filled, charge
from circuit.studies.hands import CannotAsk
from circuit.studies.holding import Held
from circuit.studies.knobs import NOTHING, named
from circuit.studies.leak_down import leak_down
from circuit.studies.reserve import TRAVEL, Reserve, StoreLeft, reserve
from circuit.units import shown

_BUILD = ("what", "time s", "quickest s", "slowest s", "limit s", "outcome", "asked by", "measured s")
_LEFT = tuple(range(1, 9))


def build_up(circuit: Circuit, sets: Sets = ()) -> Table:
    """From 85 to 100 psi, and every reservoir from empty."""
    title = "Charging"
    try:
        found = charge(circuit, sets)
    except CannotAsk as reason:
        return silent("build-up", title, _BUILD, reason)
    rows: list[tuple[str, ...]] = []
    if found.build is not None:
        met = "" if found.limit is None else _met(found.margin is not None and found.margin >= 0)
        rows.append(("85 to 100 psi in every supply and service reservoir", seconds(found.build.value),
                     *band(found.build), seconds(found.limit), met, found.clause.cited if found.clause else "", ""))
    for tank in found.filled:
        rows += _from_empty(found, tank)
    notes = ["Predicted by simulation.",
             f"Quickest and slowest: compressors that deliver {SCATTER * 100:.0f} % more and less."]
    if found.line is not None:
        notes.append(f"Fed by a supply line held at {shown(found.line, 'pressure')}.")
    notes += [f"At {clock(each.time)}, with that pressure in every brake reservoir that has filled, the driver "
              f"pushes in {named(circuit, each)}: out until then." for each in found.pushed]
    return Table("build-up", title, _BUILD, tuple(rows), (*notes, *map(sentence, found.notes)),
                 frozenset({"measured s"}), frozenset({"time s", "quickest s", "slowest s", "limit s"}),
                 frozenset({"what"}), assumed=bool(found.assumed))


def _from_empty(found: Charge, tank: Filled) -> list[tuple[str, ...]]:
    """A reservoir's two times; the slowest brake reservoir's are held to limits where there are some."""
    held = tank is found.slowest and found.filling_clause is not None
    rows: list[tuple[str, ...]] = []
    for share, time, limit in (("65 % of ", tank.share, found.limits[0]), ("", tank.whole, found.limits[1])):
        asked = held and limit is not None
        what = f"{tank.name} from empty to {share}{shown(found.rated, 'pressure')}"
        if time is None:
            what += ": stays empty, nothing feeds it" if tank.ends < NOTHING else \
                f": comes to {shown(tank.ends, 'pressure')}"
        rows.append((what, seconds(time), "", "", seconds(limit) if asked else "",
                     _met(time is not None and limit is not None and time <= limit) if asked else "",
                     found.filling_clause.cited if asked and found.filling_clause else "", ""))
    return rows


def _met(met: bool) -> str:
    return "met" if met else "not met"


def duty(circuit: Circuit, sets: Sets = ()) -> Table:
    """The compressor's round, and how it catches up after applications."""
    title, columns = "The compressor at work", ("what", "predicted", "measured")
    try:
        found = charge(circuit, sets)
    except CannotAsk as reason:
        return silent("duty", title, columns, reason)
    rows = []
    if found.cycle is not None:
        cycle = found.cycle
        rows += [("pumping, from cut-in to cut-out", clock(cycle.pumping), ""),
                 ("resting, until cut-in again", clock(cycle.resting) if cycle.resting else "it never catches up", ""),
                 ("share of the time that it works", f"{cycle.duty * 100:.0f} %", "")]
    for each in found.recoveries:
        after = f"after {each.applications} full application{'s' if each.applications != 1 else ''}, engine running"
        again = ("the compressor does not start" if each.again == 0 else "not full again" if each.again is None else
                 f"full again {clock(each.again)} after the last release")
        rows += [(f"{after}: lowest service reservoir", shown(each.lowest, "pressure"), ""),
                 (f"{after}: then", again, "")]
    notes = () if found.cycle is None else (
        f"Round with one full application a minute ({60e3 * found.cycle.by_braking:.0f} g of air, taken evenly) and "
        f"reservoirs that lose 2 psi a minute ({60e3 * found.cycle.by_leak:.0f} g); predicted by simulation.",)
    return Table("duty", title, columns, tuple(rows), notes, frozenset({"measured"}), wide=frozenset({"what"}),
                 assumed=bool(rows and found.assumed))


def applications(circuit: Circuit, sets: Sets = ()) -> Table:
    """Full applications with the engine off: what is left after each."""
    title = "Reserve: full applications with the engine off"
    figures = ("ratio", *(f"left % after {n}" for n in _LEFT), "to half", "to half, at least", "to half, at most",
               "to half by volumes")
    columns = ("store", *figures, "measured after 8")
    try:
        found = reserve(circuit, sets)
    except CannotAsk as reason:
        return silent("applications", title, columns, reason)
    rows = tuple((store.name, f"{store.ratio:.2f}", *(f"{100 * store.share_left(n):.0f}" for n in _LEFT),
                  *_to_half(found, store), str(store.counted_halves), "") for store in found.stores)
    notes = [f"Share of the gauge pressure left, from {shown(found.start, 'pressure')}; predicted by simulation. To half: how "
             "many leave half the pressure or more, over brakes that travel "
             f"{TRAVEL * 100:.0f} % farther and less far, and by volumes alone.", *map(sentence, found.notes)]
    if found.stops_at is not None:
        notes.append(f"From application {found.stops_at} on the brakes stay on by themselves and take no more.")
    notes += [f"In application {after}: {'; '.join(dict.fromkeys(each.what for each in same))}."
              for after, same in groupby(found.happened, lambda each: each.after)]
    return Table("applications", title, columns, rows, tuple(notes), frozenset({"measured after 8"}), frozenset(figures),
                 assumed=bool(found.assumed))


def _to_half(found: Reserve, store: StoreLeft) -> tuple[str, str, str]:
    """How many leave half the pressure, with its band; nothing where the brakes stay on before that."""
    if found.stops_at is not None and found.stops_at <= store.halves:
        return "", "", ""
    least, most = store.halves_band
    return str(store.halves), str(least), str(most)


def limits(circuit: Circuit, sets: Sets = ()) -> Table:
    """What clauses ask of charging and of the reserve, with the place that does worst."""
    held: list[tuple[str, Held]] = []
    for word, study in (("charging", charge), ("reserve", reserve)):
        try:
            held += [(word, each) for each in study(circuit, sets).held]
        except CannotAsk:
            continue
    rows = []
    for word, each in held:
        found, limit = each.figure.found, each.figure.limit
        bound = "at least" if each.figure.at_least else "at most"
        said = quantity(found, each.figure.dimension) if each.reached else "not reached"
        met = _met(each.is_met) + (", a guide" if each.clause.advisory else "")
        rows.append((word, each.where, each.figure.what, said, f"{bound} {quantity(limit, each.figure.dimension)}", met,
                     each.clause.cited, ""))
    return Table("limits", "Limits of charging and reserve",
                 ("of", "at", "what", "predicted", "limit", "outcome", "asked by", "measured"), tuple(rows),
                 ("Predicted by simulation, at the place that does worst.",) if rows else (), frozenset({"measured"}),
                 wide=frozenset({"what"}), assumed=bool(rows and circuit.assumed))


def leaking(circuit: Circuit) -> Table:
    """What happens, in which order, while the stored air leaks away."""
    title = "Leaking down with the engine off"
    columns = ("after", "lowest reservoir", "highest reservoir", "what happens", "seen at")
    try:
        found = leak_down(circuit)
    except CannotAsk as reason:
        return silent("leaking", title, columns, reason)
    rows = tuple((clock(moment.time), *(shown(level, "pressure") for level in moment.level), moment.what, "")
                 for moment in found.moments)
    order = {True: "A warning comes before any knob pops out or a spring is fully on.", None: "",
             False: "NO WARNING comes before a knob pops out or a spring is fully on."}[found.warned_first]
    holes = ", ".join(f"{name} {1e3 * size:.2f} mm" for name, size in found.holes)
    notes = (order, f"Sharp holes taken ({holes}), each for a fall of {shown(found.rate, 'rate')} at "
             f"{shown(found.start, 'pressure')} if it leaked by itself; predicted by simulation.", *map(sentence, found.notes))
    return Table("leaking", title, columns, rows, tuple(filter(None, notes)), frozenset({"seen at"}),
                 wide=frozenset({"what happens"}), assumed=bool(found.assumed))
