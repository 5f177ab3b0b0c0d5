"""The network and the timetable as flat arrays, with the elimination worked out."""

from collections.abc import Sequence
from typing import NamedTuple

from circuit.sim import elimination
from circuit.sim.arrays import Arrays
from circuit.sim.network import AIR, EXPANDS, INTAKE, Network

SETTLES = 5e-3
"""s for which a latch stays after it has turned, so that it cannot flutter; common practice, a valve's travel time."""
EVENT = 20.0
"""Pa by which an event may be passed before the step is taken again; our choice."""
SEATS = 1e3
"""Pa ahead at which a one-way element lets through all; our choice: a kink at no flow would hold up every step."""
LOWEST = 2e3
"""Pa absolute below which no pressure is believed."""


class Timetable(NamedTuple):
    """times: s, of segments' starts and the end. changes: of each segment's start, (slot, value, rate)."""

    times: tuple[float, ...]
    changes: tuple[tuple[tuple[int, float, float], ...], ...]


def arrays_of(network: Network, timetable: Timetable) -> Arrays:
    """Everything that does not change during a run, as lists."""
    sums, options = network.sums, network.options
    nodes = len(network.names)
    outside = [sums.slot(("", "air"), network.ambient), sums.slot(("", "air"), network.ambient), *network.outside]
    place = {AIR: nodes, INTAKE: nodes + 1, **{-2 - k: nodes + 1 + k for k in range(1, len(network.outside) + 1)}}
    ends = [(place.get(e.start, e.start), place.get(e.end, e.end)) for e in network.elements]
    owner = _owners(network)
    moves, boundary, dummy = _pattern(network, nodes, len(outside), ends, owner)

    def slot(row: int, column: int) -> int:
        if column >= nodes:
            return dummy
        return moves.slots[row, column] if row < nodes else boundary[row, column]

    starts, at_node, at_weight, at_a, at_b = [0], [], [], [], []
    for number, terms in enumerate(sums.terms):
        for term in terms:
            a, b = ends[owner[number]] if number in owner else (nodes, nodes)
            at_node.append(term.node)
            at_weight.append(term.weight)
            at_a.append(slot(a, term.node) if number in owner else dummy)
            at_b.append(slot(b, term.node) if number in owner else dummy)
        starts.append(len(at_node))
    pieces = [network.held_by(node) for node in range(nodes)]
    flat = [row for rows in pieces for row in rows]
    boundary_rows = [[c for r, c in sorted(boundary) if r == nodes + o] for o in range(len(outside))]
    elements = network.elements
    return Arrays(
        sizes=[nodes, len(outside), len(elements), len(sums.terms), len(sums.frozen), len(sums.latches),
               len(timetable.times) - 1, dummy + 1, len(moves.slots)],
        constants=[options.opening, options.laminar, EXPANDS, 1.0 / network.ambient, SETTLES, EVENT, options.first_step,
                   options.least_step, float(options.most_steps), LOWEST, SEATS],
        el_a=[a for a, _ in ends], el_b=[b for _, b in ends], el_way=[e.way for e in elements],
        el_gate=[e.gate for e in elements], el_root=[e.root for e in elements], el_mode=[0] * len(elements),
        el_flow=[e.flow for e in elements], el_ratio=[e.ratio for e in elements], el_sub=[e.subsonic for e in elements],
        el_aa=[slot(a, a) for a, _ in ends], el_ab=[slot(a, b) for a, b in ends],
        el_ba=[slot(b, a) for a, b in ends], el_bb=[slot(b, b) for _, b in ends],
        tr_sum=[row[0] for row in sums.trees], tr_yes=[row[1] for row in sums.trees],
        tr_no=[row[2] for row in sums.trees],
        af_start=starts, af_constant=list(sums.constant), af_middle=list(sums.middle),
        at_node=at_node, at_weight=at_weight, at_a=at_a, at_b=at_b,
        it_sum=[e[0] for e in sums.entries], it_slot=[e[1] for e in sums.entries],
        it_weight=[e[2] for e in sums.entries],
        fz_sum=list(sums.frozen), ft_factor=[s[0] for s in sums.scaled], ft_sum=[s[1] for s in sums.scaled],
        ft_term=[starts[s[1]] + s[2] for s in sums.scaled], ft_weight=[s[3] for s in sums.scaled],
        la_slot=[latch[0] for latch in sums.latches], la_set=[latch[1] for latch in sums.latches],
        la_reset=[latch[2] for latch in sums.latches], la_live=[1] * len(sums.latches),
        sg_time=list(timetable.times), sg_start=_offsets([len(c) for c in timetable.changes]),
        ch_slot=[c[0] for row in timetable.changes for c in row],
        ch_value=[c[1] for row in timetable.changes for c in row],
        ch_rate=[c[2] for row in timetable.changes for c in row],
        nd_piece=_offsets([len(rows) for rows in pieces]), pc_pressure=[row[0] for row in flat],
        pc_held=[row[1][0] for row in flat], pc_1=[row[1][1] for row in flat], pc_2=[row[1][2] for row in flat],
        pc_3=[row[1][3] for row in flat], pc_4=[row[1][4] for row in flat],
        lu_diagonal=moves.diagonal, lu_row=moves.row, lu_low=moves.low, lu_group=moves.group, lu_begin=moves.begin,
        lu_target=moves.target, lu_source=moves.source, lu_order=moves.order, lu_back=moves.back, lu_upper=moves.upper,
        lu_column=moves.column,
        bd_start=_offsets([len(row) for row in boundary_rows]), bd_node=[c for row in boundary_rows for c in row],
        bd_slot=[boundary[nodes + o, c] for o, row in enumerate(boundary_rows) for c in row],
        os_slot=outside,
    )


def _owners(network: Network) -> dict[int, int]:
    """Weighted sum to the one element whose opening it is. Lines of several pieces share none: they have no opening."""
    owner: dict[int, int] = {}
    for number, element in enumerate(network.elements):
        todo = [element.root]
        while todo:
            code = todo.pop()
            if 0 <= code < len(network.sums.trees):
                todo += network.sums.trees[code][1:]
            elif code < 0:
                owner[-1 - code] = number
    return owner


def _pattern(network, nodes, outside, ends, owner):
    entries = set()
    for number, (a, b) in enumerate(ends):
        entries |= {(row, column) for row in (a, b) for column in (a, b) if column < nodes}
    for number, element in owner.items():
        for term in network.sums.terms[number]:
            entries |= {(row, term.node) for row in ends[element]}
    inner = {pair for pair in entries if pair[0] < nodes}
    moves = elimination.plan(nodes, inner)
    boundary = {pair: len(moves.slots) + place for place, pair in enumerate(sorted(entries - inner))}
    return moves, boundary, len(moves.slots) + len(boundary)


def _offsets(counts: Sequence[int]) -> list[int]:
    total = [0]
    for count in counts:
        total.append(total[-1] + count)
    return total


def air_held(arrays: Arrays, pressures: Sequence[float]) -> list[float]:
    """The air in every node at its pressure, kg."""
    found = []
    for node, pressure in enumerate(pressures):
        row, last = int(arrays.nd_piece[node]), int(arrays.nd_piece[node + 1]) - 1
        while row < last and arrays.pc_pressure[row + 1] <= pressure:
            row += 1
        q = float(pressure - arrays.pc_pressure[row])
        found.append(float(arrays.pc_held[row] + q * (arrays.pc_1[row] + q * (
            arrays.pc_2[row] + q * (arrays.pc_3[row] + q * arrays.pc_4[row])))))
    return found
