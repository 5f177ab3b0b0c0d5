"""What must be so in every run: no air made or lost, nothing above its sources, left as right, and finer is nearer.

No outside number is needed for these; circuits that nobody drew by hand are among those that are held to them.
"""

from dataclasses import replace
from math import exp, log2

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from circuit.pipeline import load_source
from circuit.sim import Engine, Script, leak, open_up, press, release, simulate
from circuit.source import Source
from circuit.studies.hands import apply, let_go, standing
from circuit.units import ATMOSPHERE
from tests.designs import example_text
from tests.outside import whole
from tests.outside.test_closed_forms import EXACT, FULL, TANK, TAU
from tests.sim.designs import BAR, built, example, gauge
from tests.sim.varied import varied

PLAIN = whole.PLAIN
LOWEST_SLACK = 1.0
"""Pa that a pressure may stand above the highest or below the lowest at the start: what a step's error allows."""


# --- mass balance -----------------------------------------------------------------------------------------------------


def test_no_air_is_made_or_lost(table):
    """As masses are what is integrated, the balance is one of roundings only, whatever the steps."""
    against = table.against("principle", "first + made + fed = last + vented, as a share of the air there")
    _, applied = whole.application("truck-6x4")
    everything = (press("foot", 1.0, 0.5), leak("pri", 2e-3, 1.0), release("foot", 2.0), open_up("wet-drain", 2.5))
    eventful = simulate(example("truck-6x4"), Script(everything), 6.0, engine=Engine(True), options=PLAIN)
    _, charged = whole.charge("teaching-board", 150.0)
    coarse = simulate(example("truck-6x4"), whole.APPLY, 1.0, options=replace(PLAIN, tolerance=1e4))
    for words, trace in (
        ("truck-6x4 applied and released", applied),
        ("truck-6x4 with compressor, leak, drain and application", eventful),
        ("teaching-board charged from empty", charged),
        ("truck-6x4 applied, error allowed 10 kPa a step", coarse),
    ):
        against(f"air made or lost, {words}", outside=0.0, ours=trace.balance.drift, within=1e-12)
    assert eventful.balance.made > 0 and eventful.balance.vented > 0 and eventful.events


def test_what_is_vented_is_what_is_missing(table):
    _, trace = whole.application("truck-6x4")
    against = table.against("principle", "air there before less air there after, nothing being made")
    balance = trace.balance
    against(
        "truck-6x4 applied and released, air vented",
        outside=(balance.first - balance.last) * 1e3,
        ours=balance.vented * 1e3,
        unit="g",
        within=1e-6,
    )
    assert balance.made == 0 and balance.vented > 0.02


# --- sources ----------------------------------------------------------------------------------------------------------


def test_no_pressure_is_above_its_sources(table):
    against = table.against("principle", "highest pressure anywhere less that of the reservoirs at the start")
    for name in ("teaching-board", "truck-6x4"):
        _, trace = whole.application(name)
        against(
            f"{name} applied and released, highest pressure above its source",
            outside=0.0,
            unit="kPa",
            within=0.05,
            ours=max(max(map(max, trace.pressures)) - gauge(100), 0.0) / 1e3,
        )
        assert trace.complete and min(map(min, trace.pressures)) > ATMOSPHERE - 50


def test_no_pressure_is_below_the_atmosphere(table):
    """Nothing draws air out, so nothing empties further. Among circuits that nobody drew are eight with a short tube from a
    load-sensing valve to a relay, which steps of too much at once emptied to 0.6 to 1.2 kPa below."""
    against = table.against("principle", "the atmosphere less the lowest pressure anywhere")
    for name, seeds in (("truck-europe", (16, 34, 54, 59, 66, 100, 148, 149)), ("semitrailer-europe", range(8))):
        runs = [_varied_application(name, seed) for seed in seeds]
        assert all(trace.complete for trace in runs)
        against(
            f"{name} applied and released in {len(runs)} variants, lowest pressure below the atmosphere",
            outside=0.0,
            unit="kPa",
            within=0.05,
            ours=max(ATMOSPHERE - min(map(min, trace.pressures)) for trace in runs) / 1e3,
        )


def _varied_application(name, seed):
    """All pedals and control heads down, and up again, in a circuit of other lengths, sizes, volumes and valves."""
    circuit = varied(example(name), seed)
    actions = (*apply(circuit, 0.0, None, rig=gauge(100)), *let_go(circuit, 2.0))
    return simulate(circuit, standing(circuit, gauge(100), *actions), 5.0)


@some.composite
def networks(draw):
    """A few tanks at any pressures; lines, check valves and throttles between them, rings and dead ends included."""
    count = draw(some.integers(2, 5))
    rows = [f"reservoir t{n}: volume {draw(some.integers(1, 60))} L, rated 13 bar, role service" for n in range(count)]
    for link in range(draw(some.integers(1, 6))):
        start, end = draw(some.permutations(range(count)))[:2]
        how = draw(some.sampled_from(("tube", "check", "throttle")))
        length = draw(some.sampled_from((0.2, 1.5, 7.0, 14.0)))
        if how == "tube":
            rows.append(f"tube t{start} -> t{end}: size 3/8 in, length {length} m")
        elif how == "check":
            rows += [
                f"check-valve c{link}",
                f"fit t{start} -> c{link}.1",
                f"tube c{link}.2 -> t{end}: size 1/2 in, length {length} m",
            ]
        else:
            rows += [f"restrictor r{link}: bore 2 mm", f"fit t{start} -> r{link}.1", f"fit r{link}.2 -> t{end}"]
    pressures = {f"t{n}": ATMOSPHERE + draw(some.integers(0, 120)) * 1e4 for n in range(count)}
    return "\n".join(rows), pressures


@settings(max_examples=25, deadline=None, derandomize=True)
@given(networks())
def test_circuits_that_nobody_drew(network):
    text, pressures = network
    trace = simulate(built(text), Script(pressures=pressures), 5.0, options=PLAIN)
    assert trace.complete and abs(trace.balance.drift) < 1e-12
    assert max(map(max, trace.pressures)) <= max(pressures.values()) + LOWEST_SLACK
    assert min(map(min, trace.pressures)) >= ATMOSPHERE - LOWEST_SLACK
    spread = [max(float(row[trace.column(name)]) for name in pressures) for row in trace.pressures]
    assert all(after <= before + LOWEST_SLACK for before, after in zip(spread, spread[1:]))


@some.composite
def brakes(draw):
    """A foot valve and some axles, each by a relay or a quick release valve; left and right are alike."""
    size = some.sampled_from(("1/4 in", "3/8 in", "1/2 in"))
    length = some.sampled_from((0.5, 2.0, 8.0))
    rows = [
        f"reservoir tank: volume {draw(some.integers(10, 60))} L, rated 13 bar, role service",
        "foot-valve foot: deliveries 3",
        f"tube tank -> foot.1: size 1/2 in, length {draw(length)} m",
    ]
    count = draw(some.integers(1, 3))
    for axle in range(count):
        signal = f"tube foot.2 -> v{axle}.{{}}: size {draw(size)}, length {draw(length)} m"
        if draw(some.booleans()):
            rows += [f"relay-valve v{axle}", f"tube tank -> v{axle}.1: size 1/2 in, length {draw(length)} m"]
            rows.append(signal.format(4))
        else:
            rows += [f"quick-release-valve v{axle}", signal.format(1)]
        type, hose = draw(some.sampled_from((16, 20, 30))), draw(length)
        for side in ("left", "right"):
            rows.append(f"chamber c{axle}-{side}: type {type}, stroke 2.5 in, axle front, side {side}")
            rows.append(f"hose v{axle}.2 -> c{axle}-{side}: bore 3/8 in, length {hose} m, ends moving")
    pedal = draw(some.sampled_from((0.2, 0.6, 1.0)))
    script = Script(
        (press("foot", pedal, 0.1, draw(some.sampled_from((0.0, 0.1, 0.4)))), release("foot", 1.5)),
        pressures={"tank": ATMOSPHERE + draw(some.integers(3, 10)) * 1e5},
    )
    return "\n".join(rows), script, count


@settings(max_examples=12, deadline=None, derandomize=True)
@given(brakes())
def test_brakes_that_nobody_drew(case):
    text, script, axles = case
    trace = simulate(built(text), script, 8.0, options=PLAIN)
    assert trace.complete and abs(trace.balance.drift) < 1e-12
    assert max(map(max, trace.pressures)) <= script.pressures["tank"] + LOWEST_SLACK
    assert min(map(min, trace.pressures)) >= ATMOSPHERE - LOWEST_SLACK
    for axle in range(axles):
        left, right = trace.column(f"c{axle}-left"), trace.column(f"c{axle}-right")
        assert all(abs(row[left] - row[right]) < 1e-3 for row in trace.pressures)
        assert trace.highest(f"c{axle}-left", until=1.5) > ATMOSPHERE + 0.2e5  # it came on
        assert trace.last(f"c{axle}-left") < ATMOSPHERE + 0.3e5  # and went off, but for what lies below a valve's crack


# --- symmetry ---------------------------------------------------------------------------------------------------------


def test_left_and_right_agree(table):
    """Mirrored branches hold the same numbers all the way, not only nearly."""
    against = table.against("principle", "greatest distance of left and right at all times")
    for name, pairs in (
        ("teaching-board", (("front-left", "front-right"), ("rear-left", "rear-right"))),
        ("truck-6x4", (("front-left", "front-right"), ("d1-left.service", "d1-right.service"))),
    ):
        _, trace = whole.application(name)
        for left, right in pairs:
            one, other = trace.column(left), trace.column(right)
            against(
                f"{name}: {left} and {right}",
                outside=0.0,
                unit="Pa",
                within=1e-3,
                ours=max(abs(float(row[one] - row[other])) for row in trace.pressures),
            )


def test_the_order_of_the_rows_does_not_matter(table):
    """The same circuit written from the last row to the first."""
    rows = [row for row in example_text("teaching-board").split("\n") if row and not row.startswith("#")]
    head, parts = rows[:4], [row for row in rows[4:] if not row.startswith((" ", "}", "trial"))]
    turned = load_source(Source("turned.air", "\n".join([*head, *reversed(parts)])))
    other = simulate(turned, whole.APPLY, whole.END, options=PLAIN)
    _, trace = whole.application("teaching-board")
    against = table.against("principle", "the design written from its last row to its first")
    for place in ("front-left", "rear-left"):
        against(
            f"teaching-board turned over: {place} to 60 psi",
            outside=1e3 * other.first_time(place, gauge(60)),
            ours=1e3 * trace.first_time(place, gauge(60)),
            unit="ms",
            within=0.05,
        )


def test_half_the_flow_takes_twice_the_time(table):
    """The equations have no time of their own: where nothing is moved on the way, only flow times time counts."""
    text = (
        "reservoir one: volume 20 L, rated 10 bar, role service\n"
        "reservoir two: volume 30 L, rated 10 bar, role service\n"
        "check-valve non\ntube one -> non.1: size 3/8 in, length 5 m\ntube non.2 -> two: size 1/2 in, length 1 m\n"
    )
    script = Script(pressures={"one": 9 * BAR, "two": 2 * BAR})
    fine = replace(PLAIN, method="rodas4", tolerance=0.01)
    slow, quick = (simulate(built(text), script, 12.0, options=replace(fine, flow=share)) for share in (0.5, 1.0))
    against = table.against("principle", "twice the time at full flow")
    for level in (3.0, 4.0):
        against(
            f"30 L filled to {level:g} bar at half the flow",
            outside=2e3 * quick.first_time("two", level * BAR),
            ours=1e3 * slow.first_time("two", level * BAR),
            unit="ms",
            within=0.02,
        )


# --- steps ------------------------------------------------------------------------------------------------------------


def test_halving_the_step_divides_the_error(table):
    """A choked blow-down in equal steps, against its exponential. Steps of one size: so fine an error is asked for that
    every step is taken at the least size there may be."""
    against = table.against("principle", "base-2 logarithm of the errors with steps of 50 and 25 ms")

    def error(method, step):
        options = replace(EXACT, method=method, tolerance=1e-30, first_step=step, least_step=step)
        trace = simulate(built(TANK), Script((open_up("tap", 0.0),), pressures={"tank": FULL}), 1.0, options=options)
        assert trace.steps == pytest.approx(1.0 / step, abs=1)
        return abs(trace.last("tank") - FULL * exp(-1.0 / TAU))

    for method, order in (("rodas3", 3), ("rodas4", 4)):
        found = log2(error(method, 0.05) / error(method, 0.025))
        against(f"order of {method} in a circuit", outside=order, ours=found, within=0.3)


def test_a_finer_tolerance_moves_the_answer_by_less(table):
    """What a tenth of the error allowed to a step changes: the time of the slowest chamber of a whole circuit."""
    against = table.against("principle", "the same run with 0.1 Pa allowed to a step")
    tolerances, place = (100.0, 30.0, 10.0, 1.0, 0.1), "front-left"
    times = [
        1e3
        * simulate(example("teaching-board"), whole.APPLY, 1.0, options=replace(PLAIN, tolerance=tolerance)).first_time(
            place, gauge(60)
        )
        for tolerance in tolerances
    ]
    for tolerance, time, most in zip(tolerances, times, (2.0, 1.0, 0.5, 0.1)):
        against(
            f"teaching-board: {place} to 60 psi with {tolerance:g} Pa allowed to a step",
            outside=times[-1],
            ours=time,
            unit="ms",
            within=most,
        )
