"""Airwright: a design checker for the compressed-air circuits of heavy vehicles.

The library's door. `load(path)` gives a Circuit, `check(path)` a Verdict, `draw_file(path, target)` writes a drawing; a
design that cannot be read raises `Unreadable`. All results are predictions from a file and no approval.
"""

__version__ = "0.2.0"

_DOORS = {
    "load": "circuit.pipeline", "load_source": "circuit.pipeline", "check": "circuit.pipeline",
    "draw_file": "circuit.pipeline", "Circuit": "circuit.model.circuit", "Unreadable": "circuit.mistake",
    "Source": "circuit.source",
}

__all__ = ["__version__", *_DOORS]


def __getattr__(name: str):  # type: ignore[no-untyped-def]
    """Doors open at first use, so that `--help` pays for none of them."""
    if name in _DOORS:
        from importlib import import_module

        return getattr(import_module(_DOORS[name]), name)
    raise AttributeError(f"module 'circuit' has no attribute {name!r}")
