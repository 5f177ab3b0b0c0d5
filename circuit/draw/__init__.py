"""Drawing a circuit: SVG, PDF, PNG, DXF, and the plain text for a layout engine.

Nothing is imported until something is drawn.
"""

from pathlib import Path
from typing import TYPE_CHECKING, Any

from circuit.draw.cannot import CannotDraw as CannotDraw

if TYPE_CHECKING:
    from circuit.declaring.kind import Kind
    from circuit.draw.marks import Mark
    from circuit.draw.pressure import Reading
    from circuit.model.circuit import Circuit

SUFFIXES = ("svg", "pdf", "png", "dxf", "dot", "gv")


def __getattr__(name: str) -> Any:
    if name == "Mark":
        from circuit.draw.marks import Mark

        return Mark
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def svg(circuit: "Circuit", marks: "tuple[Mark, ...]" = (), ink: bool = False, reading: "Reading | None" = None,
        search: int = 1) -> str:
    """The schematic as SVG text.

    marks: findings to flag. ink: without colour. reading: pressures to colour it by. search: how many times as long as
    by default to look for an order with few crossings.
    """
    from circuit.draw.fold import lay_out_circuit
    from circuit.draw.paint import picture

    return picture(lay_out_circuit(circuit, search), tuple(marks), ink, reading)


draw_svg = svg


def dot_text(circuit: "Circuit") -> str:
    """The circuit as plain text for Graphviz: a node with port cells for each device, in its stage's column."""
    from circuit.draw.dot import source

    return source(circuit)


def write(circuit: "Circuit", path: "str | Path", marks: "tuple[Mark, ...]" = (), reading: "Reading | None" = None,
          search: int = 1) -> None:
    """Draw into a file, in the format its suffix says.

    Raises ValueError for another suffix and CannotDraw when something needed is not installed.
    """
    from circuit.writing import write as whole

    path = Path(path)
    suffix = path.suffix.lower().lstrip(".")
    if suffix not in SUFFIXES:
        raise ValueError(f"a drawing is written as .svg, .pdf, .png, .dxf or .dot (also .gv), not as `{path.name}`")
    if suffix in ("dot", "gv"):
        whole(path, dot_text(circuit))
        return
    _exported(svg(circuit, marks, reading=reading, search=search), path)


def write_symbol(kind: "Kind", path: "str | Path") -> None:
    """A kind's symbol with its ports named, into a file. Raises as `write` does."""
    from circuit.draw.symbol_sheet import symbol_sheet

    path = Path(path)
    if path.suffix.lower().lstrip(".") not in SUFFIXES[:4]:
        raise ValueError(f"a symbol is written as .svg, .pdf, .png or .dxf, not as `{path.name}`")
    _exported(symbol_sheet(kind), path)


def _exported(picture: str, path: Path) -> None:
    """SVG text into a file, in the format its suffix says."""
    from circuit.writing import write as whole

    suffix = path.suffix.lower().lstrip(".")
    if suffix == "svg":
        whole(path, picture)
    elif suffix == "dxf":
        from circuit.draw.dxf import dxf

        whole(path, dxf(picture))
    else:
        from circuit.draw import export

        whole(path, export.pdf(picture) if suffix == "pdf" else export.png(picture))
