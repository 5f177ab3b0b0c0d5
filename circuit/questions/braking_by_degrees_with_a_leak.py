"""Whether the brakes follow the pedal up in steps and let go, with each single leak.

What happens
------------
With one failure the pedal gives all or nothing: wheels lock, or it does not stop.

Mend
----
Feed what follows the pedal then from a reservoir that the failure leaves full: airwright faults tells what each
failure takes and leaves.
"""

from collections.abc import Iterator
from math import inf
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.single import Fault
from circuit.faults.sorts import single_service_leaks
from circuit.judging.limits import pressure
from circuit.judging.prediction import Predicted
from circuit.judging.question import Question, fell_short
from circuit.judging.rule import Figure, Result
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Action, Options, Variant
from circuit.studies.band import QUICK
from circuit.studies.effort import SOME, effort
from circuit.studies.hands import FOOT, PSI, apply, let_go, pedals, standing
from circuit.studies.once import simulate_many
from circuit.units import ATMOSPHERE

STEPS = (ATMOSPHERE + 30 * PSI, ATMOSPHERE + 60 * PSI, None)
"""Absolute Pa asked of the pedal, one after the other; None is all of it. Our choice."""
HOLD = 2.0
"""s of each step and of the release; our choice."""
GROWS = 1.1
"""How many times as much the brakes have to push from step to step to count as following the pedal, and how many times
less than in the first step when they are let go; our choice, the clause has no figure. Where they push more, and less when
let go, but not by that much, only our choice would decide: then nothing is decided."""
NONE = 0.01
"""Share of the whole push below which nothing brakes; our choice, above what is left of rounding."""
LOOKS = 20
"""How often in each step the push is looked at; our choice."""


def answer(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    if not pedals(circuit) or not circuit.having(Trait.SERVICE_ACTUATOR):
        return
    actions: list[Action] = []
    for number, demand in enumerate(STEPS):
        actions += apply(circuit, number * HOLD, demand, FOOT)
    actions += let_go(circuit, len(STEPS) * HOLD, FOOT)
    leaks = single_service_leaks(circuit)
    variants = [Variant("whole"), *(Variant(fault.name, fault.parts) for fault in leaks)]
    script = standing(circuit, pressure(clause.procedure, "start"), *actions)
    whole, *traces = simulate_many(circuit, script, variants, (len(STEPS) + 2) * HOLD, options=Options(exponent=QUICK))
    if not leaks:
        return
    if not all(trace.complete for trace in (whole, *traces)):
        yield fell_short(clause)
        return
    most = _pushes(circuit, whole)[-2]
    if most <= 0.0:
        return
    every = [Course(fault, tuple(each / most for each in _pushes(circuit, trace)),
                    tuple(each / most for each in _peaks(circuit, trace))) for fault, trace in zip(leaks, traces)]
    worst = min(every, key=lambda course: (_ORDER.index(course.result), course.pushes[-2]))
    yield _told(clause, worst, len(every))


class Course(NamedTuple):
    """How the brakes follow the pedal with a fault. pushes: shares of the whole push at the end of each step and when let
    go. peaks: the most in each step."""

    fault: Fault
    pushes: tuple[float, ...]
    peaks: tuple[float, ...]

    @property
    def grows(self) -> float:
        """How many times the step before the weakest step brings."""
        *steps, _ = self.pushes
        return min((later / earlier if earlier > 0 else inf) for earlier, later in zip(steps, steps[1:]))

    @property
    def fails(self) -> str:
        """Why the brakes do not follow, whatever one chooses; empty where they do in some measure."""
        *steps, released = self.pushes
        if steps[-1] < NONE:
            return "nothing brakes at the end"
        if any(peak <= before for before, peak in zip(steps, self.peaks[1:])):
            return "a step brings no more than the one before"
        return "let go they push as much as in the first step" if released >= max(steps[0], NONE) else ""

    @property
    def result(self) -> Result:
        """Met where it holds by our choices; not met where it would by none; else undecided."""
        *steps, released = self.pushes
        if self.fails:
            return Result.NOT_MET
        enough = steps[-1] >= SOME and steps[0] >= NONE and self.grows >= GROWS and released * GROWS <= steps[0]
        return Result.MET if enough else Result.UNDECIDED


_ORDER = (Result.NOT_MET, Result.UNDECIDED, Result.MET)


def _told(clause: Clause, worst: Course, count: int) -> Predicted:
    *steps, released = (f"{100 * each:.0f} %" for each in worst.pushes)
    pedal = ", ".join(f"{(each - ATMOSPHERE) / PSI:.0f} psi" for each in STEPS if each is not None)
    says = (f"with {worst.fault.name}, {', '.join(steps)} of the whole push as the pedal goes down by {pedal} and all the "
            f"way, each held {HOLD:g} s, {released} let go")
    chosen = (f"at least {GROWS:g} times the push from step to step, {100 * SOME:.0f} % at the end and {GROWS:g} times less than "
              "in the first step when let go, which is our choice: the clause has no figure")
    thing = worst.fault.device
    if worst.result is Result.NOT_MET:
        return Predicted(clause, worst.result, thing, f"the brakes do not follow the pedal {says}: {worst.fails}", None)
    if worst.result is Result.UNDECIDED:
        return Predicted(clause, worst.result, thing, f"how far brakes have to follow the pedal: {says}; held to {chosen}", None)
    figure = Figure("weakest step over the one before", worst.grows, GROWS, "ratio")
    return Predicted(clause, worst.result, thing, f"the brakes follow the pedal with each of {count} single leaks, the least "
                     f"{says}; held to {chosen}", figure)


def _pushes(circuit: Circuit, trace: Trace) -> tuple[float, ...]:
    """N at the end of each step, and when the pedal has been up for a while."""
    return tuple(effort(circuit, trace, time) for time in
                 (*(HOLD * (number + 1) - 0.05 for number in range(len(STEPS))), trace.end))


def _peaks(circuit: Circuit, trace: Trace) -> tuple[float, ...]:
    """N at the most in each step."""
    return tuple(max(effort(circuit, trace, HOLD * (number + (look + 1) / LOOKS) - 1e-3) for look in range(LOOKS))
                 for number in range(len(STEPS)))


QUESTION = Question("braking-by-degrees-with-a-leak", "whether the brakes follow the pedal by degrees, with a leak", answer)
