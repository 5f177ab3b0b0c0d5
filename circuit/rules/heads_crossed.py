"""A supply head is coupled to a control head.

Why
---
The two hoses hang side by side and their heads fit each other unless they are keyed. It is the mistake of the yard.

What happens
------------
The trailer's springs never come off, and the pedal gives it no service brake.

What is not checked
-------------------
Whether the heads are keyed or coloured so that it cannot happen.

Bad
---
    combination rig
    vehicle tractor: file "tractor-6x4/design.air"
    vehicle semi: file "semitrailer-tandem/design.air"
    couple tractor.supply-head -> semi.control-head
    couple tractor.control-head -> semi.supply-head

Good
----
    combination rig
    vehicle tractor: file "tractor-6x4/design.air"
    vehicle semi: file "semitrailer-tandem/design.air"
    couple tractor.supply-head -> semi.supply-head
    couple tractor.control-head -> semi.control-head
"""

from collections.abc import Iterator, Mapping
from functools import partial

from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.circuit import Circuit
from circuit.model.devices import Coupling


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    wrong = [coupling for coupling in circuit.couplings if _lines(circuit, coupling)[0] != _lines(circuit, coupling)[1]]
    for coupling in circuit.couplings:
        one, other = coupling.ends
        if coupling not in wrong:
            yield met(one, coupling.span, f"{one} and {other} are both {_lines(circuit, coupling)[0]} heads")
    joints: dict[tuple[str, str], list[Coupling]] = {}
    for coupling in wrong:
        joints.setdefault((coupling.ends[0].split(".")[0], coupling.ends[1].split(".")[0]), []).append(coupling)
    for pair in joints.values():
        first = pair[0]
        kinds = _lines(circuit, first)
        yield not_met(first.ends[0], first.span,
                    f"{first.ends[0]}, a {kinds[0]} head, is coupled to {first.ends[1]}, a {kinds[1]} head",
                    "couple supply to supply and control to control",
                    also=tuple((other.span, "crossed with this one") for other in pair[1:]),
                    mend=partial(_mended, pair=tuple(pair)) if len(pair) == 2 else None)


def _lines(circuit: Circuit, coupling: Coupling) -> tuple[str, str]:
    one, other = (circuit.by_name[name].settings["line"] for name in coupling.ends)
    return one, other


def _mended(circuit: Circuit, pair: tuple[Coupling, ...]) -> Circuit:
    return circuit.recoupled(_straight(circuit, pair))


def _straight(circuit: Circuit, pair: tuple[Coupling, ...]) -> tuple[Coupling, ...]:
    a, b = pair
    mended = (Coupling((a.ends[0], b.ends[1]), a.span), Coupling((b.ends[0], a.ends[1]), b.span))
    return (*(c for c in circuit.couplings if c not in pair), *mended)


RULE = Rule("heads-crossed", "like heads are coupled to like heads", "error", check)
