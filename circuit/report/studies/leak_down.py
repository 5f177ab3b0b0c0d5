"""Leaking down in words: what happens when, as the stored air goes."""

from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.chart import Chart, curve
from circuit.report.studies.words import pressure
from circuit.report.table import Table
from circuit.report.words import clock, sentence
from circuit.studies.holding import asked_any
from circuit.studies.leak_down import USUAL, LeakDown, leak_down
from circuit.units import shown

_COLUMNS = ("after", "5 %", "95 %", "lowest reservoir", "highest reservoir", "what happens", "seen at")
LOW_AIR = ("no-low-pressure-warning", "springs-come-on-pumped", "towing-protection-set-wrong", "breaking-away",
           "springs-act-before-warning")
"""Questions that a time line is worth looking at for; no limit of the clauses that ask them is held here."""
_FIRST = {True: "a warning comes before any knob pops out or a spring is fully on",
          False: "NO WARNING comes before a knob pops out or a spring is fully on"}
KEY, RECORD = "leak-down", LeakDown


def account(circuit: Circuit, rate: float = USUAL, places: tuple[str, ...] = ()) -> Account:
    found = leak_down(circuit, rate, places)
    return Account(KEY, "Leaking down with the engine off", circuit, found, (_line(found),),
                   asked_any(circuit, LOW_AIR), None, found.assumed, found.notes, (("leaking down", found.trace),),
                   lambda: (("", _chart(found)),))


def _line(found: LeakDown) -> Table:
    rows = tuple((clock(moment.time), _clock(moment.early), _clock(moment.late), *map(pressure, moment.level), moment.what, "")
                 for moment in found.moments)
    holes = ", ".join(f"{name} {1e3 * size:.2f} mm" for name, size in found.holes)
    notes = [] if rows else ["Nothing happens in the time watched."]
    notes += [sentence(_FIRST[found.warned_first])] if found.warned_first is not None else []
    notes += [f"Assumed: sharp holes ({holes}), each for a fall of {shown(found.rate, 'rate')} at {pressure(found.start)} if it "
              "leaked by itself.",
              f"5 and 95 %: when that many of {found.circuit.draws.slow} plausible vehicles have it, with holes of 20 % less and "
              "more diameter. What leaks where, and how fast, is not known before it is measured."]
    return Table("leaking", "Leaking down with the engine off", _COLUMNS, rows, tuple(notes), {"seen at"},
                 wide={"what happens"}, assumed=bool(found.assumed))


def _clock(time: float | None) -> str:
    return "" if time is None else clock(time)


def _chart(found: LeakDown) -> Chart:
    trace, circuit = found.trace, found.circuit
    tanks = circuit.reservoirs_for("supply", "service", "parking")
    curves = [curve(trace, circuit.store(tank), tank.name, per=60.0) for tank in tanks[:6]]
    shown_ones, moments = set(), []
    for moment in found.moments:
        what = moment.what.split(":")[0] if moment.what.startswith("springs ") else moment.what
        if what not in shown_ones:
            shown_ones.add(what)
            moments.append((moment.time / 60.0, what))
    return Chart(f"Leaking down: {circuit.vehicle.title}", "predicted; engine off, holes as stated in the table",
                 "time, minutes", "pressure, bar above atmosphere", tuple(curves), (), tuple(moments))
