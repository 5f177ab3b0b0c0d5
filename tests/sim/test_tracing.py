"""Openings turned into data give what the kinds' functions give, for every kind, everywhere."""

from random import Random

import pytest

from circuit import kinds
from circuit.declaring.kind import OUTSIDE
from circuit.sim.tracing import ONE, Choice, Untraceable, jumps, trace, value
from tests.kinds.test_every_kind import _variables, settings_of

KINDS = [kind for kind in kinds.every() if kind.passages or kind.latches]
WIDE = 15e3


def given_of(kind):
    """Settings with what the resolver adds to heads."""
    settings = settings_of(kind)
    for more in ("joined", "loose", "capped"):
        settings.setdefault(more, False)
    return settings


def points(kind, number):
    """Pressures and states, some of them equal and at their ends, in a fixed order."""
    random = Random(number)
    ports = [port.number for port in kind.ports] + [OUTSIDE]
    levels = (101325.0, 3e5, 6e5, 9e5, random.uniform(1e5, 11e5))
    # no two are equal: there `>` and `>=` differ, and a run never stays
    pressures = {port: random.choice(levels) + 1.7 * place for place, port in enumerate(ports)}
    state = {name: random.choice((0.0, 1.0)) for name in sorted(_variables(kind))}
    return pressures, state


@pytest.mark.parametrize("kind", KINDS, ids=[kind.name for kind in KINDS])
def test_a_traced_opening_is_the_opening(kind):
    settings, ports = given_of(kind), tuple(port.number for port in kind.ports)
    compared = 0
    for function, with_state in [(p.opening, True) for p in kind.passages if p.opening] + [
        (f, False) for latch in kind.latches for f in (latch.sets, latch.resets) if f
    ]:
        tree = trace(function, ports, settings, tuple(sorted(_variables(kind))) if with_state else None)
        for number in range(60):
            pressures, state = points(kind, number)
            expected = function(pressures, settings, state) if with_state else function(pressures, settings)
            known = {
                **{("p", port): p for port, p in pressures.items()},
                **{("u", name): v for name, v in state.items()},
            }
            assert value(tree, known) == pytest.approx(float(expected), abs=1e-3, rel=1e-9)
            compared += 1
    assert compared or all(passage.opening is None for passage in kind.passages)


def _one(function, settings=None):
    return trace(function, ("1", "2"), settings or {}, ("pedal",))


def test_least_and_greatest_are_asked_both_ways():
    tree = _one(lambda p, s, x: min(p["1"], max(p["2"], 3e5)))
    for one, two in ((1e5, 2e5), (4e5, 2e5), (4e5, 5e5), (6e5, 5e5)):
        assert value(tree, {("p", "1"): one, ("p", "2"): two}) == min(one, max(two, 3e5))
    assert not any(jumps(choice, WIDE) for choice in _choices(tree))


def test_a_jump_is_seen_and_a_bend_is_none():
    jump = _one(lambda p, s, x: 1e4 if p["1"] > 3e5 else 0.0)
    bend = _one(lambda p, s, x: p["1"] - 3e5 if p["1"] > 3e5 else 0.0)
    harmless = _one(lambda p, s, x: -1e5 if p["1"] > 3e5 else -5e4)  # shut on both sides
    assert [jumps(tree, WIDE) for tree in (jump, bend, harmless)] == [True, False, False]


def test_the_factor_of_a_product_is_what_holds_no_pressure():
    tree = _one(lambda p, s, x: x["pedal"] * (p["1"] - 1e5))
    [((factor, key), weight)] = tree.products.items()
    assert key == ("p", "1") and weight == 1.0 and list(factor.weights) == [("u", "pedal")]
    assert value(tree, {("p", "1"): 3e5, ("u", "pedal"): 0.5}) == 1e5


@pytest.mark.parametrize(
    "function",
    [
        lambda p, s, x: 1e9 / p["1"],
        lambda p, s, x: p["1"] ** 0.5,
        lambda p, s, x: float(p["1"]),
        lambda p, s, x: s["no-such"] - p["1"],
    ],
)
def test_what_is_no_weighted_sum_is_refused(function):
    with pytest.raises(Untraceable):
        _one(function)


def test_a_number_stays_one():
    assert _one(lambda p, s, x: 7.0).weights == {ONE: 7.0}


def _choices(tree):
    return [tree, *_choices(tree.yes), *_choices(tree.no)] if isinstance(tree, Choice) else []
