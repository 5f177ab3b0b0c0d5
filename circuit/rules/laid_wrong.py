"""One line or part stands where it should not, and several places suffer from it.

Why
---
A line at a wrong port shows at the brakes that it should have fed. Who mends there mends the victims.

What happens
------------
The places that are put under this finding do not do their part, and mending them one by one does not help.

What is not checked
-------------------
What was meant. Single changes are tried on the circuit, and this is the one after which most duties are kept again and none is
broken that was kept before; another may be what you want.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    governor gov: cut-in 7 bar, cut-out 8.5 bar
    tube dry -> gov.1: size 1/4 in, length 1 m
    tube gov.2 -> pump.4: size 1/4 in, length 1 m
    plug gov.2
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    relay-valve relay: deliveries 2
    tube dry -> relay.1: size 1/2 in, length 2 m
    tube foot.2 -> relay.4: size 3/8 in, length 2 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    chamber right: type 20, stroke 2.25 in, axle front, side right
    tube dry -> left: size 3/8 in, length 2 m
    tube relay.2 -> right: size 3/8 in, length 2 m
    plug relay.2

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
    relay-valve relay: deliveries 2
    tube dry -> relay.1: size 1/2 in, length 2 m
    tube foot.2 -> relay.4: size 3/8 in, length 2 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    chamber right: type 20, stroke 2.25 in, axle front, side right
    tube relay.2 -> left: size 3/8 in, length 2 m
    tube relay.2 -> right: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    """Says nothing by itself: `verdict` asks for it once all other rules have spoken."""
    yield from ()


RULE = Rule("laid-wrong", "no single line or part lets several places suffer", "error", check)
