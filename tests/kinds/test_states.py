"""How kinds rest, what hands and feet change of it, and at what a failure holds it."""

import pytest

from circuit import kinds
from circuit.declaring.kind import Kind

KINDS = kinds.every()
each = pytest.mark.parametrize("kind", KINDS, ids=[kind.name for kind in KINDS])

STANDS = {
    # kind: how it rests, and what is otherwise when parked or braking
    "air-processing-unit": ({"unloading": 0} | {f"open-{o}": 1 for o in range(21, 27)}, {}, {}),
    "antilock-modulator": ({"hold": 0, "release": 0}, {}, {}), "antilock-relay": ({"hold": 0, "release": 0}, {}, {}),
    "automatic-drain": ({"open": 0}, {}, {}), "brake-hold-valve": ({"energised": 0}, {}, {}),
    "coupling-head": ({"coupled": 1, "applied": 0}, {"coupled": 0}, {"applied": 1}),
    "dash-module": ({"pushed": 1, "trailer-pushed": 1}, {"pushed": 0, "trailer-pushed": 0}, {}),
    "drain": ({"open": 0}, {}, {}), "dual-foot-valve": ({"pedal": 0}, {}, {"pedal": 1}),
    "ebs-module": ({"energised": 0, "demand": 0}, {}, {"demand": 1}), "foot-valve": ({"pedal": 0}, {}, {"pedal": 1}),
    "four-circuit-protection-valve": ({f"open-{o}": 1 for o in range(21, 25)}, {}, {}),
    "governor": ({"unloading": 0}, {}, {}), "hand-brake-valve": ({"lever": 0, "test": 0}, {"lever": 1}, {}),
    "horn": ({"sounding": 0}, {}, {}), "kneel-valve": ({"energised": 0}, {}, {}), "levelling-valve": ({"arm": 0}, {}, {}),
    "lift-axle-valve": ({"energised": 0}, {}, {}), "load-control-valve": ({"load": 1}, {}, {}),
    "load-sensing-valve": ({"load": 1, "linked": 1}, {}, {}),
    "manual-front-limiting-valve": ({"slippery": 0}, {}, {}), "oil-separator": ({"draining": 0}, {}, {}),
    "overflow-valve-with-limited-return": ({"open": 0}, {}, {}), "overflow-valve-with-return": ({"open": 0}, {}, {}),
    "park-and-shunt-valve": ({"shunting": 0, "released": 1}, {"released": 0}, {}),
    "park-valve": ({"pushed": 1}, {"pushed": 0}, {}), "pressure-protection-valve": ({"open": 0}, {}, {}),
    "raise-lower-valve": ({"position": 0}, {}, {}), "relay-emergency-valve": ({"emergency": 0}, {}, {}),
    "solenoid-2-2": ({"energised": 0}, {}, {}), "solenoid-3-2": ({"energised": 0}, {}, {}),
    "solenoid-5-2": ({"energised": 0}, {}, {}), "spring-release-valve": ({"held": 0}, {}, {}),
    "suspension-dump-valve": ({"energised": 0}, {}, {}),
    "three-circuit-protection-valve": ({f"open-{o}": 1 for o in range(21, 24)}, {}, {}),
    "traction-solenoid": ({"energised": 0}, {}, {}), "tractor-protection-valve": ({"open": 0}, {}, {}),
    "trailer-control-valve": ({"throttled": 0}, {}, {}), "trailer-hand-valve": ({"lever": 0}, {}, {}),
    "trailer-spring-brake-valve": ({"filling": 0}, {}, {}), "trailer-supply-valve": ({"pushed": 1}, {"pushed": 0}, {}),
    "twin-tower-dryer": ({"purging": 0}, {}, {}), "two-circuit-protection-valve": ({"open-21": 1, "open-22": 1}, {}, {}),
    "tyre-inflation-unit": ({"inflating": 1, "deflating": 0}, {"inflating": 0}, {}), "wiper-motor": ({"running": 0}, {}, {}),
}


@each
def test_it_stands_as_hands_and_feet_leave_it(kind: Kind):
    rest, parked, braking = STANDS.get(kind.name, ({}, {}, {}))
    assert dict(kind.rest) == rest
    for situation, otherwise in zip(("parked", "driving", "braking"), (parked, {}, braking)):
        assert kind.state(situation) == {**rest, **otherwise}


@each
def test_failures_hold_a_variable_at_a_place_that_it_can_have(kind: Kind):
    beyond = {"arm": (-1, 1), "position": (-1, 1, 2), "lever": (0, 0.3), "test": (1,)}
    for failure in kind.failures:
        for variable, value in failure.holds.items():
            assert value in beyond.get(variable, (0, 1)), f"{failure.name} holds {variable} at {value}"


HELD = [
    ("antilock-modulator", "stuck-releasing", {"hold": 1, "release": 1}), ("antilock-modulator", "stuck-holding", {"hold": 1}),
    ("antilock-modulator", "without-current", {"hold": 0, "release": 0}),
    ("antilock-relay", "stuck-released", {"hold": 1, "release": 1}),
    ("antilock-relay", "without-current", {"hold": 0, "release": 0}),
    ("air-processing-unit", "purge-stuck-shut", {"unloading": 0}), ("brake-hold-valve", "stuck-on", {"energised": 1}),
    ("brake-hold-valve", "without-current", {"energised": 0}), ("compressor", "stuck-loaded", {"unloaded": 0}),
    ("dash-module", "red-does-not-pop", {"trailer-pushed": 1}),
    ("dash-module", "yellow-does-not-pop", {"pushed": 1}),
    ("dash-module", "red-does-not-stay-in", {"trailer-pushed": 0}), ("hand-brake-valve", "stuck-released", {"lever": 0}),
    ("load-sensing-valve", "stuck-laden", {"load": 1}), ("twin-tower-dryer", "both-purging", {"purging": 1}),
    ("dash-module", "yellow-does-not-stay-in", {"pushed": 0}),
    ("ebs-module", "without-current", {"energised": 0}), ("governor", "stuck-loaded", {"unloading": 0}),
    ("governor", "stuck-unloaded", {"unloading": 1}), ("hand-brake-valve", "stuck-in-test", {"test": 1}),
    ("horn", "stuck-on", {"sounding": 1}), ("levelling-valve", "link-off-up", {"arm": 1}),
    ("levelling-valve", "link-off-down", {"arm": -1}), ("load-sensing-valve", "link-broken", {"linked": 0}),
    ("load-sensing-valve", "stuck-empty", {"load": 0}), ("manual-front-limiting-valve", "left-on-slippery", {"slippery": 1}),
    ("park-and-shunt-valve", "left-shunting", {"shunting": 1}), ("park-and-shunt-valve", "left-pulled", {"released": 0}),
    ("park-valve", "does-not-stay-in", {"pushed": 0}), ("park-valve", "does-not-pop", {"pushed": 1}),
    ("raise-lower-valve", "left-raised", {"position": 1}), ("raise-lower-valve", "left-lowered", {"position": -1}),
    ("raise-lower-valve", "stuck-mid-way", {"position": 2}), ("relay-emergency-valve", "no-emergency", {"emergency": 0}),
    ("solenoid-2-2", "without-current", {"energised": 0}), ("solenoid-2-2", "always-energised", {"energised": 1}),
    ("spring-release-valve", "stuck-in", {"held": 1}), ("traction-solenoid", "stuck-on", {"energised": 1}),
    ("traction-solenoid", "without-current", {"energised": 0}), ("trailer-control-valve", "no-throttling", {"throttled": 0}),
    ("trailer-hand-valve", "left-on", {"lever": 0.3}), ("trailer-supply-valve", "does-not-stay-in", {"pushed": 0}),
    ("trailer-supply-valve", "does-not-pop", {"pushed": 1}), ("twin-tower-dryer", "one-tower-dead", {"purging": 0}),
]


@pytest.mark.parametrize(("name", "failure", "holds"), HELD, ids=[f"{name}-{failure}" for name, failure, _ in HELD])
def test_a_failure_holds_what_its_sentence_says(name: str, failure: str, holds: dict[str, float]):
    kind = kinds.find(name)
    assert kind is not None
    (found,) = (f for f in kind.failures if f.name == failure)
    assert dict(found.holds) == holds


def test_positions_are_named_as_hands_set_them():
    found = {kind.name: {word: dict(values) for word, values in kind.positions.items()} for kind in KINDS if kind.positions}
    assert found == {
        "load-control-valve": {"empty": {"load": 0}, "half": {"load": 0.5}, "full": {"load": 1}},
        "raise-lower-valve": {"ride": {"position": 0}, "raise": {"position": 1}, "lower": {"position": -1},
                              "stop": {"position": 2}},
    }
