"""The section pictures of a page: each kind's once, and for each part why its passages open, as weighted sums.

The page moves a picture by how far the engine has the passages open; the sums are only for its sentence.
"""

import json
from typing import Any

from circuit import sections
from circuit.declaring.kind import Kind, Latch
from circuit.declaring.section import Section
from circuit.draw.cutaway import LEAST, LEVEL, SHUT
from circuit.draw.cutaway_looks import definitions
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.report.inside.openings import WIDE, Inside
from circuit.report.inside.picture import picture
from circuit.report.inside.posed import posed
from circuit.report.inside.reasons import EMPTY, tree_of
from circuit.report.inside.sentence import KEPT_BACK
from circuit.report.page.live import squeezed
from circuit.sim.tracing import ONE, Choice, Sum, Tree
from circuit.units import ATMOSPHERE

PREFIX = "i-"
"""Of the ids in a picture; a page shows one at a time."""


def cutaways(circuit: Circuit) -> str:
    """Everything that the page needs for it, as text."""
    kinds: dict[str, Any] = {}
    parts: dict[str, Any] = {}
    told: dict[str, int] = {}
    for device in circuit.devices:
        section = sections.find(device.kind)
        if section is None:
            continue
        if device.kind.name not in kinds:
            kinds[device.kind.name] = _kind(device.kind, section)
        reasons = json.dumps(_reasons(device), separators=(",", ":"))
        parts[device.name] = [device.kind.name, told.setdefault(reasons, len(told))]
    limits = {"shut": SHUT, "least": LEAST, "level": LEVEL, "wide": WIDE, "empty": EMPTY - ATMOSPHERE, "kept": KEPT_BACK}
    data = {"kinds": kinds, "parts": parts, "reasons": [json.loads(words) for words in told], "limits": limits,
            "looks": definitions(PREFIX, "light", True)}
    return squeezed(json.dumps(data, separators=(",", ":")).encode())


def _kind(kind: Kind, section: Section) -> dict[str, Any]:
    """What is the same for all parts of a kind."""
    return {
        "title": kind.title,
        "svg": picture(posed(kind, section, section.poses[0]), section, kind.title, prefix=PREFIX, live=True),
        "moves": {name: {"by": dict(move.by), "dx": move.dx * 10, "dy": move.dy * 10, "low": move.low, "high": move.high,
                         **({"turn": [move.turn[0] * 10, move.turn[1] * 10, move.turn[2]]} if move.turn else {})}
                  for name, move in section.moves.items()},
        "courses": {name: [course.port, course.knots] for name, course in section.courses.items()},
        "higher": {name: list(ports) for name, ports in section.higher.items()},
        "pump": kind.source is not None, "note": section.note,
        "ports": [[port.number, port.role.value] for port in kind.ports],
        "rest": dict(kind.rest), "sets": {latch.variable: latch.sets is not None for latch in kind.latches},
        "ways": [[passage.start, passage.end, passage.both_ways, passage.says, passage.narrow, passage.opening is None]
                 for passage in kind.passages],
    }


def _reasons(device: Device) -> dict[str, Any]:
    """Why the passages of a part open: trees of weighted sums, and where its latches snap over."""
    inside = Inside(device.kind, device.settings, {}, device.kind.rest)
    trees = [tree_of(inside, passage.opening) if passage.opening is not None else None for passage in device.kind.passages]
    found: dict[str, Any] = {"trees": [None if tree is None else _tree(tree) for tree in trees]}
    found["latches"] = {latch.variable: _latch(inside, latch) for latch in device.kind.latches}
    if device.kind.source is not None and (tree := tree_of(inside, device.kind.source.rests)) is not None:
        found["rests"] = _tree(tree)
    if (off := device.settings.get("holds-off-at")) is not None:
        found["off"] = off
    return found


def _latch(inside: Inside, latch: Latch) -> list[Any]:
    """Where it snaps back and over, as sums; null where only a hand does, or where it is no single sum. With the name of
    the setting that the sum holds, so that a screw which is turned counts."""
    found: list[Any] = []
    for moment in (latch.resets, latch.sets):
        tree = tree_of(inside, moment, with_state=False) if moment is not None else None
        if not isinstance(tree, Sum):
            found.append(None)
            continue
        held = [name for name, value in inside.settings.items() if isinstance(value, float) and abs(abs(tree.number) - value) < 1]
        found.append([_sum(tree), held[0] if held else ""])
    return found


def _tree(tree: Tree) -> Any:
    return [_sum(tree.asks), _tree(tree.yes), _tree(tree.no)] if isinstance(tree, Choice) else _sum(tree)


def _sum(found: Sum) -> dict[str, Any]:
    """c: constant. p, u: weights by port and by state variable. f: weight, port and the sum that is its factor."""
    made: dict[str, Any] = {"c": found.weights.get(ONE, 0.0)}
    for letter in "pu":
        weights = {name: weight for (what, name), weight in found.weights.items() if what == letter and weight}
        if weights:
            made[letter] = weights
    if found.products:
        made["f"] = [[weight, port, _sum(factor)] for (factor, (_, port)), weight in found.products.items()]
    return made
