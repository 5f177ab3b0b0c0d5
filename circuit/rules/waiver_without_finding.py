"""A waiver accepts a finding that is not there.

Why
---
A waiver is a signature under one known deviation. When the design has changed and the finding is gone, the signature
stays behind and may one day cover something else.

What happens
------------
A later mistake of the same kind at the same place would be accepted without anybody looking.

What is not checked
-------------------
Whether the reason given is a good one, or whether who gave it may give it.

Bad
---
    reservoir tank: volume 40 L, rated 10 bar, role service
    drain tap: on tank
    waive reservoir-without-drain: at tank, because "drained at the workshop"

Good
----
    reservoir tank: volume 40 L, rated 10 bar, role service
    waive reservoir-without-drain: at tank, because "drained at the workshop"
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    """Says nothing by itself: `judge` asks for it once all other rules have spoken."""
    yield from ()


RULE = Rule("waiver-without-finding", "waivers accept findings that are there", "warning", check)
