"""Water in words: where that of an hour goes."""

from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.studies.words import pressure
from circuit.report.table import Table
from circuit.studies.charge import SCATTER
from circuit.studies.holding import asked_any
from circuit.studies.water import Water, water

DRAINS = ("reservoir-without-drain",)
"""The question that a sum of water is worth looking at for; no limit of the clauses that ask it is held here."""
_COLUMNS = ("water", "an hour g", "at least g", "at most g")
KEY, RECORD = "water", Water


def account(circuit: Circuit, temperature: float, humidity: float, duty: float | None = None) -> Account:
    """What is asked as of `water`."""
    found = water(circuit, temperature, humidity, duty)
    return Account(KEY, "Water", circuit, found, (_table(found),), asked_any(circuit, DRAINS), notes=found.notes)


def _table(found: Water) -> Table:
    every = [("taken in as vapour", found.enters),
             ("liquid already where it reaches the dryer or first reservoir", found.before)]
    if found.has_dryer:
        every.append(("taken by the dryer, blown out at each purge", found.dried))
    every += [("settles in the reservoirs", found.settles), ("goes on as vapour", found.stays)]
    if found.has_dryer:
        every.append(("would settle in the reservoirs with the dryer worn out", found.unserved))
    rows = tuple((what, *(f"{1e3 * share * kilograms:.0f}" for share in (1.0, 1 - SCATTER, 1 + SCATTER)))
                 for what, kilograms in every)
    eight = (f"In eight hours {_litres(8 * found.settles)} settles with a sound dryer, {_litres(8 * found.unserved)} with a worn "
             "one: drain every day, and look at what comes.") if found.has_dryer else \
        f"In eight hours {_litres(8 * (found.settles + found.before))} of water lie in the reservoirs: drain every day."
    return Table("water", "Water", _COLUMNS, rows, (
        f"At {found.temperature - 273.15:.0f} °C, {found.humidity * 100:.0f} % relative humidity, "
        f"{pressure(found.pressure)}, the compressor at work {found.duty * 100:.0f} % of the time, {found.duty_is}: "
        f"{60e3 * found.free_air:.0f} L of free air a minute on average.",
        eight, f"At least and at most: compressors that deliver {SCATTER * 100:.0f} % less and more; what the weather does is "
        "more: ask again with --temperature and --humidity."), numbers={*_COLUMNS[1:]})


def _litres(kilograms: float) -> str:
    return "nothing" if kilograms < 5e-4 else f"{kilograms:.2f} L"
