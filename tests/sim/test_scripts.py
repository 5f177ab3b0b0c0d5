"""What scripts do: knobs, pedals, drains, heads, torn lines, holes, rigs, engines; and what snaps over by itself."""

from math import pi

import pytest

from circuit.gas.flow import hole, mass_flow
from circuit.sim import (
    Engine,
    NoSuchPlace,
    Options,
    Rig,
    Script,
    Variant,
    burst,
    feed,
    leak,
    move,
    open_up,
    press,
    pull,
    push,
    release,
    shut,
    simulate,
    simulate_many,
    start_engine,
    stop_engine,
    uncouple,
)
from circuit.units import ATMOSPHERE
from tests.sim.designs import BAR, built, example, gauge

FULL = {"reservoirs": gauge(100)}
PLAIN = Options(engine="plain")


def bar(pressure):
    return (pressure - ATMOSPHERE) / BAR


def test_charging_from_empty_stops_at_cut_out():
    trace = simulate(example("truck-6x4"), Script(situation="parked"), 400.0, start="empty", engine=Engine(True))
    cut_out = [event for event in trace.events if event.variable == "unloading"]
    assert len(cut_out) == 1 and 100 < cut_out[0].time < 300
    assert bar(trace.pressure("gov.1", cut_out[0].time)) == pytest.approx(8.6, abs=0.001)
    assert bar(trace.last("pri")) == pytest.approx(8.6, abs=0.2) and bar(trace.last("purge-tank")) < 0.05
    assert trace.steps < 400  # nothing flutters: such a charge needs one step in some seconds
    assert trace.balance.made > 0.9 and abs(trace.balance.drift) < 1e-11
    assert trace.state("gov", "unloading", 1.0) == 0 and trace.state("gov", "unloading", 399.0) == 1


def test_the_governor_cycles_between_its_two_pressures():
    actions = [a for n in range(20) for a in (press("foot", 1.0, 30.0 * n), release("foot", 30.0 * n + 3))]
    trace = simulate(example("truck-6x4"), Script(tuple(actions)), 600.0, engine=Engine(True))
    turns = [event for event in trace.events if event.device == "gov"]
    assert len(turns) >= 3
    for event in turns:
        assert bar(trace.pressure("gov.1", event.time)) == pytest.approx(8.6 if event.value else 7.2, abs=0.002)
    assert all(one.value != other.value for one, other in zip(turns, turns[1:]))


def test_a_pulled_knob_lets_the_springs_on_and_a_pushed_one_takes_them_off():
    script = Script((pull("park", 1.0), push("park", 11.0)), pressures=FULL)
    trace = simulate(example("truck-6x4"), script, 30.0)
    assert bar(trace.pressure("d1-left.spring", 0.9)) > 6
    assert bar(trace.pressure("d1-left.spring", 10.9)) < 0.15  # what its quick release keeps
    assert bar(trace.last("d1-left.spring")) > 5.5
    assert [trace.state("park", "pushed", t) for t in (0.5, 5.0, 20.0)] == [1, 0, 1]


def test_the_knob_pops_out_by_itself_when_the_air_is_gone():
    trace = simulate(example("truck-6x4"), Script((open_up("pri-drain", 0.0), open_up("sec-drain", 0.0))), 300.0)
    popped = [event for event in trace.events if event.device == "park"]
    assert len(popped) == 1 and popped[0].value == 0
    assert bar(trace.pressure("park.1", popped[0].time)) == pytest.approx(2.1, abs=0.002)
    assert bar(trace.last("d1-left.spring")) < 0.15


def test_a_drain_shut_again_keeps_the_rest():
    trace = simulate(
        example("truck-6x4"), Script((open_up("pri-drain", 0.0), shut("pri-drain", 5.0)), pressures=FULL), 30.0
    )
    assert 1 < bar(trace.pressure("pri", 5.0)) < 6.5
    assert bar(trace.last("pri")) == pytest.approx(bar(trace.pressure("pri", 6.0)), abs=0.05)


def test_half_a_pedal_gives_half_the_pressure():
    trace = simulate(example("truck-6x4"), Script((press("foot", 0.3, 0.0),), pressures=FULL), 5.0)
    assert bar(trace.last("foot.21")) == pytest.approx(3.0, abs=0.05)  # 30 % of 10 bar
    assert bar(trace.last("foot.22")) == pytest.approx(3.0 - 0.15, abs=0.05)  # less the lead


def test_breakaway_sets_the_trailer_s_springs_and_keeps_its_tanks():
    script = Script((uncouple("supply-head", 1.0),), pressures={**FULL, "supply-head": gauge(100)})
    trace = simulate(example("semitrailer-tandem"), script, 60.0)
    assert bar(trace.pressure("rear-right.spring", 0.9)) > 5
    assert bar(trace.pressure("rear-right.spring", 5.0)) < 0.35
    assert trace.last("tank-1") > gauge(95)


def test_a_fed_control_head_applies_the_trailer():
    script = Script(
        (feed("control-head", gauge(100), 0.0, 0.1), feed("control-head", ATMOSPHERE, 3.0, 0.1)), pressures=FULL
    )
    trace = simulate(example("semitrailer-tandem"), script, 6.0)
    applied = trace.first_time("rear-right.service", gauge(60))
    released = trace.first_time("rear-right.service", gauge(5), rising=False, after=3.0)
    assert 0.15 < applied < 0.6 and 0.2 < released - 3.0 < 1.5
    assert trace.balance.fed > 0


def test_an_uncoupled_combination_loses_both_lines_and_brakes_its_trailer():
    circuit = example("combination-semi")
    heads = [coupling.ends for coupling in circuit.couplings]
    supply = next(e for e in heads if circuit.by_name[e[0]].settings["line"] == "supply")
    trace = simulate(circuit, Script((uncouple(supply[0], 1.0),)), 20.0)
    towed = next(name for name in supply if circuit.by_name[name].settings["end"] == "front")
    assert bar(trace.pressure(towed, 0.9)) > 5 and bar(trace.last(towed)) < 0.1


def test_a_torn_line_empties_one_circuit_and_not_the_other():
    trace = simulate(example("truck-6x4"), Script((burst("pri -> rear-relay.1", 1.0),), pressures=FULL), 60.0)
    assert bar(trace.last("pri")) < 0.1 and bar(trace.last("sec")) > 6
    assert bar(trace.pressure("pri", 0.99)) > 6


def test_a_leak_flows_as_its_hole_does():
    circuit = built("reservoir tank: volume 40 L, rated 10 bar, role service\n")
    trace = simulate(circuit, Script((leak("tank", 1e-3, 1.0),), pressures={"tank": 8 * BAR}), 2.0, options=PLAIN)
    lost = trace.balance.vented
    assert lost == pytest.approx(mass_flow(hole(1e-3), 0.5, 8 * BAR, ATMOSPHERE), rel=0.01)
    assert trace.pressure("tank", 0.99) == pytest.approx(8 * BAR, abs=1.0)


def test_a_rig_s_reservoir_fills_with_the_control_line():
    rig = Rig("relay.4", 50 * 0.0254**3, bore=0.01, length=0.5)
    script = Script((feed("control-head", gauge(100), 0.0),), pressures=FULL, rigs=(rig,))
    trace = simulate(example("semitrailer-tandem"), script, 3.0)
    without = simulate(example("semitrailer-tandem"), Script(script.actions, pressures=FULL), 3.0)
    assert trace.last("rig") == pytest.approx(gauge(100), abs=2000)
    assert trace.first_time("relay.4", gauge(60)) > without.first_time("relay.4", gauge(60))


def test_the_engine_starts_and_stops():
    trace = simulate(
        example("truck-6x4"), Script((start_engine(5.0), stop_engine(15.0)), situation="parked"), 20.0, start="empty"
    )
    assert trace.highest("pump.2", until=4.9) < ATMOSPHERE + 1
    assert trace.pressure("wet", 15.0) > trace.pressure("wet", 6.0) + 0.2 * BAR
    ten = trace.balance.made
    fast = simulate(
        example("truck-6x4"),
        Script((start_engine(5.0, 1250 / 30), stop_engine(15.0)), situation="parked"),
        20.0,
        start="empty",
    ).balance.made
    assert 1.8 < fast / ten < 2.02


def test_a_closed_cock_opens():
    circuit = built(
        "reservoir one: volume 10 L, rated 10 bar, role service\nreservoir two: volume 10 L, rated 10 bar, "
        "role service\ncut-out-cock cock: state shut\nfit one -> cock.1\nfit cock.2 -> two\n"
    )
    script = Script((open_up("cock", 2.0),), pressures={"one": gauge(100), "two": ATMOSPHERE})
    trace = simulate(circuit, script, 30.0, options=PLAIN)
    assert trace.pressure("two", 1.9) == pytest.approx(ATMOSPHERE, abs=1)
    assert trace.last("two") == pytest.approx(gauge(50), abs=500)


@pytest.mark.parametrize(
    "action",
    [
        press("nobody", 1.0, 0.0),
        leak("pri.nowhere", 1e-3, 0.0),
        burst("pri", 0.0),
        move("pri", "pedal", 1.0, 0.0),
        feed("foot.3", gauge(50), 0.0),
    ],
)
def test_what_is_not_there_is_said(action):
    with pytest.raises(NoSuchPlace):
        simulate(example("truck-6x4"), Script((action,)), 1.0)


# --- variants ---------------------------------------------------------------------------------------------------------


def test_each_variant_is_as_if_run_alone():
    circuit = example("truck-6x4")
    script = Script((press("foot", 1.0, 0.1),), pressures=FULL)
    variants = [
        Variant("as it is"),
        Variant("leak", leaks={"front-left": 3e-3}),
        Variant("dead relay", failures=(("rear-relay", "does-not-apply"),)),
        Variant("narrow", conductances={("foot", "11", "21"): 0.2}),
        Variant("overstroked", settings={("front-left", "working-stroke"): 2.2 * 0.0254}),
    ]
    plain, leaking, dead, narrow, long = simulate_many(circuit, script, variants, 2.0)
    alone = simulate(circuit, script, 2.0)
    assert [t.label for t in (plain, leaking, dead, narrow, long)] == [v.name for v in variants]
    assert list(plain.pressures[-1]) == pytest.approx(list(alone.pressures[-1]), rel=1e-9)
    assert leaking.last("front-left") < plain.last("front-left") - 1000
    assert bar(dead.last("d1-left.service")) < 0.05 and bar(plain.last("d1-left.service")) > 5
    at = gauge(60)
    assert narrow.first_time("d1-left.service", at) > plain.first_time("d1-left.service", at) + 0.005
    assert long.first_time("front-left", at) > plain.first_time("front-left", at) + 0.02


def test_a_leak_in_a_variant_is_the_leak_of_a_script():
    circuit = built("reservoir tank: volume 40 L, rated 10 bar, role service\n")
    stored = {"tank": 8 * BAR}
    [one] = simulate_many(circuit, Script(pressures=stored), [Variant(leaks={"tank": 2e-3})], 20.0, options=PLAIN)
    other = simulate(circuit, Script((leak("tank", 2e-3, 0.0),), pressures=stored), 20.0, options=PLAIN)
    assert one.last("tank") == pytest.approx(other.last("tank"), abs=0.5) and one.last("tank") < 7 * BAR


def test_a_held_latch_does_not_turn():
    circuit = example("truck-6x4")
    script = Script((open_up("pri-drain", 0.0), open_up("sec-drain", 0.0)))
    [stuck] = simulate_many(circuit, script, [Variant(failures=(("park", "does-not-pop"),))], 300.0)
    assert not [event for event in stuck.events if event.device == "park"]
    [loaded] = simulate_many(
        circuit, Script(situation="parked"), [Variant(failures=(("gov", "stuck-loaded"),))], 60.0, engine=Engine(True)
    )
    assert loaded.highest("wet") > ATMOSPHERE + 10.2 * BAR  # up to the safety valve
    assert loaded.highest("wet") < ATMOSPHERE + 10.8 * BAR


def test_every_declared_failure_runs():
    circuit = example("truck-6x4")
    variants = [
        Variant(f"{d.name} {f.name}", failures=((d.name, f.name),)) for d in circuit.devices for f in d.kind.failures
    ]
    traces = simulate_many(circuit, Script((press("foot", 1.0, 0.0),), pressures=FULL), variants, 1.0)
    assert len(traces) == len(variants) > 150
    for trace in traces:
        assert trace.complete and abs(trace.balance.drift) < 1e-12, trace.label
        assert max(map(max, trace.pressures)) < gauge(100) + 50


def test_a_smaller_hole_takes_longer():
    area = [pi / 4 * d**2 for d in (1e-3, 2e-3, 4e-3)]
    circuit = built("reservoir tank: volume 20 L, rated 10 bar, role service\n")
    times = [
        simulate(
            circuit, Script((leak("tank", d, 0.0),), pressures={"tank": 8 * BAR}), 900.0, options=PLAIN
        ).first_time("tank", 4 * BAR, rising=False)
        for d in (1e-3, 2e-3, 4e-3)
    ]
    assert (
        times[0] * area[0] == pytest.approx(times[1] * area[1], rel=1e-3) == pytest.approx(times[2] * area[2], rel=1e-3)
    )


def test_a_factor_on_flow_in_a_batch_is_the_option_of_that_name():
    script = Script((press("foot", 1.0, 0.0),))
    batch = simulate_many(example("truck-6x4"), script, [Variant("less", flow=0.7)], 1.0)[0]
    alone = simulate(example("truck-6x4"), script, 1.0, options=Options(flow=0.7))
    assert batch.pressure("front-left", 0.3) == pytest.approx(alone.pressure("front-left", 0.3), abs=1.0)


def test_a_factor_on_delivery_is_that_of_the_compressors():
    script = Script(pressures={"reservoirs": ATMOSPHERE + 4e5})
    half, whole = simulate_many(example("truck-6x4"), script, [Variant("half", delivery=0.5), Variant("whole")], 20.0,
                                engine=Engine(True))
    assert half.balance.made == pytest.approx(whole.balance.made / 2, rel=0.02)


DASH = """
reservoir pri: volume 40 L, rated 10 bar, role service
reservoir sec: volume 40 L, rated 10 bar, role service
dash-module dash
tube pri -> dash.11: size 1/2 in, length 1 m
tube sec -> dash.12: size 1/2 in, length 1 m
consumer springs: use "springs", volume 2 L
consumer trailer: use "trailer", volume 2 L
tube dash.21 -> springs: size 3/8 in, length 1 m
tube dash.22 -> trailer: size 3/8 in, length 1 m
"""


@pytest.mark.parametrize("hand", [
    lambda at, to: push("dash", at, "pushed") if to else pull("dash", at, "pushed"),
    lambda at, to: move("dash", "pushed", float(to), at),
])
def test_a_knob_that_takes_another_along_does_not_bring_it_back(hand):
    """Yellow pulled takes red along; yellow pushed again feeds the springs alone, until a hand pushes red."""
    script = Script((hand(1.0, 0), hand(5.0, 1), push("dash", 9.0, "trailer-pushed")), pressures=FULL)
    trace = simulate(built(DASH), script, 14.0)
    full = trace.pressure("trailer", 0.9)
    assert full > gauge(90)
    assert trace.last("trailer") == pytest.approx(full, rel=0.05) and trace.state("dash", "trailer-pushed", 13.0) == 1.0
    assert trace.pressure("springs", 4.9) < gauge(2) and trace.pressure("trailer", 4.9) < gauge(2)
    assert trace.pressure("springs", 8.9) == pytest.approx(full, rel=0.05)
    assert trace.pressure("trailer", 8.9) < gauge(2) and trace.state("dash", "trailer-pushed", 8.9) == 0.0
