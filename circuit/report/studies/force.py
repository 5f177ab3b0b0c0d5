"""Push-rod force, brake torque and the force at the tyre in words, at every step of pressure."""

import math
from collections.abc import Callable, Iterator, Sequence

from circuit.gas.chamber import push
from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.chart import Chart, Curve, bar
from circuit.report.studies.words import names
from circuit.report.table import Table
from circuit.studies.force import TORQUE, Forces, Pushed, forces
from circuit.units import ATMOSPHERE, shown, value_in

_SCATTER = (f"Torque and force at the tyre: {100 * TORQUE:.0f} % more and less, as linings, wear and losses scatter; from "
            "memory.",)
KEY, RECORD = "force", Forces


def account(circuit: Circuit, steps: tuple[float, ...] = ()) -> Account:
    """steps: absolute Pa at which the reckoning is shown; else forces at the usual steps without it."""
    found = forces(circuit, steps) if steps else forces(circuit)
    tables = (*([_reckoned(found)] if steps else []), *_tables(found))
    return Account(KEY, "Push-rod force and brake torque", circuit, found, tables, assumed=found.assumed,
                   notes=found.notes, charts=lambda: _charts(found))


def _tables(found: Forces) -> Iterator[Table]:
    yield _table(found, "push-rod-force", "Push-rod force, lbf", ("type",), lambda each: (each.type,),
                 lambda each: [_lbf(force) for force in each.forces], lambda each: _lbf(each.spring))
    yield _table(found, "camshaft-torque", "Torque at the camshaft, N.m", ("slack",), lambda each: (_length(each.slack),),
                 lambda each: [f"{torque:.0f}" for torque in each.cam_torques])
    unknown = (f"No brake torque for {names(found.unknown)}: nothing says what is pushed.",) if found.unknown else ()
    yield _table(found, "brake-torque", "Brake torque per wheel, N.m", ("for each N of push, m",),
                 lambda each: ("" if each.gain is None else f"{each.gain:.3f}",),
                 lambda each: [f"{torque:.0f}" for torque in each.torques],
                 lambda each: "" if each.spring_torque is None else f"{each.spring_torque:.0f}", (*_SCATTER, *unknown))
    yield _table(found, "tyre-force", "Force at the tyre, kN", ("radius",), lambda each: (_length(each.tyre),),
                 lambda each: [f"{force / 1e3:.1f}" for force in each.tyre_forces])


def _reckoned(found: Forces) -> Table:
    """How each push on a rod comes about: pressure times area, less the return spring at rest and what it takes as it is
    pressed."""
    rows = tuple((each.name, times_area(step - ATMOSPHERE, each.area), *map(_lbf, each.returning), _lbf(force))
                 for step_at, step in enumerate(found.steps) for each in found.chambers
                 for force in (each.forces[step_at],))
    return Table("reckoning", "How the push is reckoned, lbf", (
        "chamber", "pressure x area", "less spring at rest", "less spring pressed", "push on the rod"),
        rows, ("The return spring takes one part as it stands at rest and one more as the working stroke presses it.",
               "A rod is never pulled in: where the spring is stronger than the air the push is 0.",), joined="chamber",
        wide={"chamber"}, numbers={"push on the rod"}, assumed=bool(found.assumed))


def times_area(pressure: float, area: float) -> str:
    """Pa above atmosphere on m2, as a class reckons it.

    >>> times_area(25 * 6894.757, 30 * 0.0254**2)
    '25 psi x 30 in2 = 750'
    """
    psi, inches = value_in(pressure, "psi", "difference"), value_in(area, "in2", "area")
    return f"{psi:.4g} psi x {inches:.4g} in2 = {psi * inches:,.0f}"


def piston_told(diameter: float, pressures: Sequence[float]) -> str:
    """A round piston without a design: its area, and what it carries at each pressure, Pa above atmosphere. diameter: m.

    >>> print(piston_told(4 * 0.0254, [25 * 6894.757, 90 * 6894.757]).split("\\n\\n")[1])
    25 psi x 12.57 in2 = 314 lbf, 1,397 N
    90 psi x 12.57 in2 = 1,131 lbf, 5,031 N
    """
    area = math.pi * diameter**2 / 4
    across = value_in(diameter, "in", "length")
    inches = value_in(area, "in2", "area")
    lines = [f"A piston of {across:.4g} in across has 3.1416 x {across:.4g} x {across:.4g} / 4 = {inches:.2f} in2",
             "", *(f"{times_area(each, area)} lbf, {push(each, area):,.0f} N" for each in pressures),
             "", "Pressure above atmosphere; no spring and no friction is taken off."]
    return "\n".join(lines) + "\n"


def _table(found: Forces, key: str, title: str, more: tuple[str, ...], extra: Callable[[Pushed], tuple[str, ...]],
           values: Callable[[Pushed], Sequence[str]], spring: Callable[[Pushed], str] = lambda each: "",
           notes: tuple[str, ...] = ()) -> Table:
    """Every chamber that has values, at each step; alike ones in one row of a print."""
    steps = tuple(f"at psi {value_in(step, 'psi', 'pressure'):.4g}" for step in found.steps)
    rows = tuple((each.name, *extra(each), *figures, spring(each)) for each in found.chambers if (figures := values(each)))
    return Table(key, title, ("chamber", *more, *steps, "spring alone"), rows, notes if rows else notes[1:],
                 numbers={*steps, "spring alone"}, wide={"chamber"}, joined="chamber", assumed=bool(found.assumed))


def _lbf(force: float | None) -> str:
    return "" if force is None else f"{value_in(force, 'lbf', 'force'):.0f}"


def _length(value: float | None) -> str:
    return "" if value is None else shown(value, "length")


def _charts(found: Forces) -> Iterator[tuple[str, Chart]]:
    yield "force", Chart(f"Push-rod force: {found.circuit.vehicle.title}",
                         "predicted; at working stroke, less return spring", "pressure, bar above atmosphere", "force, kN",
                         _curves(found, lambda each: each.forces))
    if any(each.torques for each in found.chambers):
        yield "torque", Chart(f"Brake torque per wheel: {found.circuit.vehicle.title}",
                              "predicted; linings cold, values as in the table", "pressure, bar above atmosphere",
                              "torque, kN.m", _curves(found, lambda each: each.torques))


def _curves(found: Forces, values: Callable[[Pushed], tuple[float, ...]]) -> tuple[Curve, ...]:
    """One of every kind of wheel."""
    curves: dict[tuple[float, ...], Curve] = {}
    for each in found.chambers:
        if values(each):
            curves.setdefault(values(each), Curve(f"{each.axle}, type {each.type}", [bar(step) for step in found.steps],
                                                  [value / 1e3 for value in values(each)]))
    return tuple(curves.values())
