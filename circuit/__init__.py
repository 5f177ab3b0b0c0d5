"""Airwright: a design checker for the compressed-air circuits of heavy vehicles.

The library's door; `PYTHON.md` shows it by examples. `Design(path)` is a design with its findings, sheets, drawing and runs;
`load(path)` gives a Circuit, `check(path)` a Verdict, `draw_file(path, target)` writes a drawing. A design that cannot be read
raises `Unreadable`. All results are predictions from a file and no approval.
"""

__version__ = "0.2.0"

TYPE_CHECKING = False
if TYPE_CHECKING:
    from circuit.mistake import Unreadable as Unreadable
    from circuit.model.circuit import Circuit as Circuit
    from circuit.model.places import NoSuchPlace as NoSuchPlace
    from circuit.notebook import Curves as Curves
    from circuit.notebook import Design as Design
    from circuit.notebook import Script as Script
    from circuit.notebook import Session as Session
    from circuit.notebook import Variant as Variant
    from circuit.pipeline import check as check
    from circuit.pipeline import draw_file as draw_file
    from circuit.pipeline import load as load
    from circuit.pipeline import load_source as load_source
    from circuit.source import Source as Source

_DOORS = {
    "load": "circuit.pipeline", "load_source": "circuit.pipeline", "check": "circuit.pipeline", "draw_file": "circuit.pipeline",
    "Circuit": "circuit.model.circuit", "Unreadable": "circuit.mistake", "Source": "circuit.source", "Design": "circuit.notebook",
    "Curves": "circuit.notebook", "Script": "circuit.notebook", "Session": "circuit.notebook", "Variant": "circuit.notebook",
    "NoSuchPlace": "circuit.model.places",
}

__all__ = ["__version__", *_DOORS]


def __getattr__(name: str) -> object:
    """Doors open at first use, so that `--help` pays for none of them."""
    if name in _DOORS:
        from importlib import import_module

        found: object = getattr(import_module(_DOORS[name]), name)
        return found
    raise AttributeError(f"module 'circuit' has no attribute {name!r}")
