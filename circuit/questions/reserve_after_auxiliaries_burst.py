"""What the brakes' reserves keep of their warning level when users of air burst, the engine off.

What happens
------------
A burst of what is no brake takes the air of the brakes.

Mend
----
Put a check valve or a protection valve between what fails and what is to be kept: airwright faults tells what each
failure takes and leaves.
"""

from circuit.clauses import Clause
from circuit.declaring.traits import Trait
from circuit.faults.asking import Asked, Found, of_faults
from circuit.faults.sorts import losses_by_users
from circuit.judging.rule import Figure


def answer(asked: Asked, clause: Clause) -> Found | None:
    circuit = asked.circuit
    levels: dict[str, float] = {}
    for switch in circuit.having(Trait.WARNS_LOW):
        if switch.settings["on-below"] is not None:
            levels |= {tank.name: switch.settings["on-below"] for tank in circuit.reservoirs_for("service", "parking")
                       if circuit.store(tank) in asked.study.whole.zone(circuit.store(switch))}
    rows = [(tank.kept - levels[tank.name], place, tank, effect)
            for place, effect in enumerate(losses_by_users(asked.study)) for tank in effect.tanks if tank.name in levels]
    if not rows:
        return None
    _, _, tank, effect = min(rows, key=lambda row: row[:2])
    figure = Figure(f"{tank.name} keeps", tank.kept, levels[tank.name], "pressure")
    return Found(figure.margin >= 0, effect, f"{tank.name} keeps the least over its warning with {effect.fault.name}", figure)


QUESTION = of_faults("reserve-after-auxiliaries-burst", "what the brakes' reserves keep when auxiliaries burst", answer)
