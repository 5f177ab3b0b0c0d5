"""Fit: two ports nippled together, with no line between them."""

from circuit.declaring.kind import Kind
from circuit.declaring.lines import LINE_PORTS
from circuit.declaring.traits import Group, Trait

KIND = Kind(
    name="fit",
    title="Direct fit",
    group=Group.LINES,
    purpose="Joins two ports that are screwed together.",
    behaviour="The two ports are one space.",
    ports=LINE_PORTS,
    traits=frozenset({Trait.LINE, Trait.DIRECT}),
)
