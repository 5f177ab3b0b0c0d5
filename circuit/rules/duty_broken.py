"""A place of the vehicle does not do what it is there for.

Why
---
Each chamber, head, valve, reservoir and user has something to do in each state of hands and feet, and when a store is lost.
A mistake that no other rule knows by its name still breaks one of these duties.

What happens
------------
A brake, a head or a user does not do its part in the state that is named.

What is not checked
-------------------
Figures and times: the states are those of rest, and what is a question of time is decided by a simulation.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    governor gov: cut-in 7 bar, cut-out 8.5 bar
    tube dry -> gov.1: size 1/4 in, length 1 m
    tube gov.2 -> pump.4: size 1/4 in, length 1 m
    plug gov.2
    foot-valve foot: deliveries 2
    tube dry -> foot.1: size 1/2 in, length 5 m
    tube foot.2 -> relay.1: size 3/8 in, length 2 m
    tube foot.2 -> relay.4: size 3/8 in, length 2 m
    relay-valve relay: deliveries 1
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube relay.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    governor gov: cut-in 7 bar, cut-out 8.5 bar
    tube dry -> gov.1: size 1/4 in, length 1 m
    tube gov.2 -> pump.4: size 1/4 in, length 1 m
    plug gov.2
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    tube dry -> relay.1: size 1/2 in, length 2 m
    tube foot.2 -> relay.4: size 3/8 in, length 2 m
    relay-valve relay: deliveries 1
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube relay.2 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit import duties
from circuit.duties.duty import Entry, Kept
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Result, Rule, met, undecided


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    vehicle = evidence.circuit.vehicle
    held = duties.held(evidence)
    for each in held:
        if each.found.kept is Kept.OPEN:
            yield undecided(each.found.place, each.found.at, f"{each.found.place} has to {each.duty.does}", each.found.says)
        elif each.is_broken:
            yield _broken(each)
    kept = [each for each in held if each.found.kept is Kept.KEPT]
    if kept:
        yield met(vehicle.name, vehicle.span, f"{len(kept)} of {len(held)} duties are kept; airwright duties lists them")


def _broken(each: Entry) -> Answer:
    found = each.found
    return Answer(Result.NOT_MET, found.place, found.at, f"{found.place} has to {each.duty.does}: {found.when}, {found.says}",
                  each.duty.mend, severity=each.duty.severity, explained_by=each.duty.explained_by,
                  known_as=each.duty.name)


RULE = Rule("duty-broken", "each place does what it is there for", "error", check, missing=True)
