"""What the page plays by itself: the engine, the circuit's rows, its hands and failures, packed for the page's worker."""

import json
import zlib
from base64 import b64encode
from collections.abc import Iterator
from typing import Any

from circuit.gas.flow import SHARP_HOLE
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.report.page import by_hand, prepared
from circuit.sim import Engine, Script, machine
from circuit.sim.carried import Carried, carried
from circuit.sim.variants import by_owner
from circuit.units import ATMOSPHERE, to_si

STEP = {"psi": to_si("10 psi", "difference"), "bar": to_si("0.5 bar", "difference")}
"""From one starting pressure of the reservoirs to the next; our choice."""
ROWS = ("el_mode", "el_flow", "el_odd", "el_ratio", "el_inverse", "el_sub", "af_constant", "at_weight", "it_weight",
        "pr_weight", "la_live", "la_slot", "nd_start", "nd_per", "nd_slope", "pc_pressure", "pc_held", "pc_1", "pc_2", "pc_3",
        "pc_4")
TAIL = ("el_a", "el_b", "el_way", "el_gate", "el_root", "el_mode", "el_flow", "el_ratio", "el_inverse", "el_sub", "el_aa",
        "el_ab", "el_ba", "el_bb", "el_leaf")
"""Rows of elements, which failures that stand are put at the end of."""


def live(circuit: Circuit, spaces: list[int], unit: str) -> str:
    """Everything the page's worker needs, as text. spaces: in the order of the page."""
    found, ready = by_hand.hands(circuit), prepared.prepared(circuit)
    by_hands = [way.action for hand in found for way in hand.ways]
    board = carried(circuit, [*by_hands, *prepared.actions_of(ready)])
    inputs = board.network.sums.inputs
    moved = {"hands": list(by_hand.as_data(found, board.deeds[:len(by_hands)], inputs)),
             "prepared": list(prepared.as_data(ready, board.deeds[len(by_hands):], inputs))}
    return squeezed(json.dumps({**_data(circuit, board, spaces, unit, ready), **moved}, separators=(",", ":")).encode())


def squeezed(data: bytes) -> str:
    """Bytes as text: deflated, base64."""
    press = zlib.compressobj(9, zlib.DEFLATED, -15)
    return b64encode(press.compress(data) + press.flush()).decode()


def _data(circuit: Circuit, board: Carried, spaces: list[int], unit: str, ready: list[prepared.Prepared]
          ) -> dict[str, Any]:
    a, image, network = board.problem.arrays, board.image, board.network
    inputs = network.sums.inputs
    return {
        "code": squeezed(machine.binary()), "image": squeezed(bytes(image.data)), "size": image.size,
        "arrays": image.arrays, "room": image.room, "method": image.method,
        "tolerance": board.problem.options.tolerance, "ambient": network.ambient, "sharp": SHARP_HOLE,
        "at": {"a": {name: image.places[f"a.{name}"] for name in (*dict.fromkeys((*ROWS, *TAIL)), "elements", "odds")},
               "room": {name.removeprefix("room."): place for name, place in image.places.items() if name.startswith("room.")}},
        "whole": [name for name in (*ROWS, *TAIL) if machine.ARRAYS.fields[name].kind == "i32[]"],
        "tail": TAIL, "nodes": a.nodes, "outside": a.outside, "elements": a.elements, "own": board.own, "odd": a.el_odd,
        "inputs": [" ".join(key) for key in inputs], "latches": [latch[0] for latch in network.sums.latches],
        "sizes": {name: len(getattr(a, name)) for name in ROWS}, "first_step": a.first_step,
        "node": [network.nodes.get(space, -1) for space in spaces],
        "places": {name: node for name, node in _places(circuit, board)},
        "ways": _ways(circuit, board), "ends": [[a.el_a[e], a.el_b[e]] for e in range(board.own)],
        "failures": [[part, name, {**_change(board, change), "drifts": board.drifts.get((part, name), ())}]
                     for (part, name), change in board.failures.items()],
        "leaks": {str(node): place for node, place in board.leaks.items()},
        "turns": [[turn.device, turn.setting, circuit.by_name[turn.device].settings[turn.setting], turn.moves]
                  for turn in board.turns],
        "orders": {name: list(_orders(circuit, name)) for name in dict.fromkeys(turn.device for turn in board.turns)},
        **_starts(circuit, board, unit, ready),
    }


def _places(circuit: Circuit, board: Carried) -> Iterator[tuple[str, int]]:
    """A place to bore a hole for every space, as a trial names it."""
    for device in circuit.devices:
        if device.is_line:
            continue
        for port in device.kind.ports:
            space = circuit.space.get((device.name, port.number), -1)
            if space in board.network.nodes:
                yield f"{device.name}.{port.number}", board.network.nodes[space]


def _ways(circuit: Circuit, board: Carried) -> dict[str, list[list[int]]]:
    """The elements of every passage of every part, in the order in which its kind declares them; a pump's come last."""
    owned = by_owner(board.network)
    found: dict[str, list[list[int]]] = {}
    for device in circuit.devices:
        rows = [owned.get((device.name, p.start, p.end), []) for p in device.kind.passages]
        if device.kind.source is not None:
            rows.append(owned.get((device.name, device.kind.source.inlet, device.kind.source.port), []))
        found[device.name] = [[e for e in row if e < board.own] for row in rows]
    return found


def _orders(circuit: Circuit, name: str) -> Iterator[tuple[str, float, str, float, bool]]:
    """Which of a part's settings stays below which, with their values: a hand may not turn one past the other."""
    device = circuit.by_name[name]
    for low, high, equal in device.kind.orders:
        if device.settings.get(low) is not None and device.settings.get(high) is not None:
            yield low, float(device.settings[low]), high, float(device.settings[high]), equal


def _change(board: Carried, change: Any) -> dict[str, Any]:
    """modes, flows: of elements. adds: extras. held: inputs."""
    return {"modes": list(change.modes.items()), "flows": list(change.flows.items()),
            "adds": [board.extras[extra] for extra in change.adds], "held": list(change.held.items())}


def _starts(circuit: Circuit, board: Carried, unit: str, ready: list[prepared.Prepared]) -> dict[str, Any]:
    """How everything stands at each pressure of the reservoirs, gauge Pa, and as charged, None; parked and driving; whole Pa."""
    step = STEP[unit]
    levels: list[float | None] = [step * number for number in range(int((full_pressure(circuit) - ATMOSPHERE) / step + 1e-6) + 1)]
    levels.append(None)
    starts = []
    for situation in ("driving", "parked"):
        inputs, rows = board.starts([Script(situation=situation, pressures={} if level is None else {
            "reservoirs": ATMOSPHERE + level}) for level in levels])
        starts.append({"situation": situation, "inputs": inputs, "pressures": [[round(each) for each in row] for row in rows]})
    for each in ready:
        if each.script is not None:
            inputs, (row,) = board.starts([each.script], Engine(each.engine))
            starts.append({"situation": each.key, "inputs": inputs, "pressures": [[round(p) for p in row]]})
    return {"levels": levels, "starts": starts}


