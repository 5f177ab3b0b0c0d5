"""The examples' circuits, read once, and a bench of one chamber at the end of a tube."""

from functools import cache

from circuit.model.circuit import Circuit
from circuit.pipeline import load
from tests.designs import EXAMPLES, loaded

PSI = 6894.757293168361
ATMOSPHERE = 101325.0

BENCH = """
vehicle bench: class truck
rules us-federal
axle front: position 1
reservoir tank: volume {tank} L, rated 10 bar, role service
dual-foot-valve foot: deliveries 1, full-delivery 10 bar
tube tank -> foot.11: size 1/2 in, length 1 m
tube tank -> foot.12: size 1/2 in, length 1 m
chamber left: type {type}, stroke 2.5 in, axle front, side left
chamber right: type {type}, stroke 2.5 in, axle front, side right
tube foot.21 -> left: size {size}, length {length} m
tube foot.22 -> right: size {size}, length {length} m
"""


@cache
def example(name: str) -> Circuit:
    return load(str(EXAMPLES / name / "design.air"))


@cache
def bench(tank: float = 200, type: int = 30, size: str = "3/8 in", length: float = 3) -> Circuit:
    """A large tank, a pedal, a tube of one size to each of two chambers."""
    return loaded(BENCH.format(tank=tank, type=type, size=size, length=length))
