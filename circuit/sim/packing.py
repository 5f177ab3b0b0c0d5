"""The arrays of a circuit laid end to end in three rows, for the kernel.

A compiler for numbers is quick about a few rows and slow about ninety. `index` holds what is only ever a place, so
that it can be unsigned, which spares the machine a check at each use; `whole` holds codes and counts that have a
sign; `real` holds numbers. Their heads say where each table begins.
"""

from collections.abc import Sequence
from typing import Any, NamedTuple

from circuit.sim import elimination
from circuit.sim.arrays import BOTH_WAYS, NOTHING, PUMP, Arrays, Tableau

(NODES, BOTH, WIDE, OUTSIDE, ELEMENTS, SLOTS, INNER,
 EL_A, EL_B, EL_AA, EL_AB, EL_BA, EL_BB, EL_GATE, AF, AF_END, AT_NODE, AT_A, AT_B, ND, ND_END, DIAGONAL, ORDER, GROUP,
 GROUP_END, LOW, BEGIN, BEGIN_END, TARGET, SOURCE, DOWN_ROW, DOWN_SLOT, DOWN_COLUMN, DOWNS, UP_ROW, UP_SLOT, UP_COLUMN,
 UPS, BD, BD_END, BD_NODE, BD_SLOT, OS, PLACES_K, SIMPLE, BEND, BEND_COUNT, LEAF, TREE, TREE_COUNT, ODD, ODD_COUNT,
 AT_SUM, ALL_SUMS, ALL_TERMS,
 R_FLOW, R_RATIO, R_SUB, R_INVERSE, R_PER, R_SLOPE,
 W_PRESSURE, W_HELD, W_STAGE, W_STAGE_HELD, W_FLOW, W_FIRST, W_OUT, W_JACOBIAN, W_MATRIX, W_TIME, W_SLOPE, W_INVERSE,
 W_K, W_X, W_INPUT, W_RATE, W_CONSTANT, W_DRIFT, W_WEIGHT, W_LATCH, W_STATE, W_SUM,
 W_PA, W_PB, W_SCALE, W_FULL, W_BY_DOWN, W_BY_A, W_BY_B, W_OPEN, W_STEEP, W_TILT, W_LEAF, W_PUSH, W_PER_PUSH,
 W_UNPUSHED, W_PER_AHEAD, W_LEVEL, W_LIFT, W_END) = range(101)
"""Places in the head of `index`: numbers of things, where its tables begin, and where the room's rows begin."""
INDEX_HEAD = W_END + 1
(N_NODES, N_OUTSIDE, N_ELEMENTS, SUMS, FROZEN, LATCHES, SEGMENTS, N_SLOTS, N_INNER, INPUTS, ENTRIES, SCALED, TERMS,
 N_SIMPLE, EL, TR, MIDDLE, IT, FZ, FT, LA, SG, CH, R_AF, R_AT, R_IT, R_FT, R_SG, R_CH, R_PC) = range(30)
"""Places in the head of `whole`: numbers of things, where its tables begin, and where those of `real` begin."""
WHOLE_HEAD = 30
EL_WIDE, TR_WIDE, LA_WIDE, PC_WIDE, CH_WIDE = 3, 3, 4, 6, 2
(WIDTH, LAMINAR, EXPANSION, PER_INLET, DWELL, EVENT, FIRST_STEP, LEAST_STEP, MOST_STEPS, LOWEST, SEATS) = range(11)
"""Places of the constants at the begin of the numbers; see `Arrays`."""
SEGMENT, ENTERED, TAKEN, REFUSED, RECORDS, EVENTS, FORCED = range(7)
COUNTS = 7
"""Places of the counts: segment, whether it is to be entered, steps taken and refused, records, events, forced
steps."""
REAL_FIELDS = frozenset({"el_flow", "el_ratio", "el_sub", "af_constant", "at_weight", "it_weight", "ft_weight",
                         "sg_time", "ch_value", "ch_rate", "pc_pressure", "pc_held", "pc_1", "pc_2", "pc_3", "pc_4"})
"""The fields of Arrays that lie in `real`."""


class Packed(NamedTuple):
    """The rows, and where a field of Arrays begins and how far its entries are apart, in `real` or `whole`."""

    index: list[int]  # type: ignore[assignment]
    whole: list[int]
    real: list[float]
    places: dict[str, tuple[int, int]]


def pack(arrays: Arrays, tableau: Tableau, inputs: int, lanes: int = 1) -> Packed:
    """The rows of a circuit for a method. inputs: how many there are. lanes: numbers that the machine does at once."""
    a = arrays
    index: list[int] = [0] * INDEX_HEAD
    whole: list[int] = [0] * WHOLE_HEAD
    real: list[float] = [float(c) for c in a.constants]
    places: dict[str, tuple[int, int]] = {}
    whole[N_NODES:N_INNER + 1] = a.sizes
    whole[INPUTS], whole[ENTRIES], whole[SCALED], whole[TERMS] = inputs, len(a.it_sum), len(a.ft_sum), len(a.at_node)
    nodes, outside, elements, _, _, _, _, slots, inner = a.sizes
    both = nodes + outside
    index[NODES:INNER + 1] = nodes, both, -(-both // lanes) * lanes, outside, elements, slots, inner

    for head, field in ((EL_A, "el_a"), (EL_B, "el_b"), (EL_AA, "el_aa"), (EL_AB, "el_ab"), (EL_BA, "el_ba"),
                        (EL_BB, "el_bb"), (EL_GATE, "el_gate"), (AF, "af_start"), (AT_NODE, "at_node"), (AT_A, "at_a"),
                        (AT_B, "at_b"), (ND, "nd_piece"), (DIAGONAL, "lu_diagonal"), (ORDER, "lu_order"),
                        (GROUP, "lu_group"), (LOW, "lu_low"), (BEGIN, "lu_begin"),
                        (TARGET, "lu_target"), (SOURCE, "lu_source"), (BD, "bd_start"), (BD_NODE, "bd_node"),
                        (BD_SLOT, "bd_slot"), (OS, "os_slot")):
        index[head] = len(index)
        index += getattr(a, field)
    for begins, ends in ((AF, AF_END), (ND, ND_END), (GROUP, GROUP_END), (BEGIN, BEGIN_END), (BD, BD_END)):
        index[ends] = index[begins] + 1

    def table(head: int, row: list[Any], *fields: str) -> None:
        whole[head] = len(row)
        for number, field in enumerate(fields):
            places[field] = (len(row) + number, len(fields))
        row += [entry for line in zip(*(getattr(a, field) for field in fields), strict=True) for entry in line]

    table(EL, whole, "el_way", "el_root", "el_mode")
    table(TR, whole, "tr_sum", "tr_yes", "tr_no")
    table(MIDDLE, whole, "af_middle")
    table(IT, whole, "it_sum", "it_slot")
    table(FZ, whole, "fz_sum")
    table(FT, whole, "ft_factor", "ft_term")
    table(LA, whole, "la_slot", "la_set", "la_reset", "la_live")
    table(SG, whole, "sg_start")
    table(CH, whole, "ch_slot")
    table(R_AF, real, "af_constant")
    table(R_AT, real, "at_weight")
    table(R_IT, real, "it_weight")
    table(R_FT, real, "ft_weight")
    table(R_SG, real, "sg_time")
    table(R_CH, real, "ch_value", "ch_rate")
    table(R_PC, real, "pc_pressure", "pc_held", "pc_1", "pc_2", "pc_3", "pc_4")
    for head, field in ((R_FLOW, "el_flow"), (R_RATIO, "el_ratio"), (R_SUB, "el_sub")):
        index[head] = len(real)
        places[field] = (len(real), 1)
        real += getattr(a, field)
    index[R_INVERSE] = len(real)
    real += (1.0 / (1.0 - ratio) for ratio in a.el_ratio)
    index[SIMPLE] = whole[N_SIMPLE] = simple(a)
    bends = [i for i in range(nodes) if a.nd_piece[i + 1] - a.nd_piece[i] > 1 or a.pc_2[a.nd_piece[i]] != 0.0]
    index[BEND], index[BEND_COUNT] = len(index), len(bends)
    index += bends
    index[ALL_SUMS] = whole[SUMS]
    below, above = (a.lu_group, a.lu_row, a.lu_low), (a.lu_back, a.lu_upper, a.lu_column)
    forward, back = elimination.sweeps(a.lu_order, below, above)
    for head, count, row in (
        (TREE, TREE_COUNT, [e for e in range(elements) if 0 <= a.el_root[e] < NOTHING]),
        (ODD, ODD_COUNT, [e for e in range(elements) if a.el_way[e] == PUMP or a.el_sub[e] != 0.5]),
        (LEAF, ELEMENTS, [-1 - root if root < 0 else 0 for root in a.el_root]),
        (DOWN_ROW, DOWNS, [move[0] for move in forward]), (DOWN_SLOT, DOWNS, [move[1] for move in forward]),
        (DOWN_COLUMN, DOWNS, [move[2] for move in forward]), (UP_ROW, UPS, [move[0] for move in back]),
        (UP_SLOT, UPS, [move[1] for move in back]), (UP_COLUMN, UPS, [move[2] for move in back]),
        (AT_SUM, ALL_TERMS, [k for k in range(whole[SUMS]) for _ in range(a.af_start[k], a.af_start[k + 1])]),
    ):
        index[head], index[count] = len(index), len(row)
        index += row
    index[R_PER] = len(real)
    real += (0.0 if i in bends else 1.0 / a.pc_1[a.nd_piece[i]] for i in range(nodes))
    index[R_SLOPE] = len(real)
    real += (a.pc_1[a.nd_piece[i]] for i in range(nodes))
    _room(index, whole, tableau)
    return Packed(index, whole, real, places)


def simple(arrays: Arrays) -> int:
    """How many elements from the first on are always open both ways between two spaces, with the usual exponent."""
    a = arrays
    count = 0
    for ends, way, root, subsonic in zip(zip(a.el_a, a.el_b), a.el_way, a.el_root, a.el_sub):
        if max(ends) >= a.sizes[0] or way != BOTH_WAYS or root != NOTHING or subsonic != 0.5:
            break
        count += 1
    return count


def _room(index: list[int], whole: list[int], tableau: Tableau) -> None:
    """Where a run keeps what."""
    nodes, wide = index[NODES], index[WIDE]
    at = 0
    for head, size in (
        (W_PRESSURE, wide), (W_HELD, wide), (W_STAGE, wide), (W_STAGE_HELD, wide), (W_FLOW, wide), (W_FIRST, wide),
        (W_OUT, index[OUTSIDE]), (W_JACOBIAN, index[SLOTS]), (W_MATRIX, index[INNER]), (W_TIME, wide), (W_SLOPE, wide),
        (W_INVERSE, nodes), (W_K, max(3, tableau.stages) * wide), (W_X, wide), (W_INPUT, whole[INPUTS]),
        (W_RATE, whole[INPUTS]),
        (W_CONSTANT, whole[SUMS]), (W_DRIFT, whole[SUMS]), (W_WEIGHT, whole[TERMS]),
        (W_LATCH, whole[LATCHES] + whole[FROZEN]), (W_STATE, 3 + whole[LATCHES]),
        (W_SUM, whole[SUMS] + 1), *((head, index[ELEMENTS]) for head in range(W_PA, W_END)), (W_END, 0),
    ):
        index[head] = at
        at += size
    index[PLACES_K] = len(index)
    index += [index[W_K] + stage * wide for stage in range(max(3, tableau.stages))]


def begin(index: Sequence[int], whole: Sequence[int], real: Any, room: Any, counts: Any, start: Any, pressures: Any,
          held: Any) -> None:
    """Puts the start of a run into its room: inputs, pressures and the air they mean."""
    slopes = real[int(index[R_SLOPE]):int(index[R_SLOPE]) + int(index[NODES])]
    for head, values in ((W_INPUT, start), (W_PRESSURE, pressures), (W_HELD, held), (W_SLOPE, slopes),
                         (W_WEIGHT, real[whole[R_AT]:whole[R_AT] + whole[TERMS]])):
        at = int(index[head])
        room[at:at + len(values)] = values
    latches = int(whole[LATCHES])
    first = int(index[W_STATE]) + 3
    room[first:first + latches] = [-1e9] * latches
    counts[ENTERED] = 1


def move_element(index: Any, whole: Any, real: Any, source: int, target: int) -> None:
    """Copies an element's rows onto those of another."""
    for head in (EL_A, EL_B, EL_AA, EL_AB, EL_BA, EL_BB, EL_GATE, LEAF):
        index[int(index[head]) + target] = index[int(index[head]) + source]
    for head in (R_FLOW, R_RATIO, R_SUB, R_INVERSE):
        real[int(index[head]) + target] = real[int(index[head]) + source]
    one, other = (int(whole[EL]) + EL_WIDE * e for e in (target, source))
    whole[one:one + EL_WIDE] = whole[other:other + EL_WIDE]
