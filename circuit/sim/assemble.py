"""The network and the timetable as flat arrays, with the elimination worked out."""

from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

from circuit.sim import elimination
from circuit.sim.arrays import BOTH_WAYS, NOTHING, PUMP, Arrays
from circuit.sim.network import AIR, EXPANDS, INTAKE, Network

SETTLES = 5e-3
"""s for which a latch stays after it has turned, so that it cannot flutter; common practice, a valve's travel time."""
EVENT = 20.0
EVENT_LEAST = 0.5
"""Pa by which an event may be passed before the step is taken again: at the usual tolerance, USUAL Pa, and at least; our
choice."""
USUAL = 30.0
SEATS = 1e3
"""Pa ahead at which a one-way element lets through all; our choice: a kink at no flow would hold up every step."""
TURN = 1 / 30
"""Share of its width by which an opening may have turned, open or shut, at the end of a step; our choice."""
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

    starts, at_node, at_sum, at_weight, at_a, at_b = [0], [], [], [], [], []
    for number, terms in enumerate(sums.terms):
        for term in terms:
            one, other = ends[owner[number]] if number in owner else (nodes, nodes)
            at_node.append(term.node)
            at_sum.append(number)
            at_weight.append(term.weight)
            at_a.append(slot(one, term.node) if number in owner else dummy)
            at_b.append(slot(other, term.node) if number in owner else dummy)
        starts.append(len(at_node))
    pieces = [network.held_by(node) for node in range(nodes)]
    flat = [row for rows in pieces for row in rows]
    bends = [node for node, rows in enumerate(pieces) if bent(rows)]
    boundary_rows = [[c for r, c in sorted(boundary) if r == nodes + o] for o in range(len(outside))]
    elements = network.elements
    forward, back = elimination.sweeps(moves.order, (moves.group, moves.row, moves.low),
                                       (moves.back, moves.upper, moves.column))
    trees = [number for number, e in enumerate(elements) if 0 <= e.root < NOTHING]
    odds = [number for number, e in enumerate(elements) if e.way == PUMP or e.subsonic != 0.5]
    watched = list(range(nodes))
    return Arrays(
        nodes=nodes, outside=len(outside), both=nodes + len(outside), elements=len(elements),
        simple=_simple(network, nodes, ends), sums=len(sums.terms), terms=len(at_node), slots=dummy + 1,
        inner=len(moves.slots), inputs=len(sums.start), entries=len(sums.entries), products=len(sums.products),
        latches=len(sums.latches), segments=len(timetable.times) - 1, bends=len(bends),
        trees=len(trees), odds=len(odds), downs=len(forward), ups=len(back),
        opening=options.opening, laminar=options.laminar, expansion=EXPANDS, per_inlet=1.0 / network.inlet,
        dwell=SETTLES, event=max(EVENT_LEAST, EVENT * min(1.0, options.tolerance / USUAL)),
        first_step=options.first_step, least_step=options.least_step,
        most_steps=float(options.most_steps), lowest=LOWEST, seats=SEATS,
        turn=TURN * options.opening,
        el_a=[a for a, _ in ends], el_b=[b for _, b in ends], el_way=[e.way for e in elements],
        el_gate=[e.gate for e in elements], el_root=[e.root for e in elements], el_mode=[0] * len(elements),
        el_flow=[e.flow for e in elements], el_ratio=[e.ratio for e in elements],
        el_inverse=[1.0 / (1.0 - e.ratio) for e in elements], el_sub=[e.subsonic for e in elements],
        el_aa=[slot(a, a) for a, _ in ends], el_ab=[slot(a, b) for a, b in ends],
        el_ba=[slot(b, a) for a, b in ends], el_bb=[slot(b, b) for _, b in ends],
        el_leaf=[-1 - e.root if e.root < 0 else 0 for e in elements], el_tree=trees, el_odd=odds,
        tr_sum=[row[0] for row in sums.trees], tr_yes=[row[1] for row in sums.trees],
        tr_no=[row[2] for row in sums.trees],
        af_start=starts, af_constant=list(sums.constant), af_middle=list(sums.middle),
        at_node=at_node, at_sum=at_sum, at_weight=at_weight, at_a=at_a, at_b=at_b,
        it_sum=[e[0] for e in sums.entries], it_slot=[e[1] for e in sums.entries],
        it_weight=[e[2] for e in sums.entries],
        pr_sum=[p.sum for p in sums.products], pr_factor=[p.factor for p in sums.products],
        pr_term=[starts[p.sum] + p.term for p in sums.products], pr_weight=[p.weight for p in sums.products],
        la_slot=[latch[0] for latch in sums.latches], la_set=[latch[1] for latch in sums.latches],
        la_reset=[latch[2] for latch in sums.latches], la_live=[1] * len(sums.latches),
        sg_time=list(timetable.times), sg_start=_offsets([len(c) for c in timetable.changes]),
        ch_slot=[c[0] for row in timetable.changes for c in row],
        ch_value=[c[1] for row in timetable.changes for c in row],
        ch_rate=[c[2] for row in timetable.changes for c in row],
        nd_start=_offsets([len(rows) for rows in pieces]), nd_bend=bends,
        nd_per=[0.0 if bent(rows) else 1.0 / rows[0][1][1] for rows in pieces],
        nd_slope=[rows[0][1][1] for rows in pieces], pc_pressure=[row[0] for row in flat],
        pc_held=[row[1][0] for row in flat], pc_1=[row[1][1] for row in flat], pc_2=[row[1][2] for row in flat],
        pc_3=[row[1][3] for row in flat], pc_4=[row[1][4] for row in flat],
        lu_diagonal=moves.diagonal, lu_order=moves.order, lu_group=moves.group, lu_low=moves.low,
        lu_begin=moves.begin, lu_target=moves.target, lu_source=moves.source,
        down_row=[m[0] for m in forward], down_slot=[m[1] for m in forward], down_column=[m[2] for m in forward],
        up_row=[m[0] for m in back], up_slot=[m[1] for m in back], up_column=[m[2] for m in back],
        bd_start=_offsets([len(row) for row in boundary_rows]), bd_node=[c for row in boundary_rows for c in row],
        bd_slot=[boundary[nodes + o, c] for o, row in enumerate(boundary_rows) for c in row],
        os_slot=outside, watched=watched, watching=len(watched),
    )


def bent(rows: Sequence[tuple[float, tuple[float, ...]]]) -> bool:
    """Whether the air of a node, by pieces, does not simply follow its pressure."""
    return len(rows) > 1 or rows[0][1][2] != 0.0


def _simple(network: Network, nodes: int, ends: list[tuple[int, int]]) -> int:
    """How many elements from the first on are always open both ways between two spaces, with the usual exponent."""
    count = 0
    for e, pair in zip(network.elements, ends):
        if max(pair) >= nodes or e.way != BOTH_WAYS or e.root != NOTHING or e.subsonic != 0.5:
            break
        count += 1
    return count


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


@lru_cache(maxsize=64)
def _planned(nodes: int, inner: frozenset[tuple[int, int]]) -> elimination.Moves:
    """The elimination of a pattern; many runs of one circuit share it."""
    return elimination.plan(nodes, set(inner))


def _pattern(network, nodes, outside, ends, owner):
    entries = set()
    for number, (a, b) in enumerate(ends):
        entries |= {(row, column) for row in (a, b) for column in (a, b) if column < nodes}
    for number, element in owner.items():
        for term in network.sums.terms[number]:
            entries |= {(row, term.node) for row in ends[element]}
    inner = {pair for pair in entries if pair[0] < nodes}
    moves = _planned(nodes, frozenset(inner))
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
        row, last = int(arrays.nd_start[node]), int(arrays.nd_start[node + 1]) - 1
        while row < last and arrays.pc_pressure[row + 1] <= pressure:
            row += 1
        q = float(pressure - arrays.pc_pressure[row])
        found.append(float(arrays.pc_held[row] + q * (arrays.pc_1[row] + q * (
            arrays.pc_2[row] + q * (arrays.pc_3[row] + q * arrays.pc_4[row])))))
    return found
