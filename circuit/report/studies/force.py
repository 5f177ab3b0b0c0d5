"""Push-rod force, brake torque and the force at the tyre in words, at every step of pressure."""

from collections.abc import Callable, Iterator, Sequence

from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.chart import Chart, Curve, bar
from circuit.report.studies.words import names
from circuit.report.table import Table
from circuit.studies.force import TORQUE, Forces, Pushed, forces
from circuit.units import shown, value_in

_SCATTER = (f"Torque and force at the tyre: {100 * TORQUE:.0f} % more and less, as linings, wear and losses scatter; from "
            "memory.",)
KEY, RECORD = "force", Forces


def account(circuit: Circuit) -> Account:
    found = forces(circuit)
    return Account(KEY, "Push-rod force and brake torque", circuit, found, tuple(_tables(found)), assumed=found.assumed,
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


def _table(found: Forces, key: str, title: str, more: tuple[str, ...], extra: Callable[[Pushed], tuple[str, ...]],
           values: Callable[[Pushed], Sequence[str]], spring: Callable[[Pushed], str] = lambda each: "",
           notes: tuple[str, ...] = ()) -> Table:
    """Every chamber that has values, at each step; alike ones in one row of a print."""
    steps = tuple(f"at psi {value_in(step, 'psi', 'pressure'):.0f}" for step in found.steps)
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
