"""Clauses of braking by degrees, decided from simulations."""

from collections.abc import Iterator

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.single import Fault, single
from circuit.faults.sorts import opens_service
from circuit.judging.evidence import Evidence
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Result
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Action, Options, Variant, simulate_many
from circuit.studies.band import QUICK
from circuit.studies.effort import SOME, effort
from circuit.studies.hands import FOOT, PSI, apply, let_go, pedals, standing
from circuit.studies.holding import fell_short
from circuit.units import ATMOSPHERE

STORED = ATMOSPHERE + 100 * PSI
STEPS = (ATMOSPHERE + 30 * PSI, ATMOSPHERE + 60 * PSI, None)
"""Absolute Pa asked of the pedal, one after the other; None is all of it. Our choice."""
HOLD = 2.0
"""s of each step and of the release; our choice."""
GROWS = 1.1
"""How much more the brakes must push from step to step, and how much less they push released; our choice."""


def service_leaks(circuit: Circuit) -> tuple[Fault, ...]:
    """Every fault that opens a line, a reservoir, a diaphragm or a fitting of the service brakes to the air."""
    system = Evidence(circuit).service_system
    return tuple(fault for fault in single(circuit) if opens_service(circuit, fault, system))


def by_degrees(circuit: Circuit, clause: Clause) -> Iterator[Predicted]:
    """571.121 S5.7.2: with each single leak the brakes follow the pedal up in steps and let go."""
    if not pedals(circuit) or not circuit.having(Trait.SERVICE_ACTUATOR):
        return
    actions: list[Action] = []
    for number, demand in enumerate(STEPS):
        actions += apply(circuit, number * HOLD, demand, FOOT)
    actions += let_go(circuit, len(STEPS) * HOLD, FOOT)
    leaks = service_leaks(circuit)
    variants = [Variant("whole"), *(Variant(fault.name, fault.parts) for fault in leaks)]
    whole, *traces = simulate_many(circuit, standing(circuit, STORED, *actions), variants, (len(STEPS) + 2) * HOLD,
                                   options=Options(exponent=QUICK))
    if not leaks:
        return
    if not all(trace.complete for trace in (whole, *traces)):
        yield fell_short(clause)
        return
    most = _pushes(circuit, whole)[-2]
    if most <= 0.0:
        return
    shares = [tuple(each / most for each in _pushes(circuit, trace)) for trace in traces]
    failed = [(fault, share) for fault, share in zip(leaks, shares) if not _follows(share)]
    fault, share = min(failed or zip(leaks, shares), key=lambda each: each[1][-2])
    *steps, released = (f"{100 * each:.0f} %" for each in share)
    pedal = ", ".join(f"{(each - ATMOSPHERE) / PSI:.0f} psi" for each in STEPS if each is not None)
    says = (f"with {fault.name}, {', '.join(steps)} of the whole push as the pedal goes down by {pedal} and all the "
            f"way, {released} let go")
    yield Predicted(clause, Result.NOT_MET if failed else Result.MET, fault.device,
                    f"the brakes do not follow the pedal {says}" if failed else
                    f"the brakes follow the pedal with each of {len(leaks)} single leaks, the least {says}", None)


def _pushes(circuit: Circuit, trace: Trace) -> tuple[float, ...]:
    """N at the end of each step, and when the pedal has been up for a while."""
    return tuple(effort(circuit, trace, time) for time in
                 (*(HOLD * (number + 1) - 0.05 for number in range(len(STEPS))), trace.end))


def _follows(share: tuple[float, ...]) -> bool:
    """Whether each step brings more, the last one emergency braking, and a release lets go."""
    *steps, released = share
    rises = all(later >= GROWS * earlier for earlier, later in zip(steps, steps[1:]))
    return steps[-1] >= SOME and steps[0] > 0.0 and rises and released * GROWS <= steps[0]
