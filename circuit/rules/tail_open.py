"""A rear coupling head of the last vehicle is open to the air.

Why
---
A vehicle that may tow ends in two heads. When nothing follows, its cocks must be shut or its heads closed.

What happens
------------
The supply line cannot build and everything behind the towing vehicle stays locked, or the control line's air is lost at
each application.

What is not checked
-------------------
Whether a cock stands on the road as the design says it stands.

Bad
---
    combination rig
    vehicle truck: file "truck-towing/design.air"
    vehicle dolly: file "converter-dolly/design.air"
    couple truck.supply-head -> dolly.supply-head
    couple truck.control-head -> dolly.control-head
    set dolly.supply-cock and dolly.control-cock: state open

Good
----
    combination rig
    vehicle truck: file "truck-towing/design.air"
    vehicle dolly: file "converter-dolly/design.air"
    couple truck.supply-head -> dolly.supply-head
    couple truck.control-head -> dolly.control-head
    set dolly.supply-cock and dolly.control-cock: state shut
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    for head in circuit.having(Trait.COUPLES_VEHICLES):
        if not head.settings["loose"] or head.settings["end"] != "rear":
            continue
        space = circuit.store(head)
        fed = evidence.filled_if_closed(head)
        if not fed:
            yield met(head.name, head.span, f"{head.name} is shut off")
        elif head.settings["capped"] or head.settings["seals"] == "yes":
            yield met(head.name, head.span, f"{head.name} is closed")
        else:
            cocks = [d for s in evidence.zone(space) for d in circuit.on_space(s, Trait.SHUTS_BY_HAND)]
            remedy = f"set {cocks[0].name}: state shut" if cocks else f"put a dummy coupling on {head.name}"
            yield not_met(head.name, head.span, f"{head.name} is the last head and open to the air while air comes to it",
                        remedy, also=tuple((cock.span, "its cock stands open") for cock in cocks[:1]))


RULE = Rule("tail-open", "the last vehicle's rear heads are closed", "error", check, missing=True)
