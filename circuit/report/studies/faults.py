"""Every single fault in words: what it takes in a stop, what is worse later, what is left, and which faults do it."""

from circuit.faults.outcome import outcomes
from circuit.faults.record import Faults, record
from circuit.faults.study import study, worst_in
from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.faults.mending import in_unit
from circuit.report.faults.outcome_rows import PLAYED, table
from circuit.report.situations import unit_of
from circuit.report.words import FAST
from circuit.verdict.clause_of_fault import held_to

KEY, RECORD = "faults", Faults


def account(circuit: Circuit, only: str = "", demand: float | None = None) -> Account:
    """only: a word that a fault or its outcome must have. demand: absolute Pa that the pedal asks for; None: all it gives."""
    studied = study(circuit, demand=demand)
    found = outcomes(studied)
    told = table(circuit, [(each, worst_in(each.seen)) for each in found], f"{PLAYED} {asked(demand, circuit)}".rstrip(), only,
                 held_to(studied, studied.effects))
    chosen = [each for each in found if only.lower() in each.effect.fault.name.lower()]
    return Account(KEY, "Faults", circuit, record(studied, chosen), (told,))


def asked(demand: float | None, circuit: Circuit) -> str:
    """What is asked of the pedal, as a sentence; empty where that is all it gives."""
    return "" if demand is None else f"The pedal asks for {in_unit(demand, unit_of(circuit))}.".replace(FAST, " ")
