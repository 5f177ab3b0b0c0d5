"""Small designs for the simulation's tests."""

from functools import cache
from pathlib import Path

from circuit.pipeline import load, load_source
from circuit.source import Source
from circuit.units import ATMOSPHERE

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
PSI = 6894.757293168
BAR = 1e5
HEAD = "vehicle x: class truck\nrules us-federal\naxle front: position 1\n"


@cache
def example(name):
    """An example's circuit."""
    return load(str(EXAMPLES / name / "design.air"))


@cache
def built(text):
    """The circuit of a few statements."""
    return load_source(Source("test.air", HEAD + text))


def gauge(psi):
    """Absolute Pa of a gauge pressure in psi."""
    return ATMOSPHERE + psi * PSI
