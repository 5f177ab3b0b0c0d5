"""The table of duties of a circuit: what each place has to do, and whether it does."""

from typing import NamedTuple

from circuit import duties
from circuit.duties.duty import Kept
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit


class DutyRow(NamedTuple):
    """One duty of one place. sort: of the place. answer: kept, broken or not decided. when: the state that breaks it, or that it
    was held in. found: what stands there, or what is missing."""

    sort: str
    duty: str
    answer: str
    when: str
    place: str
    found: str


class Duties(NamedTuple):
    """Every duty. kept, broken, open: how many there are of each answer."""

    circuit: Circuit
    rows: tuple[DutyRow, ...]
    kept: int
    broken: int
    open: int


def table_of(evidence: Evidence) -> Duties:
    """Broken ones first, then what is not decided, each in the order of the duties."""
    order = {Kept.BROKEN: 0, Kept.OPEN: 1, Kept.KEPT: 2}
    every = sorted(duties.held(evidence), key=lambda each: order[each.found.kept])
    rows = tuple(DutyRow(duty.place, duty.does, found.kept.value, found.when, found.place, found.says) for duty, found in every)
    counts = [sum(each.found.kept is answer for each in every) for answer in Kept]
    return Duties(evidence.circuit, rows, *counts)
