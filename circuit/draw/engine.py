"""All talk with a layout engine (Graphviz): finding one that runs, and asking it for the order in the columns.

The engine that a Python dependency brings comes first, then a `dot` on the path. Without one the drawing does without.
"""

import os
import shutil
import sys
import sysconfig
from functools import cache
from pathlib import Path

from circuit.draw.cannot import CannotDraw
from circuit.draw.field import Field, Item
from circuit.draw.parts import LEFT


@cache
def found() -> Path | None:
    """The engine's program: the one AIRWRIGHT_DOT names, one beside the interpreter, or `dot` on the path.

    None where there is none, or AIRWRIGHT_DOT is empty. Raises CannotDraw where it names no file.
    """
    wish = os.environ.get("AIRWRIGHT_DOT")
    if wish == "":
        return None
    if wish is not None:
        if not Path(wish).is_file():
            raise CannotDraw(f"AIRWRIGHT_DOT names `{wish}`, and there is no such file: name a layout engine's program, or "
                             "unset it")
        return Path(wish)
    program = "graphviz-pure" + (".exe" if os.name == "nt" else "")
    for folder in (Path(sys.executable).parent, Path(sysconfig.get_path("scripts"))):
        if (folder / program).is_file():
            return folder / program
    other = shutil.which(program) or shutil.which("dot")
    return Path(other) if other else None


def run(text: str) -> bytes | None:
    """The engine's answer to a graph, as JSON, or None when there is no engine or it fails."""
    program = found()
    if program is None:
        return None
    try:
        import graphviz.backend.dot_command as command
        from graphviz import ExecutableNotFound, pipe_string
    except ImportError:
        return None
    import subprocess

    before = command.DOT_BINARY
    command.DOT_BINARY = program
    try:
        answer: str = pipe_string("dot", "json", text, encoding="utf-8")
        return answer.encode("utf-8")
    except (ExecutableNotFound, subprocess.SubprocessError, OSError):
        return None
    finally:
        command.DOT_BINARY = before


def runs() -> bool:
    """Whether there is an engine that answers."""
    return run("digraph {}") is not None


def order(target: Field) -> dict[int, float] | None:
    """Heights of the items as the engine orders them, by id of the item, or None without an engine."""
    import json

    names: dict[int, str] = {}
    rows = ["digraph {", "rankdir=LR; ranksep=0.6; nodesep=0.15; newrank=true; splines=line; node [shape=plain]"]
    for c, column in enumerate(target.columns):
        rows.append(f"subgraph {{ rank=same; c{c} [shape=point, width=0]")
        for i, item in enumerate(column):
            names[id(item)] = f"n{c}_{i}"
            rows.append(f"{names[id(item)]} {_cells(item)}")
        rows.append("}")
    rows.append(" -> ".join(f"c{c}" for c in range(len(target.columns))) + " [weight=100, style=invis]")
    for channel in target.channels:
        for points in channel.values():
            for one in points:
                for other in one.mates:
                    if one.side != LEFT and other.side == LEFT:
                        straight = one.slot is None and other.slot is None
                        rows.append(f"{_end(names, one)}:e -> {_end(names, other)}:w [weight={4 if straight else 1}]")
    rows.append("}")
    answer = run("\n".join(rows))
    if answer is None:
        return None
    places = {node["name"]: node.get("pos", "0,0") for node in json.loads(answer).get("objects", ())}
    return {key: -float(places.get(name, "0,0").split(",")[1]) for key, name in names.items()}


def _end(names: dict[int, str], point) -> str:  # type: ignore[no-untyped-def]
    name = names[id(point.item)]
    return name if point.slot is None else f"{name}:p{point.item.points.index(point)}"


def _cells(item: Item) -> str:
    """A table with a cell for every port, those of each side one below the other."""
    if item.body is None:
        return "[shape=point, width=0.01]"
    sides: tuple[list[str], list[str]] = ([], [])
    for place, point in sorted(enumerate(item.points), key=lambda pair: (pair[1].dy, pair[0])):
        sides[0 if point.side == LEFT else 1].append(f'<TD PORT="p{place}" HEIGHT="14" WIDTH="20"></TD>')
    tables = [
        '<TD><TABLE BORDER="0" CELLSPACING="0">' + "".join(f"<TR>{cell}</TR>" for cell in side) + "</TABLE></TD>"
        if side else '<TD WIDTH="20"></TD>'
        for side in sides
    ]
    return '[label=<<TABLE BORDER="0" CELLSPACING="0"><TR>' + "".join(tables) + "</TR></TABLE>>]"
