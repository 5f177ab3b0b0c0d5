"""A circuit folded onto its medium: bands laid out each by itself, then side by side and one above the other on sheets."""

from circuit.draw.bands import cut_runs, divide, net_of
from circuit.draw.collect import Whole, collect_whole
from circuit.draw.columns import give_columns
from circuit.draw.extent import extent
from circuit.draw.layout import Frame, Layout, lay_out_band
from circuit.draw.medium import SCREEN, Medium
from circuit.draw.pack import Sheet, on_a_roll, on_sheets
from circuit.draw.parts import Body, vehicle_of
from circuit.draw.roles import Roles, assign, flow_of, goes_forward
from circuit.draw.titles import band_title
from circuit.draw.tree import moved
from circuit.model.circuit import Circuit

INSIDE, HEAD = 1.2, 1.6
"""Between a band's frame and what is in it, and above that for its title, U."""
_MERGED = 0.5
"""How high columns may be that become one, of the medium's height."""
_ASPECT = 1.75
"""Width to height that several bands together come near."""
_ALONE = 2.2
"""Width to height that a band alone keeps; title and legend stand under it."""
_STRIP = 4.8
"""From this width to height on a circuit is folded although it would fit."""
_AGAIN = 6


def fold(circuit: Circuit, medium: Medium = SCREEN, search: int = 1) -> list[Layout]:
    """The sheets of a circuit; on a screen there is one. search: how many times as long as by default to look."""
    whole, roles = read_whole(circuit, medium.sheets)
    if not whole.parts.bodies:
        return [Layout(circuit, [], [], roles)]
    net = net_of(whole, roles)
    most = _MERGED * medium.high
    everything = frozenset(name for atom in net.atoms for name in atom)
    rough: dict[frozenset[str], float] = {}
    too_large: set[frozenset[str]] = set()

    def fit(names: frozenset[str]) -> float:
        if names not in rough:
            wide, high = _size(lay_out_band(whole, roles, names, {}, most, search=0))
            strip = min(wide / high / _STRIP, 1.01) if names == everything else 0.0
            rough[names] = max(wide / medium.wide, high / medium.high, strip)
        return max(rough[names], 1.01) if names in too_large else rough[names]

    for _ in range(_AGAIN):
        groups = divide(net, fit)
        numbers = {run.number: place for place, run in enumerate(cut_runs(whole, groups), 1)}
        alone = _ALONE if len(groups) == 1 else 0.0
        bands = [lay_out_band(whole, roles, names, numbers, most, search, alone) for names in groups]
        sizes = [_size(band) for band in bands]
        large = [names for names, (wide, high) in zip(groups, sizes)
                 if (wide > medium.wide or high > medium.high) and len(names) > 2 and names not in too_large]
        if not large:
            break
        too_large.update(large)
    if medium.sheets:
        sheets = on_sheets(sizes, medium.wide, medium.high)
    else:
        sheets = [Sheet(tuple(range(len(sizes))), on_a_roll(sizes, medium.wide, _ASPECT))]
    return _joined(whole, roles, bands, sheets)


def lay_out_circuit(circuit: Circuit, search: int = 1) -> Layout:
    """The circuit on one page for a screen."""
    return fold(circuit, SCREEN, search)[0]


def read_whole(circuit: Circuit, sheets: bool) -> tuple[Whole, Roles]:
    """Everything of a circuit that its bands share."""
    whole = collect_whole(circuit)
    whole.sheets = sheets
    roles = assign(circuit, whole.parts)
    if whole.parts.bodies:
        give_columns(circuit, whole.parts)
    whole.stage = {body.device.name: body.stage for body in whole.parts.bodies}
    for wire in whole.parts.wires:
        for run in wire.runs:
            whole.roles[run.number] = run.role
            whole.circuits[run.number] = wire.circuit
            whole.flows[run.number] = flow_of(circuit, run)
            whole.forward[run.number] = goes_forward(circuit, run)
    return whole, roles


def _size(band: Layout) -> tuple[float, float]:
    left, top, right, low = extent(band)
    return right - left + 2 * INSIDE, low - top + 2 * INSIDE + HEAD


def _joined(whole: Whole, roles: Roles, bands: list[Layout], sheets: list[Sheet]) -> list[Layout]:
    """Each sheet's bands as one layout, numbered through, their flags knowing each other."""
    found = []
    number = 0
    for own, block in sheets:
        sheet = Layout(whole.circuit, [], [], Roles(roles.circuits))
        for band, (x, y) in zip((bands[n] for n in own), block.places):
            number = _put(sheet, band, x, y, number, alone=len(bands) == 1)
        found.append(sheet)
    pairs: dict[int, list[Body]] = {}
    for sheet in found:
        for body in sheet.bodies:
            if body.flag is not None:
                pairs.setdefault(body.flag.number, []).append(body)
    for one, other in pairs.values():
        assert one.flag is not None and other.flag is not None
        one.flag.other, other.flag.other = other, one
    return found


def _put(sheet: Layout, band: Layout, x: float, y: float, number: int, alone: bool) -> int:
    """Move a band to its place on a sheet. number: of its first wire; returns that of the next."""
    left, top, right, low = extent(band)
    dx, dy = x - left + INSIDE, y - top + INSIDE + HEAD
    for body in {id(b): b for b in (*band.bodies, *band.wheels)}.values():
        body.x, body.y = body.x + dx, body.y + dy
    for drawn in band.wires:
        moved(drawn, dx, dy)
        drawn.wire.number = number
        sheet.roles.run_role.update({(number, place): run.role for place, run in enumerate(drawn.wire.runs)})
        number += 1
    sheet.bodies += band.bodies
    sheet.wires += band.wires
    sheet.wheels += band.wheels
    sheet.tees.update(band.tees)
    sheet.score += band.score
    vehicle = next((vehicle_of(band.circuit, body.device) for body in band.bodies), "") if band.circuit.vehicles else ""
    if not alone:
        sheet.frames.append(Frame(band_title(band), x, y, right - left + 2 * INSIDE, low - top + 2 * INSIDE + HEAD, vehicle))
    return number
