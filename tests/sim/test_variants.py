"""Changed numbers put into rows that are read already, against the circuit read anew with them."""

from random import Random

import numpy as np
import pytest

from circuit.model.places import NoSuchPlace
from circuit.sim import Script, Variant, engines, press, release, simulate, simulate_many, variants
from tests.sim.designs import example, gauge

PEDAL = {"teaching-board": "foot", "truck-6x4": "foot", "truck-europe": "foot"}
NUMBERS = ("length", "volume", "conductance", "difference", "pressure", "ratio", "fraction", "area", "force", "bore")
WORKS = {"rated", "rated-to", "tested-to", "burst"}
"""Settings that change nothing of the air."""


def script(name, reservoirs=100):
    return Script((press(PEDAL[name], 1.0, 0.0), release(PEDAL[name], 0.6)), pressures={"reservoirs": gauge(reservoirs)})


def numeric(circuit):
    """(device, setting) of all settings that are a number."""
    return [(d.name, s.name) for d in circuit.devices for s in d.kind.settings
            if s.dimension in NUMBERS and isinstance(d.settings.get(s.name), float) and s.name not in WORKS]


def apart(one, other):
    return np.abs(np.array(one.rows([0.1, 0.3, 0.5, 0.7, 0.9])) - np.array(other.rows([0.1, 0.3, 0.5, 0.7, 0.9]))).max()


@pytest.mark.parametrize("name", sorted(PEDAL))
def test_changed_numbers_are_those_of_the_circuit_read_anew(name, monkeypatch):
    """Forty settings drawn by seed, each 7 % up: the same steps to the last digit, and nearly all without reading anew."""
    circuit, random = example(name), Random(11)
    asked = random.sample(numeric(circuit), 40)
    changes = [Variant(f"{d} {s}", settings={(d, s): 1.07 * circuit.by_name[d].settings[s]}) for d, s in asked]
    prepared = []
    prepare = variants.prepare
    monkeypatch.setattr(variants, "prepare", lambda *a, **k: prepared.append(1) or prepare(*a, **k))
    found = simulate_many(circuit, script(name), changes, 1.0)
    assert len(prepared) <= 4
    for variant, trace in zip(changes, found, strict=True):
        anew = simulate(variants.with_settings(circuit, variant), script(name), 1.0)
        assert list(trace.times) == list(anew.times), variant.name
        assert np.array_equal(np.array(trace.pressures), np.array(anew.pressures)), variant.name


def test_a_trade_size_brings_its_bore():
    """Thinner front tubes fill later; a size that is none is refused."""
    circuit = example("teaching-board")
    tube = next(d for d in circuit.devices if d.kind.name == "tube" and "foot.2" in d.title)
    whole, thin = simulate_many(circuit, script("teaching-board"),
                                [Variant(), Variant(settings={(tube.name, "size"): "1/4"})], 1.0)
    assert thin.first_time("front-left", gauge(10)) > 1.3 * whole.first_time("front-left", gauge(10))
    for size in ("3/7", 0.0127, None):
        with pytest.raises(NoSuchPlace, match="trade size"):
            simulate_many(circuit, script("teaching-board"), [Variant(settings={(tube.name, "size"): size})], 1.0)


@pytest.mark.parametrize("device, setting", [("foot", "deliveries"), ("front-left", "type"), ("foot", "colour"),
                                             ("front-left", "axle")])
def test_what_cannot_be_changed_is_refused(device, setting):
    with pytest.raises(NoSuchPlace, match=setting):
        simulate_many(example("teaching-board"), script("teaching-board"), [Variant(settings={(device, setting): 3})], 1.0)


def test_each_variant_can_have_a_script_of_its_own():
    """Three depths of the pedal in one batch, each as played alone."""
    circuit = example("truck-6x4")
    depths = [Script((press("foot", depth, 0.0),), pressures={"reservoirs": gauge(100)}) for depth in (0.2, 0.5, 1.0)]
    batch = simulate_many(circuit, script("truck-6x4"), [Variant(str(n), script=s) for n, s in enumerate(depths)], 1.0)
    for played, trace in zip(depths, batch, strict=True):
        assert np.array_equal(np.array(trace.pressures), np.array(simulate(circuit, played, 1.0).pressures))
    ends = [trace.last("front-left") for trace in batch]
    assert ends[0] < ends[1] < ends[2]


def test_only_watched_places_are_kept():
    circuit = example("truck-6x4")
    whole = simulate(circuit, script("truck-6x4"), 1.0)
    few = simulate(circuit, script("truck-6x4"), 1.0, watch=("pri", "front-left"))
    assert len(few.pressures[0]) == 2 and len(few.times) == len(whole.times)
    for place in ("pri", "front-left"):
        assert few.curve(place, [0.2, 0.7]) == whole.curve(place, [0.2, 0.7])
    with pytest.raises(NoSuchPlace, match="not among the places"):
        few.last("sec")


def test_failures_of_several_sizes():
    """A leak of ten times the size costs more, a line nine tenths blocked is slower than a whole one and not shut."""
    circuit = example("truck-6x4")
    line = next(d for d in circuit.devices if d.is_line and "foot.22" in d.title)
    leaks = [Variant(str(size), ((line.name, "leaks"),), sizes={(line.name, "leaks"): size}) for size in (0.1, 1.0, 10.0)]
    left = [trace.balance.vented for trace in simulate_many(circuit, script("truck-6x4"), leaks, 1.0)]
    assert left[0] < left[1] < left[2]
    blocked = [Variant(str(size), ((line.name, "blocked"),), sizes={(line.name, "blocked"): size}) for size in (0.0, 0.9, 1.0)]
    whole, narrow, shut = simulate_many(circuit, script("truck-6x4"), blocked, 0.5)
    assert whole.last("front-left") > narrow.last("front-left") + 1e4 > shut.last("front-left") + 2e4


def test_all_ways_of_a_device_at_once():
    circuit = example("truck-6x4")
    whole, narrow = simulate_many(circuit, script("truck-6x4"), [Variant(), Variant(conductances={"rear-relay": 0.3})], 1.0)
    assert narrow.first_time("d1-left.service", gauge(40)) > whole.first_time("d1-left.service", gauge(40))
    with pytest.raises(NoSuchPlace):
        simulate_many(circuit, script("truck-6x4"), [Variant(conductances={"nothing": 0.3})], 1.0)


def test_variants_that_change_the_same_numbers_are_played_once(monkeypatch):
    """Two holes of one size in one space, and two failures that change nothing, each under its own name."""
    counted = []
    integrate_many = engines.Compiled.integrate_many
    monkeypatch.setattr(engines.Compiled, "integrate_many",
                        lambda engine, jobs: counted.append(len(jobs)) or integrate_many(engine, jobs))
    circuit = example("teaching-board")
    changes = [Variant("sound"), Variant("at the tank", leaks={"dry": 3e-3}), Variant("at its port", leaks={"dry.1": 3e-3}),
                Variant("wider", leaks={"dry": 4e-3}), Variant("sound too")]
    sound, tank, port, wider, too = simulate_many(circuit, script("teaching-board"), changes, 1.0)
    assert counted == [3] and [each.label for each in (sound, tank, port, wider, too)] == [v.name for v in changes]
    assert tank.last("dry") == port.last("dry") > wider.last("dry") and too.last("dry") == sound.last("dry") > tank.last("dry")


def test_two_parts_that_store_air_at_one_place_change_together():
    """A reservoir and the switch screwed into it: what the switch changes takes nothing back of what the reservoir did."""
    circuit = example("truck-6x4")
    volume = {("pri", "volume"): 0.5 * circuit.by_name["pri"].settings["volume"]}
    switch = {("pri-warning", "on-below"): 1.01 * circuit.by_name["pri-warning"].settings["on-below"]}
    whole, alone, both = simulate_many(circuit, script("truck-6x4"), [Variant(), Variant("", settings=volume), Variant(
        "", settings={**volume, **switch})], 1.0)
    assert apart(alone, both) < 1.0 < apart(whole, both)
