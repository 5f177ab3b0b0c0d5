"""Whether the springs can be let on and lifted once when users of air have burst.

What happens
------------
After a burst of what is no brake the vehicle cannot be moved.

Mend
----
Put a check valve or a protection valve between what fails and what is to be kept: airwright faults tells what each
failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.asking import Asked, Found, Runs, least_spring, of_faults, played
from circuit.faults.sorts import users_on_the_springs
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.sim import Script, pull, push

SETTLED, AGAIN, ENDS = 60.0, 70.0, 80.0
"""s at which the springs are let on, lifted again, and looked at; our choice."""


def answer(asked: Asked, clause: Clause) -> Found | None:
    runs = asked.once(_released_once, clause)
    if runs is None:
        return None

    def spare(trace: Trace, spring: Device) -> float:
        return float(trace.last(asked.circuit.spring_space(spring)) - spring.settings["holds-off-at"])

    return least_spring(asked, runs, spare, "lifted again", lambda worst: f"the least is left with {worst.fault.name}")


def _released_once(asked: Asked, clause: Clause) -> Runs:
    """Users of air lost, the engine off; when that has settled the park control is worked once to and fro."""
    circuit, faults = asked.circuit, users_on_the_springs(asked.study)
    controls = [device for device in circuit.having(Trait.PARK_CONTROL) if device.kind.when.get("parked")]
    if not faults or not controls or not asked.study.whole.springs:
        return None
    actions = [*(pull(device.name, SETTLED) for device in controls), *(push(device.name, AGAIN) for device in controls)]
    return played(asked, faults, Script(tuple(actions)), ENDS)


QUESTION = of_faults("springs-released-after-auxiliaries-burst",
                     "whether the springs can be released once when auxiliaries have burst", answer)
