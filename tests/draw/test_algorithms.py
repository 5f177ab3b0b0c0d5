"""Pieces of the layout by themselves, against counting by brute force, a library's regression, and geometry."""

from itertools import combinations, permutations
from random import Random
from types import SimpleNamespace
from typing import Any

import pytest
from scipy.optimize import isotonic_regression

from circuit.draw import heights, measure, refine, route, search
from circuit.draw.field import Field, Item, Point, apart, lay_out
from circuit.draw.fold import read_whole
from circuit.draw.collect import within
from circuit.draw.columns import band_columns, choose_sides, join_axles
from circuit.draw.parts import LEFT, RIGHT, Run, Slot, Wire
from circuit.draw.shape import shape
from circuit.draw.tree import Drawn, Stretch, chains, moved, read
from circuit.pipeline import load
from tests.designs import EXAMPLES


def drawn(number: int, *lines: tuple[float, float, float, float]) -> Drawn:
    """A wire of straight stretches, each x0, y0, x1, y1."""
    stretches = [Stretch((min(a, c), min(b, d)), (max(a, c), max(b, d)), "supply") for a, b, c, d in lines]
    return Drawn(Wire(number), stretches)


# --- what makes a drawing hard to read -------------------------------------------------------------------------------


def test_lines_that_meet_are_counted_where_they_are_of_two_wires():
    level, upright = (0, 0, 10, 0), (5, -5, 5, 5)
    assert measure.crossings([drawn(1, level), drawn(2, upright)]) == 1
    assert measure.crossings([drawn(1, level, upright)]) == 0
    assert measure.crossings([drawn(1, level), drawn(2, (11, -5, 11, 5))]) == 0
    assert measure.crossings([drawn(1, level), drawn(2, (5, 1, 5, 5))]) == 0
    assert measure.crossings([drawn(1, level, (0, 3, 10, 3)), drawn(2, upright, (8, -5, 8, 2))]) == 3


def test_lines_that_touch_or_lie_on_each_other():
    level = (0, 0, 10, 0)
    assert measure.touching([drawn(1, level), drawn(2, (5, -5, 5, 5))]) == 0, "a clean crossing"
    assert measure.touching([drawn(1, level), drawn(2, (5, 0, 5, 5))]) == 1, "it ends on it"
    assert measure.touching([drawn(1, level), drawn(2, (10, -5, 10, 5))]) == 1, "at its end"
    assert measure.touching([drawn(1, level), drawn(2, (6, 0, 15, 0))]) == 1, "one upon the other"
    assert measure.touching([drawn(1, level, (6, 0, 15, 0))]) == 0, "of one wire"
    assert measure.touching([drawn(1, level), drawn(2, (11, 0, 15, 0))]) == 0
    assert measure.touching([drawn(1, (3, 0, 3, 9)), drawn(2, (3, 9, 3, 12))]) == 1


def test_lines_through_boxes_and_boxes_on_boxes():
    box = (2.0, 2.0, 6.0, 5.0)
    for line, inside in (((0, 3, 10, 3), True), ((0, 2, 10, 2), False), ((4, 0, 4, 10), True), ((6, 0, 6, 10), False),
                         ((3, 3, 5, 3), True), ((0, 3, 1.9, 3), False)):
        assert measure.line_meets(drawn(1, line).stretches[0], box) is inside, line
    assert measure.through([drawn(1, (0, 3, 10, 3), (4, 0, 4, 10)), drawn(2, (0, 9, 9, 9))], [box, (0, 8, 2, 10)]) == 3
    assert measure.boxes_meet(box, (5, 4, 9, 9)) and not measure.boxes_meet(box, (6, 2, 9, 5))
    assert not measure.boxes_meet(box, (2, 5, 6, 9)) and not measure.boxes_meet(box, (0, 0, 2, 9))
    assert measure.overlaps([box, (5, 4, 9, 9), (8, 8, 12, 12), (20, 0, 21, 1)]) == 2


# --- crossings in a channel ------------------------------------------------------------------------------------------


def lines_of(s: refine.Channelled, number: int, trunk: float) -> Drawn:
    """A wire in a channel from 0 to 9 as it is drawn: its ends level up to its trunk."""
    return drawn(number, (trunk, s.low, trunk, s.high), *((0.0, y, trunk, y) for y in s.lefts),
                 *((trunk, y, 9.0, y) for y in s.rights))


def spans(chance: Random, ends: int) -> tuple[refine.Channelled, refine.Channelled]:
    """Two wires with ends at heights of their own, each with one on either side at least."""
    ys = chance.sample(range(100), 2 * ends)
    found = []
    for own in (ys[:ends], ys[ends:]):
        cut = chance.randint(1, ends - 1)
        found.append(refine.Channelled([float(y) for y in own[:cut]], [float(y) for y in own[cut:]], float(min(own)),
                                       float(max(own))))
    return found[0], found[1]


@pytest.mark.parametrize("seed", range(60))
def test_crossings_of_two_wires_are_those_that_are_drawn(seed: int):
    a, b = spans(Random(seed), 2 + seed % 3)
    before, after = refine.crossings(a, b)
    assert before == measure.crossings([lines_of(a, 1, 3.0), lines_of(b, 2, 6.0)])
    assert after == measure.crossings([lines_of(a, 1, 6.0), lines_of(b, 2, 3.0)])
    assert refine.crossings(b, a) == (after, before)


@pytest.mark.parametrize("lefts, rights", [((0, 1), (0, 1)), ((0, 1), (1, 0)), ((0, 1, 0), (1,)), ((0, 1, 0), (1, 0)),
                                           ((0, 0, 1), (1, 0)), ((0, 1, 0, 1), (0, 1)), ((1, 0), (0, 1, 0))])
def test_the_fewest_crossings_of_two_orders(lefts: tuple[int, ...], rights: tuple[int, ...]):
    """Every way to interleave the ends of the two sides, each counted by its lines."""
    count = len(lefts) + len(rights)
    best = count
    for on_left in combinations(range(count), len(lefts)):
        of_left, of_right = iter(lefts), iter(rights)
        ends: tuple[Any, Any] = (([], []), ([], []))
        for y in range(count):
            side = y not in on_left
            ends[next(of_right) if side else next(of_left)][side].append(float(y))
        a, b = (refine.Channelled(left, right, min(left + right), max(left + right)) for left, right in ends)
        best = min(best, *refine.crossings(a, b))
    assert search.fewest(lefts, rights) == best


def test_parallel_wires_need_not_cross_and_exchanged_ones_must():
    assert search.fewest((0, 1), (0, 1)) == 0 and search.fewest((0, 1), (1, 0)) == 1
    assert search.fewest((0, 1, 0), (1,)) == 1, "one end between two of the other"


# --- tracks ----------------------------------------------------------------------------------------------------------


def channel(ends: dict[int, tuple[list[float], list[float]]]) -> Field:
    """A field of one channel. ends: wire number to the heights on its left and on its right side."""
    points: dict[int, list[Point]] = {}
    for number, (lefts, rights) in ends.items():
        wire = Wire(number)
        points[number] = [Point(Item(0, y=y), side, wire, None) for side, ys in ((RIGHT, lefts), (LEFT, rights)) for y in ys]
    return Field([[]], [points], [Wire(number) for number in ends], {})


def crossed(plan: route.Channel) -> int:
    found = 0
    for a, b in combinations(plan.tracks, 2):
        before, after = refine.crossings(plan.spans[a], plan.spans[b])
        if plan.tracks[a] != plan.tracks[b]:
            found += before if plan.tracks[a] < plan.tracks[b] else after
    return found


@pytest.mark.parametrize("seed", range(40))
def test_tracks_keep_trunks_apart_with_the_fewest_crossings(seed: int):
    chance = Random(seed)
    ys = chance.sample(range(0, 120, 2), 12)
    ends = {n: ([float(y) for y in ys[3 * n:3 * n + 1]], [float(y) for y in ys[3 * n + 1:3 * n + 3]]) for n in range(4)}
    plan = route.plan(channel(ends), 0)
    assert set(plan.tracks) == set(ends) and plan.count == 1 + max(plan.tracks.values()) and not plan.doglegs
    for a, b in combinations(plan.tracks, 2):
        if plan.tracks[a] == plan.tracks[b]:
            assert plan.spans[a].high < plan.spans[b].low or plan.spans[b].high < plan.spans[a].low
    best = min(sum(refine.crossings(plan.spans[a], plan.spans[b])[0] for a, b in combinations(order, 2))
               for order in permutations(ends))
    assert crossed(plan) == best


def test_a_straight_wire_needs_no_track():
    plan = route.plan(channel({1: ([5.0], [5.0]), 2: ([8.0], [8.0])}), 0)
    assert plan.tracks == {} and plan.count == 0


def test_the_wire_that_comes_in_where_another_goes_out_turns_first():
    plan = route.plan(channel({1: ([0.0], [10.0]), 2: ([10.0], [20.0]), 3: ([20.0], [30.0])}), 0)
    assert plan.tracks[3] < plan.tracks[2] < plan.tracks[1] and not plan.doglegs


def test_two_wires_that_change_heights_with_each_other_need_a_step():
    plan = route.plan(channel({1: ([0.0], [10.0]), 2: ([10.0], [0.0])}), 0)
    ((number, (track, height)),) = plan.doglegs.items()
    assert plan.count == 3 and track == 2 and number in (1, 2)
    assert all(abs(height - y) >= 0.5 for y in (0.0, 10.0)) and 0 < height < 10


def test_a_wire_that_turns_back_has_its_trunk_between_its_ends():
    plan = route.plan(channel({1: ([0.0, 6.0], []), 2: ([3.0], [3.0])}), 0)
    assert plan.tracks == {1: 0} and (plan.spans[1].low, plan.spans[1].high) == (0.0, 6.0)


# --- heights ---------------------------------------------------------------------------------------------------------


def test_means_and_medians_are_weighted():
    wishes = [(0.0, 1.0), (10.0, 3.0), (4.0, 1.0)]
    assert heights.mean(wishes) == pytest.approx(34 / 5) and heights.median(wishes) == 10.0
    assert heights.median([(7.0, 0.1)]) == 7.0 and heights.median([(1.0, 1.0), (2.0, 1.0), (9.0, 1.0)]) == 2.0
    assert heights.median([(1.0, 1.0), (5.0, 1.0)]) == 1.0, "of two alike the lower"


@pytest.mark.parametrize("seed", range(20))
def test_never_falling_values_nearest_to_the_wishes(seed: int):
    """With means it is isotonic regression, which a library solves by other code."""
    chance = Random(seed)
    wishes = [[(chance.uniform(0, 50), chance.uniform(0.1, 2)) for _ in range(chance.randint(1, 3))] for _ in range(9)]
    centres = [heights.mean(own) for own in wishes]
    weights = [sum(weight for _, weight in own) for own in wishes]
    expected = isotonic_regression(centres, weights=weights).x
    assert heights.monotone_fit(wishes, heights.mean) == pytest.approx(list(expected), abs=1e-9)
    assert heights._mean_fit(wishes) == pytest.approx(list(expected), abs=1e-9)
    medians = heights.monotone_fit(wishes, heights.median)
    assert medians == sorted(medians)


# --- a whole small field ---------------------------------------------------------------------------------------------


def field(example: str = "semitrailer-tandem") -> tuple[Any, Field]:
    """The field of an example with its columns and sides, before any order is searched for."""
    circuit = load(str(EXAMPLES / example / "design.air"))
    whole, _ = read_whole(circuit, False)
    names = {body.device.name for body in whole.parts.bodies} | set(whole.tees)
    parts = within(whole, frozenset(names), {})
    count = band_columns(circuit, parts)
    choose_sides(parts)
    join_axles(circuit, parts)
    for body in parts.bodies:
        shape(circuit, body)
    return circuit, lay_out(parts, count, {axle.name: axle.position for axle in circuit.axles})


def test_every_wire_has_its_ends_and_passes_the_columns_between_them():
    _, target = field()
    assert target.wires and len(target.channels) == len(target.columns) + 1
    for wire in target.wires:
        ends = [point for row in target.channels for points in row.values() for point in points
                if point.wire is wire and point.slot is not None]
        assert {id(point.slot) for point in ends} == {id(slot) for slot in wire.slots}
        at = [point.item.column + (point.side == RIGHT) for point in ends]
        passing = sorted(item.column for column in target.columns for item in column if item.wire is wire)
        assert passing == list(range(min(at), max(at)))
    for row in target.channels:
        for points in row.values():
            for point in points:
                across = [other for other in points if other.side != point.side]
                assert point.mates == (across or [other for other in points if other is not point])
                assert 0 < point.weight <= 1.8


def test_an_order_moved_and_undone_costs_what_it_says():
    circuit, target = field()
    ranks = search.Ranks(circuit, target)
    chance = Random(5)
    begun, total = ranks.keep(), ranks.total()
    for _ in range(60):
        k = chance.randrange(len(ranks.items))
        done: list[tuple[int, int]] = []
        more = ranks.move(k, chance.choice((-3, -2, -1, 1, 2, 3)), done)
        assert ranks.total() == pytest.approx(total + more), "the count kept is the count anew"
        if chance.random() < 0.5:
            ranks.undo(done)
            assert ranks.total() == pytest.approx(total)
        else:
            total += more
    for each in ranks.turnable:
        k = each.ends[0][0]
        before, near = ranks.total() - (each.cost if each.flipped else 0), ranks.among(k)
        each.turn()
        assert ranks.total() - (each.cost if each.flipped else 0) - before == pytest.approx(ranks.among(k) - near)
    ranks.restore(begun)
    assert ranks.keep() == begun and [[ranks.index[id(i)] for i in column] for column in target.columns] == begun.columns


def test_annealing_leaves_the_best_that_it_met():
    circuit, target = field()
    ranks = search.Ranks(circuit, target)
    before = ranks.total()
    search.anneal(ranks, 3000, Random(1))
    assert ranks.total() < before
    assert [[ranks.index[id(item)] for item in column] for column in target.columns] == ranks.columns
    again = ranks.total()
    search.anneal(ranks, 0, Random(1))
    assert ranks.total() == again, "no step, no change"


def test_arranged_items_stand_apart_in_whole_units_and_what_was_kept_comes_back():
    circuit, target = field()
    first = refine.arrange(circuit, target, 2)
    assert first == pytest.approx(refine.cost(target))
    for column in target.columns:
        for upper, lower in zip(column, column[1:]):
            assert lower.y - upper.y >= apart(upper, lower) - 1e-9
        assert all(item.y == int(item.y) for item in column)
    kept = refine.keep(target)
    ys = [item.y for column in target.columns for item in column]
    for column in target.columns:
        column.reverse()
        for item in column:
            item.y += 7
    refine.restore(circuit, target, kept)
    assert [item.y for column in target.columns for item in column] == ys and refine.cost(target) == pytest.approx(first)


def test_straightening_never_makes_more_wires_bend():
    circuit, target = field()
    heights.stack(target)
    heights.settle(target)

    def bent() -> float:
        return sum(point.weight * abs(point.y - mate.y) + 2 * point.weight * (point.y != mate.y)
                   for row in target.channels for points in row.values() for point in points for mate in point.mates
                   if mate.side != point.side)

    before = bent()
    heights.straighten(target)
    assert bent() <= before + 1e-9
    for column in target.columns:
        for upper, lower in zip(column, column[1:]):
            assert lower.y - upper.y >= apart(upper, lower) - 1e-9


# --- a wire as a tree ------------------------------------------------------------------------------------------------


def routed(*pieces: tuple[float, float, float, float], ends: list[tuple[float, float]]) -> Drawn:
    """A wire of straight pieces between places, with a run from its first end to each other one."""
    lines = route.Lines()
    for a, b, c, d in pieces:
        lines.add((a, b), (c, d))
    own = [Slot(body=SimpleNamespace(), port=str(number)) for number in range(len(ends))]  # type: ignore[arg-type]
    lines.ends = {id(slot): place for slot, place in zip(own, ends)}
    wire = Wire(1, slots=own)
    for other in own[1:]:
        run = Run.__new__(Run)
        run.start, run.end, run.role = own[0], other, "supply"
        wire.runs.append(run)
    return read(wire, lines)


def test_a_bent_line_has_its_corners_and_one_stretch_for_each_leg():
    found = routed((0, 0, 4, 0), (4, 0, 4, 6), (4, 6, 9, 6), ends=[(0, 0), (9, 6)])
    assert found.bends == 2 and found.joints == []
    assert {(s.start, s.end) for s in found.stretches} == {((0, 0), (4, 0)), ((4, 0), (4, 6)), ((4, 6), (9, 6))}
    assert [s.level for s in found.stretches].count(True) == 2 and sum(s.length for s in found.stretches) == 15
    assert {(s.start, s.end) for s in found.own[0]} == {(s.start, s.end) for s in found.stretches}


def test_a_fork_has_a_joint_and_each_branch_its_own_stretch():
    found = routed((0, 0, 4, 0), (4, 0, 4, 6), (4, 0, 9, 0), (4, 6, 9, 6), ends=[(0, 0), (9, 0), (9, 6)])
    assert found.joints == [(4, 0)] and found.bends == 1
    assert {(s.start, s.end) for s in found.own[0]} == {((4, 0), (9, 0))}
    assert {(s.start, s.end) for s in found.own[1]} == {((4, 0), (4, 6)), ((4, 6), (9, 6))}
    moved(found, 2.0, -1.0)
    assert found.joints == [(6.0, -1.0)] and ((2.0, -1.0), (11.0, -1.0)) in {(s.start, s.end) for s in found.stretches}
    assert {(s.start, s.end) for s in found.own[0]} == {((6.0, -1.0), (11.0, -1.0))}


def test_stretches_that_follow_each_other_are_one_polyline():
    stretches = drawn(1, (0, 0, 4, 0), (4, 0, 4, 6), (4, 6, 9, 6)).stretches
    assert chains(stretches) in ([[(0, 0), (4, 0), (4, 6), (9, 6)]], [[(9, 6), (4, 6), (4, 0), (0, 0)]])
    forked = chains(drawn(1, (0, 0, 4, 0), (4, 0, 4, 6), (4, 0, 9, 0)).stretches)
    assert len(forked) == 3 and all((4, 0) in (chain[0], chain[-1]) for chain in forked)
    ring = chains(drawn(1, (0, 0, 4, 0), (4, 0, 4, 6), (0, 6, 4, 6), (0, 0, 0, 6)).stretches)
    assert len(ring) == 1 and ring[0][0] == ring[0][-1] and len(ring[0]) == 5
