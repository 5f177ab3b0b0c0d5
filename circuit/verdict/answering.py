"""What answers a clause: rules read the drawing, questions ask a simulation or the study of faults."""

from circuit import questions, rules
from circuit.clauses import Clause


def answered_by(clause: Clause) -> tuple[str, ...]:
    """Those of a clause's questions that anything here answers."""
    return tuple(name for name in clause.questions if rules.find(name) or name in questions.names())


def unanswered(clause: Clause) -> tuple[str, ...]:
    """Those that nothing answers: the clause is not decided by them."""
    known = answered_by(clause)
    return tuple(name for name in clause.questions if name not in known)
