"""What every device kind must be, whatever it does. A new kind is tested by being there."""

import math
from itertools import product

import pytest

from circuit import kinds
from circuit.declaring.contract import broken
from circuit.declaring.kind import OUTSIDE, SITUATIONS, Kind
from circuit.declaring.traits import Role, Trait
from circuit.model.forms import FORMS
from circuit.model.settings import typical_value
from circuit.units import ATMOSPHERE, DIMENSIONS

KINDS = kinds.every()
each = pytest.mark.parametrize("kind", KINDS, ids=[kind.name for kind in KINDS])

WRITTEN = {"word", "text", "name", "names", "reference", "size", "bore", "chamber", "bound", "any"}
"""Dimensions of settings that are no quantity."""
DIGITS = {Role.SUPPLY: "1", Role.DELIVERY: "2", Role.EXHAUST: "3", Role.CONTROL: "4"}
"""ISO 6786: 1 energy in, 2 energy out, 3 exhaust, 4 control; `1-2` works as both (from memory)."""
AIRLESS = {Trait.DIRECT, Trait.CAPS, Trait.PARTS_ROOMS}
"""Kinds that only say how things are joined, closed or parted."""
GRID = (ATMOSPHERE, ATMOSPHERE + 1e5, ATMOSPHERE + 4e5, ATMOSPHERE + 9e5)


def settings_of(kind: Kind) -> dict[str, object]:
    """Values a design could give: the typical ones, and plain ones for what a design must write."""
    plain = {"pressure": ATMOSPHERE + 7e5, "difference": 2e4, "volume": 0.02, "length": 1.0, "flow": 0.006,
             "conductance": 1e-7, "count": 2, "ratio": 1.0, "fraction": 0.5, "speed": 20.0, "area": 0.01, "bore": 0.01,
             "size": 0.0127, "text": "a horn", "name": "front", "time": 1.0, "force": 1e4, "temperature": 300.0}
    values: dict[str, object] = {}
    for setting in kind.settings:
        if setting.typical is not None:
            values[setting.name] = typical_value(setting)
        elif setting.dimension == "chamber":
            values[setting.name] = "30/30" if Trait.SPRING_ACTUATOR in kind.traits else "30"
        elif setting.dimension == "word":
            values[setting.name] = setting.choices[0]
        else:
            values[setting.name] = plain.get(setting.dimension) if setting.required else None
        if setting.dimension == "size":
            values["bore"] = 0.0095
    if "stroke" in values:
        values["stroke"] = 2.5 * 0.0254
    if "cut-out" in values:
        values["cut-in"] = ATMOSPHERE + 6e5
    values.update(kind.derive(values))
    return values


def test_there_are_kinds():
    assert len(KINDS) >= 36


@each
def test_texts_are_sentences(kind: Kind):
    for text in (kind.purpose, kind.behaviour):
        assert not text[0].islower() and text.endswith("."), text
    assert kind.title[0].isupper() and not kind.title.endswith(".")
    for says in [s.says for s in kind.settings] + [p.says for p in kind.passages] + [f.says for f in kind.failures]:
        assert says and not says.endswith("."), says


@each
def test_ports_are_numbered_by_their_role(kind: Kind):
    numbers = [port.number for port in kind.ports]
    assert numbers and len(set(numbers)) == len(numbers)
    words = [word for port in kind.ports for word in port.words]
    assert len(set(words)) == len(words) and not set(words) & set(numbers)
    for port in kind.ports:
        if port.role in DIGITS:
            digits = {part[0] for part in port.number.split("-")}
            assert DIGITS[port.role] in digits, f"{kind.name}.{port.number} is a {port.role.value}"


@each
def test_holes_come_from_a_setting_that_is_there(kind: Kind):
    for port in kind.ports:
        if port.holes_from:
            setting = kind.setting(port.holes_from)
            assert setting is not None and setting.dimension == "count"
            assert setting.typical is not None or setting.required
        elif port.holes == 0:
            assert port.role is Role.SPACE, "only a space may take any number of lines"


@each
def test_passages_stores_failures_and_turns_name_real_ports(kind: Kind):
    numbers = {port.number for port in kind.ports}
    for passage in kind.passages:
        assert passage.start in numbers and passage.end in numbers | {OUTSIDE}
        assert passage.start != passage.end
    for store in kind.stores:
        assert store.port in numbers
    for failure in kind.failures:
        ways = {(p.start, p.end) for p in kind.passages} | {(p.end, p.start) for p in kind.passages if p.both_ways}
        assert set(failure.shuts) <= ways, f"{kind.name}: {failure.name} shuts a way that is not there"
        assert all(start in numbers and end in numbers | {OUTSIDE} for start, end in failure.opens)
        assert set(failure.stops) <= numbers and 0 < failure.share <= 1
        assert set(failure.holds) <= _variables(kind), f"{kind.name}: {failure.name} holds a variable that is not there"
    for one, other in kind.turns:
        assert kind.port(one) is not None and kind.port(other) is not None and one != other


def _variables(kind: Kind) -> set[str]:
    known = set(kind.rest) | {latch.variable for latch in kind.latches}
    return known | {name for values in kind.when.values() for name in values} | (
        {"unloaded"} if Trait.COMPRESSES in kind.traits else set())


@each
def test_it_stores_air_or_lets_it_pass_and_can_fail(kind: Kind):
    assert kind.passages or kind.stores or kind.traits & AIRLESS
    assert kind.failures or Trait.DIRECT in kind.traits
    names = [failure.name for failure in kind.failures]
    assert len(set(names)) == len(names)


@each
def test_conductances_and_kept_pressures_are_settings(kind: Kind):
    for passage in kind.passages:
        if passage.conductance:
            setting = kind.setting(passage.conductance)
            assert setting is not None and setting.dimension == "conductance"
        else:
            assert Trait.LINE in kind.traits, "only a line's bore and length give a conductance"
        if passage.keeps:
            setting = kind.setting(passage.keeps)
            assert setting is not None and setting.dimension == "pressure"


@each
def test_settings_can_be_read(kind: Kind):
    names = [setting.name for setting in kind.settings]
    assert len(set(names)) == len(names)
    for setting in kind.settings:
        assert setting.dimension in DIMENSIONS | WRITTEN, setting.name
        assert bool(setting.choices) == (setting.dimension == "word"), setting.name
        assert not (setting.required and setting.typical), f"{setting.name} is required and assumed at once"
        if setting.typical is not None:
            assert setting.typical.source
            value = typical_value(setting)
            if setting.dimension == "word":
                assert value in setting.choices
            elif setting.dimension not in WRITTEN:
                assert math.isfinite(value)


@each
def test_promises_are_kept(kind: Kind):
    assert list(broken(kind)) == []


@each
def test_it_derives_what_it_says_it_derives(kind: Kind):
    found = kind.derive(settings_of(kind))
    assert {name for name in found if kind.setting(name) is None} == set(kind.derives)


@each
def test_states_are_of_known_situations(kind: Kind):
    assert set(kind.when) <= set(SITUATIONS)
    for situation in SITUATIONS:
        assert set(kind.feeds(settings_of(kind), situation)) <= {port.number for port in kind.ports}
        assert set(kind.state(situation)) >= {latch.variable for latch in kind.latches}


@each
def test_openings_are_finite_at_every_pressure_and_state(kind: Kind):
    settings = settings_of(kind)
    numbers = [port.number for port in kind.ports]
    grid = GRID if len(numbers) <= 5 else GRID[::2]
    states = [kind.state(situation) for situation in SITUATIONS]
    variables = sorted({name for state in states for name in state})
    states += [dict(zip(variables, values)) for values in product((0.0, 1.0), repeat=len(variables))]
    asked = 0
    for values in product(grid, repeat=len(numbers)):
        pressures = dict(zip(numbers, values))
        for state in states:
            for passage in kind.passages:
                if passage.opening is not None:
                    opening = passage.opening(pressures, settings, state)
                    assert math.isfinite(opening) and abs(opening) < 1e8
                    asked += 1
        for latch in kind.latches:
            for snap in (latch.sets, latch.resets):
                assert snap is None or math.isfinite(snap(pressures, settings))
    assert asked or all(passage.opening is None for passage in kind.passages)


@each
def test_stores_hold_a_volume_that_does_not_fall_with_pressure(kind: Kind):
    settings = settings_of(kind)
    for store in kind.stores:
        volumes = [store.volume(settings, pressure) for pressure in GRID]
        assert all(0 < volume < 1 for volume in volumes) and volumes == sorted(volumes)


@each
def test_no_opening_pushes_air_from_low_to_high(kind: Kind):
    """A one-way valve is shut while its end is above its start; only what passes both ways may be open then."""
    settings = settings_of(kind)
    for passage in kind.passages:
        if Trait.ONE_WAY in kind.traits or Trait.KEEPS_BACK in kind.traits and not passage.both_ways:
            assert passage.opening is not None
            if passage.end != OUTSIDE and passage.start[0] == "1" and passage.end[0] == "2":
                pressures = {port.number: ATMOSPHERE + 8e5 for port in kind.ports} | {passage.start: ATMOSPHERE + 6e5}
                for situation in SITUATIONS:
                    assert passage.opening(pressures, settings, kind.state(situation)) <= 0


def test_names_and_aliases_are_unique_and_no_statement_words():
    words = [word for kind in KINDS for word in (kind.name, *kind.aliases)]
    assert sorted(words) == sorted(set(words)) == sorted(kinds.names())
    assert not set(words) & set(FORMS)


def test_a_kind_is_found_by_any_of_its_names():
    for kind in KINDS:
        for word in (kind.name, *kind.aliases):
            assert kinds.find(word) is kind
    assert kinds.find("relay_valve") is None and kinds.find("kind") is None and kinds.find("symbol") is None
