"""Every single fault in words: what it takes in a stop, what is worse later, what is left, and which faults do it.

And what else can be asked of faults, in one record: what was not asked is null in it.
"""

from typing import NamedTuple

from circuit.faults.outcome import outcomes
from circuit.faults.record import PlayedSituation, SingleFault, singles
from circuit.faults.study import Study, study, worst_in
from circuit.faults.times import Timeline
from circuit.model.circuit import Circuit
from circuit.report.account import Account
from circuit.report.faults.hidden import Hidden, hidden_faults, hidden_table
from circuit.report.faults.mending import in_unit
from circuit.report.faults.outcome_rows import FED, PLAYED, on_paper, table
from circuit.report.faults.story import Story
from circuit.report.situations import unit_of
from circuit.report.table import Table
from circuit.report.words import FAST
from circuit.verdict.clause_of_fault import held_to


class Asked(NamedTuple):
    """What was asked of the faults of a design; null where it was not. demand: absolute Pa that is asked of the pedal; null is
    all it gives. faults: single faults, the worst first. hidden: in the order in which a workshop proves them. situations,
    times: simulated. story: of the one fault, or of several at once, in words."""

    circuit: Circuit
    demand: float | None = None
    faults: tuple[SingleFault, ...] | None = None
    hidden: tuple[Hidden, ...] | None = None
    situations: tuple[PlayedSituation, ...] | None = None
    times: tuple[Timeline, ...] | None = None
    story: Story | None = None


KEY, RECORD = "faults", Asked
ELSEWHERE = "faults that no ordinary use shows, with their proofs, are a section of their own: --pairs prints it, papers have it"


def account(circuit: Circuit, only: str = "", demand: float | None = None) -> Account:
    """only: a word that a fault or its outcome must have. demand: absolute Pa that the pedal asks for; None: all it gives."""
    return of_single(study(circuit, demand=demand), only)


def of_single(studied: Study, only: str = "") -> Account:
    """The table of single faults."""
    circuit, demand, found = studied.circuit, studied.whole.demand, outcomes(studied)
    how = f"{PLAYED.format(fed=FED if circuit.is_towed else '')} {asked(demand, circuit)}".rstrip()
    told = table(circuit, [(each, worst_in(each.seen)) for each in found], how, only, held_to(studied, studied.effects))
    chosen = [each for each in found if only.lower() in each.effect.fault.name.lower()]
    return Account(KEY, "Faults", circuit, Asked(circuit, demand, faults=singles(chosen)), (told,), notes=(ELSEWHERE,))


def of_hidden(studied: Study, only: str = "") -> Account:
    """The section of hidden faults by itself."""
    circuit, found = studied.circuit, hidden_faults(studied, only)
    return Account(KEY, "Hidden faults", circuit, Asked(circuit, studied.whole.demand, hidden=found),
                   (hidden_table(circuit, found, only),))


def for_papers(circuit: Circuit) -> tuple[Table, ...]:
    """The table of single faults and the section of hidden ones behind it."""
    studied = study(circuit)
    return (*map(on_paper, of_single(studied).tables), *of_hidden(studied).tables)


def asked(demand: float | None, circuit: Circuit) -> str:
    """What is asked of the pedal, as a sentence; empty where that is all it gives."""
    return "" if demand is None else f"The pedal asks for {in_unit(demand, unit_of(circuit))}.".replace(FAST, " ")
