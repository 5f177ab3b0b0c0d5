"""Whether each service reservoir fills again, the compressor running, when another has burst.

What happens
------------
With one circuit burst the compressor fills no other, and all are used up.

Mend
----
Choose a protection that shuts the burst circuit off above what is to be kept: airwright faults tells what each
failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.faults.asking import Asked, Found, Runs, of_faults, played
from circuit.faults.sorts import holes, losses_of
from circuit.judging.rule import Figure
from circuit.model.air import full_pressure
from circuit.sim import Action, Script
from circuit.studies.hands import apply, let_go
from circuit.units import ATMOSPHERE

APPLICATIONS = (20.0, 30.0, 40.0)
HELD = 5.0
REFILLED = 300.0
"""s at which the pedal goes down after a burst, for which it stays there, and after which one looks; our choice."""
RISE = 0.1e5
"""Pa by which a reservoir has to rise to count as fed; our choice."""


def answer(asked: Asked, clause: Clause) -> Found | None:
    runs, rows = asked.once(_burst_running, clause), []
    if runs is None:
        return None
    for place, (effect, trace) in enumerate(runs):
        gone = holes(asked.circuit, effect.fault)
        for tank in asked.tanks:
            store = asked.circuit.store(tank)
            if not gone & asked.study.whole.zone(store):
                used = trace.lowest(store, APPLICATIONS[-1], APPLICATIONS[-1] + HELD)
                rows.append((trace.last(store) - used, place, tank, used))
    if not rows:
        return None
    risen, place, tank, used = min(rows, key=lambda row: row[:2])
    figure = Figure(f"{tank.name} from {(used - ATMOSPHERE) / 1e5:.1f} bar", used + risen, used + RISE, "pressure")
    return Found(figure.margin >= 0, runs[place][0], f"after {len(APPLICATIONS)} applications with {runs[place][0].fault.name} "
                 f"{tank.name} {'fills again' if figure.margin >= 0 else 'does not fill again'}", figure)


def _burst_running(asked: Asked, clause: Clause) -> Runs:
    """Each service reserve burst, some applications, and the compressor running."""
    circuit, faults = asked.circuit, losses_of(asked.study, "service")
    if len(faults) < 2:
        return None
    actions: list[Action] = []
    for at in APPLICATIONS:
        actions += [*apply(circuit, at, rig=full_pressure(circuit)), *let_go(circuit, at + HELD)]
    return played(asked, faults, Script(tuple(actions)), REFILLED, running=True)


QUESTION = of_faults("feeding-after-a-burst", "whether each reservoir goes on being fed when another has burst", answer)
