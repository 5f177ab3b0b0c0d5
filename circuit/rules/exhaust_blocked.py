"""A valve's exhaust is plugged, or piped to where no air gets out.

Why
---
A plug in an exhaust looks tidy, and paint, mud or a forgotten shipping plug do the same. The valve can then put air in
and never let it out.

What happens
------------
What the valve should empty stays charged: the brake it serves does not release, or a spring brake does not come on.

What is not checked
-------------------
Whether an exhaust points down and is shielded from mud and ice.

Bad
---
    quick-release-valve release
    plug release.3

Good
----
    quick-release-valve release
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Role, Trait
from circuit.judging.causes import unplug
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met
from circuit.model.devices import SPACE_OUTSIDE


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    free = 0
    for device, port in circuit.ports():
        if port.role is not Role.EXHAUST:
            continue
        key = (device.name, port.number)
        if circuit.space[key] == SPACE_OUTSIDE:
            free += 1
        elif key in circuit.plugged:
            yield not_met(device.name, circuit.plugged[key], f"the exhaust {device.name}.{port.number} is plugged",
                        f"take the plug out of {device.name}.{port.number}",
                        also=((device.span, device.kind.title.lower()),),
                        mend=unplug(device, port.number))
        else:
            spaces = evidence.zone(circuit.space[key])
            if any(circuit.on_space(space, Trait.OPEN_END) for space in spaces):
                free += 1
            else:
                line = next((d for d in circuit.devices if d.ends and key in d.ends), device)
                yield not_met(device.name, line.span,
                            f"the exhaust {device.name}.{port.number} is piped to "
                            f"{circuit.space_name(circuit.space[key])} and does not reach the open air",
                            "leave it open, or end its line with an open-end",
                            mend=unplug(device, port.number))
    if free:
        yield met("exhausts", circuit.vehicle.span, f"{free} exhausts are free")


RULE = Rule("exhaust-blocked", "every exhaust is free", "error", check)
