"""Valves that steer and guard the air, each in a small circuit: what it opens, what it keeps, what it gives back."""

import pytest

from circuit import kinds
from circuit.declaring.following import following
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.units import ATMOSPHERE
from circuit.verdict.judge import judge
from tests.designs import completed, loaded

SOURCE = """
compressor pump: displacement 15 cfm
governor gov: cut-in 9 bar, cut-out 10 bar
reservoir wet: volume 10 L, rated 12 bar, role supply
hose pump.2 -> wet: bore 16 mm, length 2 m
hose wet -> gov.1: bore 4 mm, length 1 m
hose gov.2 -> pump.4: bore 4 mm, length 1 m
plug gov.2
"""
SHARED = SOURCE + """
four-circuit-protection-valve share: SETTINGS
hose wet -> share.1: bore 12 mm, length 1 m
reservoir t1 and t2: volume 30 L, rated 12 bar, role service
reservoir t3: volume 20 L, rated 12 bar, role parking
reservoir t4: volume 20 L, rated 12 bar, role auxiliary
hose share.21 -> t1: bore 12 mm, length 1 m
hose share.22 -> t2: bore 12 mm, length 1 m
hose share.23 -> t3: bore 12 mm, length 1 m
hose share.24 -> t4: bore 12 mm, length 1 m
"""
TANKS = ("t1", "t2", "t3", "t4")


def circuit_of(fragment: str) -> Circuit:
    return loaded(completed(fragment))


def shared(settings: str) -> Evidence:
    return Evidence(circuit_of(SHARED.replace("SETTINGS", settings)))


def gauge(evidence: Evidence, name: str, port: str = "1") -> float:
    level = evidence.driving.level.get(evidence.circuit.space[name, port], ATMOSPHERE)
    return (level - ATMOSPHERE) / 1e5


@pytest.mark.parametrize("settings", ["opens-at 7 bar, shuts-at 4.8 bar", "order service-first", "bleed yes",
                                      "shuts-at-24 5.5 bar, opens-at-24 7.5 bar"])
@pytest.mark.parametrize("burst", TANKS)
def test_one_circuit_bursts_and_the_others_keep_their_air(settings: str, burst: str):
    evidence = shared(settings)
    assert all(gauge(evidence, tank) == pytest.approx(10, abs=0.01) for tank in TANKS)
    emptied = evidence.emptied(evidence.circuit.space[burst, "1"])
    assert {tank for tank in TANKS if evidence.circuit.space[tank, "1"] in emptied} == {burst}


def test_an_outlet_opens_at_less_while_its_circuit_still_holds_air():
    """By hand: 7 and 4.8 bar make the seat 4.8/7 of the piston; with 4 bar behind it 7 - 4 x (7/4.8 - 1) = 5.17."""
    valve = shared("opens-at 7 bar, shuts-at 4.8 bar").circuit.by_name["share"]
    opening = valve.kind.passages[0].opening

    def lifts(feed: float, held: float) -> bool:
        levels = {"1": ATMOSPHERE + feed * 1e5, "21": ATMOSPHERE + held * 1e5}
        return opening(levels, valve.settings, {"open-21": 0.0}) > 0

    assert not lifts(6.95, 0) and lifts(7.05, 0)
    assert not lifts(5.1, 4) and lifts(5.2, 4)


def test_an_outlet_that_would_shut_above_its_opening_is_refused():
    kind = kinds.find("two-circuit-protection-valve")
    alone = {f"{word}-{outlet}": None for word in ("opens-at", "shuts-at") for outlet in (21, 22)}
    settings = {"opens-at": 6e5, "shuts-at": 7e5, **alone}
    with pytest.raises(ValueError, match="shuts-at-21"):
        following(kind, settings)


def test_two_and_three_circuits_have_fewer_outlets():
    assert [len(kinds.find(f"{n}-circuit-protection-valve").ports) for n in ("two", "three", "four")] == [3, 4, 5]


BESIDE = SOURCE + """
KIND guard
reservoir susp: volume 30 L, rated 12 bar, role auxiliary
hose wet -> guard.1: bore 9 mm, length 1 m
hose guard.2 -> susp: bore 9 mm, length 1 m
"""


@pytest.mark.parametrize(("kind", "given_back"), [("pressure-protection-valve", None),
                                                  ("overflow-valve-with-return", 0.0),
                                                  ("overflow-valve-with-limited-return", 5.5)])
def test_what_an_overflow_valve_gives_back(kind: str, given_back: float | None):
    """The feed is lost: without return the second user keeps all, with it nothing, with limited return 5.5 bar."""
    evidence = Evidence(circuit_of(BESIDE.replace("KIND", kind)))
    circuit = evidence.circuit
    assert circuit.space["wet", "1"] not in evidence.emptied(circuit.space["susp", "1"])
    back = [passage for passage in circuit.by_name["guard"].kind.passages if (passage.start, passage.end) == ("2", "1")]
    if given_back is None:
        assert not back
        return

    def gives(held: float) -> bool:
        opening = back[0].opening
        assert opening is not None
        levels = {"1": ATMOSPHERE, "2": ATMOSPHERE + held * 1e5}
        return opening(levels, circuit.by_name["guard"].settings, {"open": 0.0}) > 0

    assert gives(given_back + 0.05) and not gives(given_back - 0.05)


def test_a_limiting_valve_and_a_ratio_valve_in_a_row():
    """10 bar limited to 6; of that half up to a knee of 3, then straight up to all of it at 4.5: at 6 all of it."""
    evidence = Evidence(circuit_of(SOURCE + """
pressure-limiting-valve limit: limits-to 6 bar
pressure-ratio-valve half: ratio 0.5, knee 3 bar, full-from 4.5 bar
consumer end: use "a pot"
hose wet -> limit.1: bore 9 mm, length 1 m
hose limit.2 -> half.1: bore 9 mm, length 1 m
hose half.2 -> end: bore 9 mm, length 1 m
"""))
    assert gauge(evidence, "limit", "2") == pytest.approx(6, abs=0.01)
    assert gauge(evidence, "end") == pytest.approx(6, abs=0.01)


@pytest.mark.parametrize(("signal", "given"), [(2, 1.0), (3, 1.5), (3.75, 3.0), (4.5, 4.5), (6, 6.0)])
def test_a_ratio_valve_catches_up_above_its_knee(signal: float, given: float):
    from circuit.kinds.pressure_ratio_valve import wanted

    settings = {"ratio": 0.5, "less": 0.0, "knee": ATMOSPHERE + 3e5, "full-from": ATMOSPHERE + 4.5e5}
    assert wanted({"1": ATMOSPHERE + signal * 1e5}, settings) == pytest.approx(ATMOSPHERE + given * 1e5)


def test_a_restrictor_is_as_wide_as_its_bore():
    """By hand: 1.8 mm are 2.54 mm2, 0.65 of that effective, 0.2 L/(s.bar) for each mm2: 0.33 L/(s.bar)."""
    derived = kinds.find("restrictor").derive({"bore": 1.8e-3, "conductance": None})
    assert derived["conductance"] == pytest.approx(0.33e-8, rel=0.01)


def test_a_biased_double_check_spares_its_second_source():
    valve = kinds.find("biased-double-check-valve")
    first, second = (passage.opening for passage in valve.passages)
    assert first is not None and second is not None
    near = {"11": 8.0e5, "12": 8.2e5, "2": 1e5}
    far = {"11": 8.0e5, "12": 8.4e5, "2": 1e5}
    assert first(near, {"bias": 0.3e5}, {}) > 0 > second(near, {"bias": 0.3e5}, {})
    assert first(far, {"bias": 0.3e5}, {}) < 0 < second(far, {"bias": 0.3e5}, {})


UNIT = """
rules us-federal
compressor pump: displacement 15 cfm
plug pump.4
air-processing-unit unit: cut-in 9 bar, cut-out 10 bar
hose pump.2 -> unit.1: bore 16 mm, length 2 m, run falling
reservoir t1 and t2: volume 30 L, rated 12 bar, role service
reservoir t4: volume 20 L, rated 12 bar, role auxiliary
hose unit.21 -> t1: bore 12 mm, length 1 m
hose unit.22 -> t2: bore 12 mm, length 1 m
hose unit.24 -> t4: bore 12 mm, length 1 m
safety-valve relief: on unit.2, opens-at 12 bar
"""


def test_a_processing_unit_is_dryer_governor_and_protection_valve():
    circuit = circuit_of(UNIT)
    evidence = Evidence(circuit)
    assert gauge(evidence, "t1") == pytest.approx(10, abs=0.01)
    assert gauge(evidence, "t4") == pytest.approx(8.5, abs=0.01)
    assert circuit.space["t1", "1"] not in evidence.emptied(circuit.space["t2", "1"])
    found = {j.rule.name for j in judge(circuit).findings}
    assert not found & {"governor-misplaced", "reservoir-without-safety-valve", "reservoir-not-filled", "port-open"}


def test_rooms_of_one_shell_are_two_reservoirs_until_the_wall_tears():
    circuit = circuit_of("""
reservoir front-room: volume 20 L, rated 10 bar, role service
reservoir rear-room: volume 25 L, rated 10 bar, role service
partition wall: between front-room and rear-room
""")
    wall = circuit.by_name["wall"]
    rooms = {circuit.space["front-room", "1"], circuit.space["rear-room", "1"]}
    assert len(rooms) == 2 and {circuit.space["wall", "1"], circuit.space["wall", "2"]} == rooms
    assert not wall.kind.passages
    torn = next(failure for failure in wall.kind.failures if failure.name == "torn")
    assert set(torn.opens) == {("1", "2"), ("2", "1")}
