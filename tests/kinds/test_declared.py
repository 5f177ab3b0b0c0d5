"""What a kind declares fits together: every port has its air, its way in and out; a failure does what its name says."""

import pytest

from circuit import kinds
from circuit.declaring import common
from circuit.declaring.kind import OUTSIDE, SITUATIONS, Failure, Kind
from circuit.declaring.proving import FROST, often, proof
from circuit.declaring.traits import Group, Role, Trait
from circuit.faults.single import LEAK
from circuit.gas.flow import THROATS
from circuit.units import ATMOSPHERE
from tests.kinds.test_openings import Stood

KINDS = kinds.every()
each = pytest.mark.parametrize("kind", KINDS, ids=[kind.name for kind in KINDS])
AIRLESS = {"dummy-coupling", "fit", "open-end", "partition"}
"""Kinds that keep no air of their own: a cap, a nipple, a bare end, a wall."""
WITHOUT_AIR = {("alcohol-evaporator", "7"), ("antifreeze-pump", "7"), ("compressor", "0")}
"""Ports for alcohol and for free air."""


@each
def test_every_port_that_is_no_exhaust_holds_its_air_once(kind: Kind):
    if kind.name in AIRLESS:
        assert kind.stores == ()
        return
    wanted = [port.number for port in kind.ports if port.role is not Role.EXHAUST and (kind.name, port.number) not in WITHOUT_AIR]
    assert sorted(store.port for store in kind.stores) == sorted(wanted)


@each
def test_air_finds_a_way_from_every_inlet_and_to_every_outlet(kind: Kind):
    starts = {p.start for p in kind.passages} | {p.end for p in kind.passages if p.both_ways}
    ends = {p.end for p in kind.passages}
    for port in kind.ports:
        if port.role is Role.SUPPLY:
            assert port.number in starts, f"nothing leaves {port.number}"
        elif port.role is Role.EXHAUST:
            assert port.number in ends and port.number not in starts, f"{port.number} is where air leaves the part"
        elif port.role is Role.DELIVERY and kind.source is None:
            assert port.number in ends, f"nothing comes to {port.number}"
        elif port.role is Role.CONTROL and Trait.SELECTS_HIGHER not in kind.traits:
            assert port.number not in starts, f"a signal at {port.number} only moves something"


@each
def test_passages_are_told_apart(kind: Kind):
    ways = [(p.start, p.end, p.conductance) for p in kind.passages]
    assert len(set(ways)) == len(ways)
    assert all(p.throat in THROATS for p in kind.passages)


BOTH = {("1", "2"), ("2", "1")}
CROSSES = {
    ("air-load-sensing-valve", "membrane-torn"): (("41", "3"),),
    ("anti-compound-release", "shuttle-leaks"): (("1", "4"),),
    ("overload-relay", "shuttle-leaks"): (("42", "41"),),
    ("spring-chamber", "centre-seal-leaks"): (("12", "11"),),
    ("dash-module", "parked-mid-way"): (("11", "12"), ("12", "11")),
    ("door-engine", "piston-leaks"): (("11", "12"), ("12", "11")),
    ("dual-foot-valve", "cross-leak"): (("21", "22"), ("22", "21")),
    ("tractor-protection-valve", "cross-leak"): (("1", "21"),),
    ("compressor", "leaks-back"): (("2", "0"),),
    ("partition", "leaks"): (("1", "2"), ("2", "1")), ("partition", "torn"): (("1", "2"), ("2", "1")),
}
"""Failures that let air through a wall, between ports that no passage joins."""


@each
def test_a_failure_opens_a_way_that_is_there_a_leak_into_the_open_or_a_wall(kind: Kind):
    joined = {frozenset((p.start, p.end)) for p in kind.passages}
    exhausts = {port.number for port in kind.ports_as(Role.EXHAUST)} | {OUTSIDE}
    line = Trait.LINE in kind.traits
    for failure in kind.failures:
        wall = CROSSES.get((kind.name, failure.name))
        if wall is not None:
            assert failure.opens == wall
            continue
        for start, end in failure.opens:
            assert start != end and start not in exhausts
            assert end in exhausts or frozenset((start, end)) in joined, f"{failure.name}: {start} to {end}"
            assert line or len(set(failure.opens)) == len(failure.opens)


@each
def test_a_failure_does_something_or_says_what_it_does_not(kind: Kind):
    ports = {port.number for port in kind.ports}
    for failure in kind.failures:
        told_only = {"lost", "cap-lost", "does-not-lock", "empty", "stuck-mid-way", "over-height"}
        assert failure.acts or failure.proof or failure.name in told_only, failure.name
        assert set(failure.idle) <= ports and set(failure.stops) <= ports
        for port in (*failure.idle, *failure.jams):
            assert port in {store.port for store in kind.stores}
        for name, factor in failure.scales.items():
            setting = kind.setting(name)
            assert setting is not None and setting.dimension in ("pressure", "difference", "length", "volume", "fraction"), name
            assert 0 <= factor != 1


@each
def test_a_workshop_can_prove_every_failure_and_knows_how_often_it_meets_it(kind: Kind):
    for failure in kind.failures:
        told = proof(kind, failure)
        assert len(told) > 30 and not told.endswith(".") and not told[0].isspace(), failure.name
        assert often(failure) in ("often", "now and then", "seldom", FROST), failure.name


def test_failures_that_do_the_same_are_proved_alike_and_others_are_not():
    """What leaks is brushed where it comes out, what does not pass is gauged, what drifts is read."""
    relay = kinds.find("relay-valve")
    assert relay is not None
    told = {f.name: proof(relay, f) for f in relay.failures}
    assert told["leaks-supply"] == "with 1 charged, brush its exhaust 3 with soapy water: no bubble may grow within 5 s"
    assert told["does-not-apply"].startswith("a gauge at 1 and one at 2") and "listen at the exhaust" in told["exhaust-iced"]
    assert len(set(told.values())) == len(told) - 1, "exhaust-iced is proved as does-not-release"


def ways(failure: Failure) -> tuple[set[tuple[str, str]], set[tuple[str, str]]]:
    return set(failure.shuts), set(failure.opens)


@each
def test_a_failure_is_what_its_name_says(kind: Kind):
    """Names are one vocabulary: what sticks shut lets nothing pass, what does not release keeps its exhaust shut ..."""
    exhausts = {port.number for port in kind.ports_as(Role.EXHAUST)}
    vents = {(p.start, p.end) for p in kind.passages if p.end in exhausts}
    feeds = {(p.start, p.end) for p in kind.passages} - vents
    for failure in kind.failures:
        shuts, opens = ways(failure)
        if failure.name in ("stuck-shut", "blocked", "does-not-apply", "does-not-feed", "does-not-open", "frozen", "clogged"):
            assert shuts and not opens - {pair for way in shuts for pair in (way, way[::-1])}, failure.name
        if failure.name in ("does-not-apply", "does-not-feed"):
            assert shuts <= feeds
        if failure.name in ("does-not-release", "does-not-vent", "exhaust-iced", "iced", "exhaust-blocked", "no-relief"):
            assert shuts and shuts <= vents and not opens, failure.name
        if failure.name in ("stuck-open", "burst", "torn", "left-open", "no-check", "drain-stuck-open"):
            assert opens and not shuts and failure.share == 1.0, failure.name
        if failure.name.startswith("leaks") and failure.name not in ("leaks-back", "leaks-delivery"):
            out = {end for _, end in opens}
            assert opens and not shuts and failure.share <= 0.5, failure.name
            if kind.name not in ("partition", "solenoid-2-2", "charging-coupling", "trailer-control-valve"):
                assert out <= exhausts | {OUTSIDE}, failure.name
        if failure.name in ("leaks-delivery",):
            assert opens == {("2", "3")}
        if failure.name in ("leaks-supply",):
            assert opens == {("1", "3")}
        if failure.name.endswith("leaks-back"):
            one_way = {(p.start, p.end) for p in kind.passages if p.opening is not None and not p.both_ways}
            assert not opens & one_way or kind.name in ("air-processing-unit", "relay-emergency-valve"), failure.name


@each
def test_stuck_outlets_and_sides_name_the_port_that_sticks(kind: Kind):
    for failure in kind.failures:
        outlet = failure.name.split("-")[0]
        if outlet.isdigit():
            assert all(outlet in way for way in (*failure.opens, *failure.shuts)) and (failure.opens or failure.shuts)
        if failure.name.startswith("stuck-at-"):
            side = failure.name.removeprefix("stuck-at-")
            assert all(side in way for way in failure.shuts) and not any(side in way for way in failure.opens)
            assert failure.shuts and failure.opens


def test_the_sizes_of_leaks_insides_and_hand_moved_openings_stand_in_order():
    """Our choices, no source; what a fault counts as a leak, slower than an application, is the widest of them."""
    shares = (common.TINY, common.SLIGHT, common.MODEST, common.STRONG, common.HEAVY)
    assert shares == tuple(sorted(shares)) and 0.003 <= shares[0] and shares[-1] == LEAK
    litres = [inside({}, ATMOSPHERE) * 1e3 for inside in (
        common.THREAD, common.PILOT, common.SMALL, common.MEDIUM, common.SIGNAL, common.LARGE, common.ROOMY, common.VESSEL)]
    assert litres == sorted(litres) and 0.001 <= litres[0] <= 0.003 and 0.05 < litres[-1] <= 0.15
    assert common.OPEN == -common.SHUT > 15e3, "wide open is beyond what the simulation opens a valve over"


LEAKS = {common.TINY, common.SLIGHT, common.MODEST, common.STRONG, common.HEAVY}
TORN = {("aftercooler", "split"): 0.5, ("automatic-drain", "sticks-open"): 0.2, ("brake-cylinder", "seal-torn"): 0.3,
        ("chamber", "diaphragm-torn"): 0.3, ("lock-actuator", "diaphragm-torn"): 0.3,
        ("spring-chamber", "service-diaphragm-torn"): 0.3, ("spring-chamber", "spring-diaphragm-torn"): 0.3,
        ("lift-axle-valve", "stuck-mid-way"): 0.3, ("wiper-motor", "leaks"): 0.5}
"""What is torn or hangs half way and stands neither as a leak nor wide open; our choice, no source."""


@each
def test_what_fails_leaks_by_one_of_few_sizes(kind: Kind):
    for failure in kind.failures:
        expected = TORN.get((kind.name, failure.name))
        assert failure.share == expected if expected else failure.share in {*LEAKS, 1.0}, failure.name
        if failure.share == 1.0 and failure.opens and not failure.holds and not failure.shuts:
            assert not failure.name.startswith(("leaks", "weeps", "cross-leak", "hunts")), failure.name


def test_what_comes_from_outside_the_drawing():
    feeding = {kind.name: [kind.feeds(Stood(kind, {}).settings, situation) for situation in SITUATIONS] for kind in KINDS}
    compressor, head = feeding.pop("compressor"), feeding.pop("coupling-head")
    assert compressor == [("2",)] * 3 and head == [(), ("1",), ("1",)]
    assert set(map(tuple, feeding.values())) == {((), (), ())}
    kind = kinds.find("coupling-head")
    assert kind is not None

    def fed(**given: str) -> list[bool]:
        settings = Stood(kind, given).settings
        return [bool(kind.feeds(settings, situation)) for situation in ("parked", "driving", "braking")]

    assert fed(line="control") == [False, False, True]
    assert fed(end="rear") == fed(joined="1") == fed(loose="1") == [False, False, False]


def test_a_compressor_takes_in_at_0_and_gives_at_2():
    kind = kinds.find("compressor")
    assert kind is not None and kind.source is not None
    pump = kind.source
    assert (pump.inlet, pump.port, pump.held) == ("0", "2", "unloaded")
    assert (pump.displacement, pump.speed, pump.efficiency, pump.clearance) == (
        "displacement", "speed", "efficiency", "clearance")
    assert [kind.name for kind in KINDS if kind.source is not None] == ["compressor"]


NARROW = {("air-dryer", "1>22"), ("air-processing-unit", "2>1"), ("horn", "1>outside"), ("kneel-valve", "2>3"),
          ("oil-separator", "1>3"), ("restrictor", "1>2"), ("throttle-check-valve", "2>1"), ("twin-tower-dryer", "1>3"),
          ("wiper-motor", "1>outside")}


def test_ways_too_narrow_to_guard_what_is_behind_them():
    found = {(kind.name, f"{p.start}>{p.end}") for kind in KINDS for p in kind.passages if p.narrow}
    assert {each for each in found if "circuit" not in each[0]} == NARROW
    for name, outlets in (("two", 2), ("three", 3), ("four", 4)):
        bleeds = {(f"{name}-circuit-protection-valve", f"1>2{number}") for number in range(1, outlets + 1)}
        assert {each for each in found if each[0].startswith(name)} == bleeds


UNUSED = {
    "air-dryer": "22", "air-processing-unit": "2 23 24 25 26 27", "alcohol-evaporator": "7", "antifreeze-pump": "4 7",
    "automatic-drain": "4", "charging-coupling": "1", "compressor": "0", "lift-axle-valve": "4", "partition": "1 2",
    "twin-tower-dryer": "4",
}
"""Ports that may stay unused: what an option, a filler or the open air has."""


@each
def test_ports_that_may_stay_unused_are_few(kind: Kind):
    unused = {port.number for port in kind.ports if not port.required}
    assert unused == set(UNUSED.get(kind.name, "").split())


HOLES = {("governor", "2"): 2, ("tee", "1"): 3, ("air-processing-unit", "2"): 0, ("air-spring", "1"): 0, ("lift-bag", "1"): 0,
         ("reservoir", "1"): 0}


@each
def test_a_port_has_one_hole_but_where_castings_have_more(kind: Kind):
    for port in kind.ports:
        assert port.holes == HOLES.get((kind.name, port.number), 1), port.number


SMALL = {"automatic-drain", "drain", "dummy-coupling", "gauge", "low-pressure-switch", "partition", "safety-valve",
         "stop-lamp-switch", "test-point"}


def test_what_is_drawn_on_its_host_is_screwed_into_it():
    assert {kind.name for kind in KINDS if kind.small} == SMALL
    assert all(kind.setting("on") or kind.setting("between") for kind in KINDS if kind.small)


def test_kinds_stand_in_the_drawing_as_the_air_goes():
    """From the compressor at the left by treatment, tanks, the driver and relays to the brakes at the right."""
    stage = {kind.name: kind.stage for kind in KINDS}
    order = ["compressor", "aftercooler", "air-dryer", "four-circuit-protection-valve", "reservoir", "foot-valve",
             "relay-valve", "chamber"]
    assert [stage[name] for name in order] == sorted(stage[name] for name in order)
    assert stage["compressor"] < stage["air-dryer"] < stage["reservoir"] < stage["foot-valve"] < stage["relay-valve"] \
        < stage["chamber"]
    for kind in KINDS:
        if kind.group is Group.WORK and Trait.SERVICE_ACTUATOR in kind.traits:
            assert kind.stage == stage["chamber"], kind.name
        assert 0 <= kind.stage <= 13
