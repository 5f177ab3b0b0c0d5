"""What the integrator works on: numbers only, in flat arrays (or plain lists where nothing compiles).

A tree is coded as one integer: 0 or more is a question, a negative one is the weighted sum -1 - code, NOTHING is none.
Pressures beyond the `nodes` spaces belong to the outside: the atmosphere first, then intakes and feeds.
"""

from typing import Any, NamedTuple

NOTHING = 1 << 40
NORMAL, HELD_OPEN, HELD_SHUT = 0, 1, 2
BOTH_WAYS, ONE_WAY, PUMP = 0, 1, 2
DONE, FULL, STUCK, CHATTER = 0, 1, 2, 3


class Arrays(NamedTuple):
    """A circuit as data.

    sizes: nodes, outside nodes, elements, sums, frozen factors, latches, segments, slots of the matrix.
    constants: opening width Pa, laminar share, expansion exponent of pumps, 1/inlet pressure, dwell s, event tolerance
    Pa, first step s, least step s, most steps, least pressure
    Pa, difference at which a one-way element is off its seat Pa.
    el_: elements: ends, way, gate (an input that scales it), root of the opening's tree, mode, conductance kg/(s Pa),
    ratio, subsonic exponent, and the four slots of its own derivatives. tr_: trees. af_, at_: weighted sums and their
    terms (node, weight, slots of both ends' rows). it_: how inputs enter sums. fz_, ft_: frozen factors and what they
    scale. la_: latches. sg_, ch_: segments of time and how inputs change at their start. nd_, pc_: air held, by pieces.
    lu_: moves of the elimination. bd_: slots of the outside rows. os_: the input that is an outside node's pressure.
    """

    sizes: Any
    constants: Any
    el_a: Any
    el_b: Any
    el_way: Any
    el_gate: Any
    el_root: Any
    el_mode: Any
    el_flow: Any
    el_ratio: Any
    el_sub: Any
    el_aa: Any
    el_ab: Any
    el_ba: Any
    el_bb: Any
    tr_sum: Any
    tr_yes: Any
    tr_no: Any
    af_start: Any
    af_constant: Any
    af_middle: Any
    at_node: Any
    at_weight: Any
    at_a: Any
    at_b: Any
    it_sum: Any
    it_slot: Any
    it_weight: Any
    fz_sum: Any
    ft_factor: Any
    ft_sum: Any
    ft_term: Any
    ft_weight: Any
    la_slot: Any
    la_set: Any
    la_reset: Any
    la_live: Any
    sg_time: Any
    sg_start: Any
    ch_slot: Any
    ch_value: Any
    ch_rate: Any
    nd_piece: Any
    pc_pressure: Any
    pc_held: Any
    pc_1: Any
    pc_2: Any
    pc_3: Any
    pc_4: Any
    lu_diagonal: Any
    lu_row: Any
    lu_low: Any
    lu_group: Any
    lu_begin: Any
    lu_target: Any
    lu_source: Any
    lu_order: Any
    lu_back: Any
    lu_upper: Any
    lu_column: Any
    bd_start: Any
    bd_node: Any
    bd_slot: Any
    os_slot: Any


class Tableau(NamedTuple):
    """A Rosenbrock method in the form without matrix products. a, c: lower triangles by rows. fresh: whether a stage
    works out the flows anew. order: of the error estimate, which is the last stage alone."""

    stages: int
    gamma: float
    order: float
    a: Any
    c: Any
    alpha: Any
    gammas: Any
    m: Any
    fresh: Any


RODAS3 = Tableau(
    4, 0.5, 3.0, (0.0, 2.0, 0.0, 2.0, 0.0, 1.0), (4.0, 1.0, -1.0, 1.0, -1.0, -8.0 / 3.0),
    (0.0, 0.0, 1.0, 1.0), (0.5, 1.5, 0.0, 0.0), (2.0, 0.0, 1.0, 1.0), (1, 0, 1, 1),
)
"""Four stages, order 3, L-stable and stiffly accurate. Sandu and others, Atmospheric Environment 31 (1997) 3459."""
RODAS4 = Tableau(
    6, 0.25, 4.0,
    (1.544, 0.9466785280815826, 0.2557011698983284, 3.314825187068521, 2.896124015972201, 0.9986419139977817,
     1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950,
     1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1.0),
    (-5.6688, -2.430093356833875, -0.2063599157091915, -0.1073529058151375, -9.594562251023355, -20.47028614809616,
     7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160,
     8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054),
    (0.0, 0.386, 0.21, 0.63, 1.0, 1.0), (0.25, -0.1043, 0.1035, -0.0362, 0.0, 0.0),
    (1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1.0, 1.0), (1, 1, 1, 1, 1, 1),
)
"""Six stages, order 4, stiffly accurate. Hairer and Wanner, Solving Ordinary Differential Equations II, section
IV.7."""
