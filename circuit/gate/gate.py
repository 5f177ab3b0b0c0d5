"""A project's gate: its policy, what it knew before, and the root of its files; every design goes through it."""

from typing import NamedTuple

from circuit.gate import baseline, governed
from circuit.gate.baseline import Known
from circuit.gate.policy import Policy
from circuit.model.circuit import Circuit
from circuit.verdict.judge import Verdict


class Gate(NamedTuple):
    """policy: what is asked. known: by design, from the baseline. root: under which designs may bring in files, or ""."""

    policy: Policy = Policy()
    known: dict[str, Known] = {}
    root: str = ""

    def begun(self, design: Circuit) -> Circuit:
        """A design as it is judged: with the waivers that count."""
        known = self._known(design)
        return governed.begun(design, self.policy, known.findings if known else ())

    def sets(self, design: Circuit, chosen: tuple[str, ...]) -> tuple[str, ...]:
        """The sets that it is held to."""
        return governed.sets_of(design, self.policy, chosen)

    def ended(self, verdict: Verdict, design: Circuit) -> Verdict:
        """The verdict with what the policy misses, and what is not asked any more."""
        known = self._known(design)
        return governed.ended(verdict, self.policy, design, known.asked if known else None)

    def _known(self, design: Circuit) -> Known | None:
        return self.known.get(baseline.name_in(self.policy.baseline, design.source.name)) if self.policy.baseline else None


def opened(found: Policy, root: str = "") -> Gate:
    """The gate of a policy, with the baseline that it names. Raises Misruled."""
    return Gate(found, baseline.read(found.baseline) if found.baseline else {}, root)
