"""The brakes that are left with both hoses to the trailer open."""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, brakes_left, of_faults
from circuit.faults.sorts import hoses_lost


def answer(asked: Asked, clause: Clause) -> Found | None:
    return brakes_left(hoses_lost(asked.study, "control", "supply"))


QUESTION = of_faults("braking-without-hoses", "the brakes that are left with both hoses to the trailer open", answer)
