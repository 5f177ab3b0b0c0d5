"""What the integrator works on: numbers only, in rows that have names.

`Arrays` is a circuit and a script as data, `Room` what a run keeps, `Tableau` the method. They are plain lists where the
kernel runs as Python; `machine` lays the same rows out in the memory of the compiled kernel, by their annotations.

A tree is coded as one integer: 0 or more is a question, a negative one is the weighted sum -1 - code, NOTHING is none.
Pressures beyond the `nodes` spaces belong to the outside: the atmosphere first, then intakes and feeds.
"""

from typing import NamedTuple

NOTHING = 1 << 30
NORMAL, HELD_OPEN, HELD_SHUT = 0, 1, 2
BOTH_WAYS, ONE_WAY, PUMP = 0, 1, 2
DONE, FULL, STUCK, CHATTER = 0, 1, 2, 3


class Arrays(NamedTuple):
    """A circuit and a script as data; nothing of it changes during a run.

    el_: elements; first those that are always open both ways between two spaces (`simple` of them). tr_: trees. af_,
    at_: weighted sums and their terms. it_: how inputs enter sums. pr_: products of a sum with a pressure. la_:
    latches. sg_, ch_: segments of time and how inputs change at their start. nd_, pc_: air held, by pieces. lu_: moves
    of the elimination. bd_: slots of the outside rows. Rows ending in `start` hold one more number than there are
    groups: where each group begins and, one further, ends.
    """

    nodes: int
    outside: int
    both: int  # nodes and outside
    elements: int
    simple: int
    sums: int
    terms: int
    slots: int  # of the derivatives, outside rows and a dummy included
    inner: int  # of the matrix
    inputs: int
    entries: int
    products: int
    latches: int
    segments: int
    bends: int  # nodes whose air does not simply follow the pressure
    trees: int  # elements with a tree to be asked
    odds: int  # pumps, and elements with another exponent than 0.5
    downs: int
    ups: int
    opening: float  # Pa from shut to fully open
    laminar: float  # share of the smooth zone
    expansion: float  # exponent of pumps
    per_inlet: float  # 1/Pa
    dwell: float  # s that a latch stays
    event: float  # Pa by which a latch may be passed
    first_step: float  # s
    least_step: float  # s
    most_steps: float
    lowest: float  # Pa, least pressure
    turn: float  # Pa by which an opening may have turned at the end of a step
    seats: float  # Pa ahead at which a one-way element is off its seat
    el_a: list[int]  # node it starts from
    el_b: list[int]
    el_way: list[int]
    el_gate: list[int]  # an input that scales it
    el_root: list[int]  # its opening's tree
    el_mode: list[int]
    el_flow: list[float]  # kg/(s Pa), or kg/s of a pump
    el_ratio: list[float]  # critical ratio, or clearance of a pump
    el_inverse: list[float]  # 1/(1 - ratio)
    el_sub: list[float]  # subsonic exponent
    el_aa: list[int]  # slots of its own derivatives: row a, column a
    el_ab: list[int]
    el_ba: list[int]
    el_bb: list[int]
    el_leaf: list[int]  # the weighted sum of its opening where no tree is asked
    el_tree: list[int]  # elements with a tree to be asked
    el_odd: list[int]
    tr_sum: list[int]  # the question: this sum above 0?
    tr_yes: list[int]
    tr_no: list[int]
    af_start: list[int]  # terms of each sum
    af_constant: list[float]
    af_middle: list[int]  # 1: inputs enter with their value in the segment's middle
    at_node: list[int]
    at_sum: list[int]
    at_weight: list[float]
    at_a: list[int]  # slot of the derivative of the element's start by this node
    at_b: list[int]
    it_sum: list[int]
    it_slot: list[int]
    it_weight: list[float]
    pr_sum: list[int]  # the sum a product is part of
    pr_factor: list[int]  # the sum that is its factor; it has no product itself
    pr_term: list[int]  # the term of its pressure; those of the factor's own pressures stand behind it
    pr_weight: list[float]
    la_slot: list[int]
    la_set: list[int]
    la_reset: list[int]
    la_live: list[int]
    sg_time: list[float]
    sg_start: list[int]  # changes of each segment
    ch_slot: list[int]
    ch_value: list[float]
    ch_rate: list[float]
    nd_start: list[int]  # pieces of each node
    nd_bend: list[int]
    nd_per: list[float]  # Pa/kg where that is one number
    nd_slope: list[float]  # kg/Pa
    pc_pressure: list[float]  # Pa from which a piece holds
    pc_held: list[float]  # kg there, and how it rises: kg/Pa, kg/Pa2 ...
    pc_1: list[float]
    pc_2: list[float]
    pc_3: list[float]
    pc_4: list[float]
    lu_diagonal: list[int]
    lu_order: list[int]
    lu_group: list[int]  # steps of each pivot
    lu_low: list[int]
    lu_begin: list[int]  # moves of each step
    lu_target: list[int]
    lu_source: list[int]
    down_row: list[int]
    down_slot: list[int]
    down_column: list[int]
    up_row: list[int]
    up_slot: list[int]
    up_column: list[int]
    bd_start: list[int]
    bd_node: list[int]
    bd_slot: list[int]
    os_slot: list[int]  # the input that is an outside node's pressure
    watched: list[int]  # nodes that are recorded
    watching: int


class Room:
    """What a run keeps, and changes. Rows as long as the sizes below say; see `room_sizes`."""

    t: float  # s
    since: float  # s, the time for which the inputs stand
    stop: float  # s, up to when the sums hold
    step: float  # s, the next step's size
    segment: int
    entered: int  # 0 where a segment is still to be entered
    taken: int
    refused: int
    forced: int
    records: int
    happened: int
    most_records: int
    most_events: int
    pressure: list[float]  # Pa
    held: list[float]  # kg
    stage: list[float]  # the same two for a stage of a step
    stage_held: list[float]
    flow: list[float]  # kg/s into each node
    first: list[float]  # the flow at the begin of a step
    gone: list[float]  # kg into each outside node so far
    jacobian: list[float]
    matrix: list[float]
    in_time: list[float]
    slope: list[float]  # kg/Pa
    inverse: list[float]
    k: list[float]  # increments, a row a stage
    x: list[float]
    input: list[float]
    rate: list[float]  # of the inputs, 1/s
    constant: list[float]  # of sums, the inputs included
    drift: list[float]  # of sums with time, 1/s
    haste: list[float]  # the same with products, at the begin of a step
    rise: list[float]  # of sums with each term's pressure, at the begin of a step
    value: list[float]  # of sums
    pushed: list[float]  # Pa by which each latch is pushed at the begin of a step
    turned: list[float]  # s at which each latch turned last
    pa: list[float]  # a number an element, from here to `lift`
    pb: list[float]
    scale: list[float]
    full: list[float]
    by_down: list[float]
    by_a: list[float]
    by_b: list[float]
    opened: list[float]
    steep: list[float]
    tilt: list[float]
    leaf: list[int]
    push: list[float]  # Pa by which it is pushed open
    before: list[float]  # the same at the begin of a step
    per_push: list[float]
    unpushed: list[float]
    per_ahead: list[float]
    level: list[float]
    lift: list[float]
    record: list[float]  # time, pressures, Pa/s: 1 + 2 watched numbers a step
    events: list[float]  # time, latch, value

    def __init__(self, a: Arrays, method: "Tableau", records: int, events: int):
        self.t = self.since = self.stop = self.step = 0.0
        self.segment = self.entered = self.taken = self.refused = self.forced = self.records = self.happened = 0
        self.most_records, self.most_events = records, events
        for name, size in room_sizes(a, method, records, events).items():
            setattr(self, name, [0.0] * size)
        self.leaf = [0] * a.elements


def room_sizes(a: Arrays, method: "Tableau", records: int, events: int) -> dict[str, int]:
    """How long each row of a room is."""
    return {
        **dict.fromkeys(("pressure", "held", "stage", "stage_held", "flow", "first", "in_time", "x", "slope"), a.both),
        "gone": a.outside, "jacobian": a.slots, "matrix": a.inner, "inverse": a.nodes, "k": max(3, method.stages) * a.both,
        "input": a.inputs, "rate": a.inputs, "constant": a.sums, "drift": a.sums, "haste": a.sums, "rise": a.terms,
        "value": a.sums + 1, "pushed": a.latches, "turned": a.latches,
        **dict.fromkeys(("pa", "pb", "scale", "full", "by_down", "by_a", "by_b", "opened", "steep", "tilt", "leaf",
                         "push", "before", "per_push", "unpushed", "per_ahead", "level", "lift"), a.elements),
        "record": records * (1 + 2 * a.watching), "events": 3 * events,
    }


class Tableau(NamedTuple):
    """A Rosenbrock method in the form without matrix products. a, c: lower triangles by rows. fresh: whether a stage
    works out the flows anew. order: of the error estimate, which is the last stage alone."""

    stages: int
    gamma: float
    order: float
    a: list[float]
    c: list[float]
    alpha: list[float]
    gammas: list[float]
    m: list[float]
    fresh: list[int]


RODAS3 = Tableau(
    4, 0.5, 3.0, [0.0, 2.0, 0.0, 2.0, 0.0, 1.0], [4.0, 1.0, -1.0, 1.0, -1.0, -8.0 / 3.0],
    [0.0, 0.0, 1.0, 1.0], [0.5, 1.5, 0.0, 0.0], [2.0, 0.0, 1.0, 1.0], [1, 0, 1, 1],
)
"""Four stages, order 3, L-stable and stiffly accurate. Sandu and others, Atmospheric Environment 31 (1997) 3459."""
RODAS4 = Tableau(
    6, 0.25, 4.0,
    [1.544, 0.9466785280815826, 0.2557011698983284, 3.314825187068521, 2.896124015972201, 0.9986419139977817,
     1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950,
     1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1.0],
    [-5.6688, -2.430093356833875, -0.2063599157091915, -0.1073529058151375, -9.594562251023355, -20.47028614809616,
     7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160,
     8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
    [0.0, 0.386, 0.21, 0.63, 1.0, 1.0], [0.25, -0.1043, 0.1035, -0.0362, 0.0, 0.0],
    [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950, 1.0, 1.0], [1, 1, 1, 1, 1, 1],
)
"""Six stages, order 4, stiffly accurate. Hairer and Wanner, Solving Ordinary Differential Equations II, section
IV.7."""
