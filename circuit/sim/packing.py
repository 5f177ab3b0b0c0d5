"""The arrays of a circuit laid end to end in three rows, for the kernel.

A compiler for numbers is quick about a few rows and slow about ninety. `index` holds what is only ever a place, so
that it can be unsigned, which spares the machine a check at each use; `whole` holds codes and counts that have a
sign; `real` holds numbers. Their heads say where each table begins.
"""

from collections.abc import Sequence
from typing import Any, NamedTuple

from circuit.sim.arrays import BOTH_WAYS, NOTHING, Arrays, Tableau

(NODES, BOTH, OUTSIDE, ELEMENTS, SLOTS, INNER,
 EL_A, EL_B, EL_AA, EL_AB, EL_BA, EL_BB, EL_GATE, AF, AF_END, AT_NODE, AT_A, AT_B, ND, ND_END, DIAGONAL, ORDER, GROUP,
 GROUP_END, ROW, LOW, BEGIN, BEGIN_END, TARGET, SOURCE, BACK_ORDER, BACK, BACK_END, UPPER, COLUMN, BD, BD_END, BD_NODE,
 BD_SLOT, OS, PLACE_K, SIMPLE, BEND, BEND_COUNT,
 R_FLOW, R_RATIO, R_SUB, R_INVERSE, R_PER, R_SLOPE,
 W_PRESSURE, W_HELD, W_STAGE, W_STAGE_HELD, W_FLOW, W_FIRST, W_OUT, W_JACOBIAN, W_MATRIX, W_TIME, W_SLOPE, W_INVERSE,
 W_K, W_X, W_INPUT, W_RATE, W_CONSTANT, W_DRIFT, W_WEIGHT, W_LATCH, W_STATE, W_END) = range(72)
"""Places in the head of `index`: numbers of things, where its tables begin, and where the room's rows begin."""
INDEX_HEAD = 72
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

    index: list[int]
    whole: list[int]
    real: list[float]
    places: dict[str, tuple[int, int]]


def pack(arrays: Arrays, tableau: Tableau, inputs: int) -> Packed:
    """The rows of a circuit for a method. inputs: how many there are."""
    a = arrays
    index: list[int] = [0] * INDEX_HEAD
    whole: list[int] = [0] * WHOLE_HEAD
    real: list[float] = [float(c) for c in a.constants]
    places: dict[str, tuple[int, int]] = {}
    whole[N_NODES:N_INNER + 1] = a.sizes
    whole[INPUTS], whole[ENTRIES], whole[SCALED], whole[TERMS] = inputs, len(a.it_sum), len(a.ft_sum), len(a.at_node)
    nodes, outside, elements, _, _, _, _, slots, inner = a.sizes
    index[NODES:INNER + 1] = nodes, nodes + outside, outside, elements, slots, inner

    for head, field in ((EL_A, "el_a"), (EL_B, "el_b"), (EL_AA, "el_aa"), (EL_AB, "el_ab"), (EL_BA, "el_ba"),
                        (EL_BB, "el_bb"), (EL_GATE, "el_gate"), (AF, "af_start"), (AT_NODE, "at_node"), (AT_A, "at_a"),
                        (AT_B, "at_b"), (ND, "nd_piece"), (DIAGONAL, "lu_diagonal"), (ORDER, "lu_order"),
                        (GROUP, "lu_group"), (ROW, "lu_row"), (LOW, "lu_low"), (BEGIN, "lu_begin"),
                        (TARGET, "lu_target"), (SOURCE, "lu_source"), (UPPER, "lu_upper"), (COLUMN, "lu_column"),
                        (BD, "bd_start"), (BD_NODE, "bd_node"), (BD_SLOT, "bd_slot"), (OS, "os_slot")):
        index[head] = len(index)
        index += getattr(a, field)
    for begins, ends in ((AF, AF_END), (ND, ND_END), (GROUP, GROUP_END), (BEGIN, BEGIN_END), (BD, BD_END)):
        index[ends] = index[begins] + 1
    for head, row in ((BACK_ORDER, a.lu_order), (BACK, a.lu_back[:-1]), (BACK_END, a.lu_back[1:])):
        index[head] = len(index)
        index += reversed(row)

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
    nodes, both = index[NODES], index[BOTH]
    at = 0
    for head, size in (
        (W_PRESSURE, both), (W_HELD, nodes), (W_STAGE, both), (W_STAGE_HELD, nodes), (W_FLOW, both), (W_FIRST, both),
        (W_OUT, index[OUTSIDE]), (W_JACOBIAN, index[SLOTS]), (W_MATRIX, index[INNER]), (W_TIME, both), (W_SLOPE, nodes),
        (W_INVERSE, nodes), (W_K, tableau.stages * both), (W_X, nodes), (W_INPUT, whole[INPUTS]),
        (W_RATE, whole[INPUTS]),
        (W_CONSTANT, whole[SUMS]), (W_DRIFT, whole[SUMS]), (W_WEIGHT, whole[TERMS]),
        (W_LATCH, whole[LATCHES] + whole[FROZEN]), (W_STATE, 3 + whole[LATCHES]), (W_END, 0),
    ):
        index[head] = at
        at += size
    index[PLACE_K] = len(index)
    index += [index[W_K] + stage * both for stage in range(tableau.stages)]


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
    for head in (EL_A, EL_B, EL_AA, EL_AB, EL_BA, EL_BB, EL_GATE):
        index[int(index[head]) + target] = index[int(index[head]) + source]
    for head in (R_FLOW, R_RATIO, R_SUB, R_INVERSE):
        real[int(index[head]) + target] = real[int(index[head]) + source]
    one, other = (int(whole[EL]) + EL_WIDE * e for e in (target, source))
    whole[one:one + EL_WIDE] = whole[other:other + EL_WIDE]
