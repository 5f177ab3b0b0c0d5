"""The European semi-trailer: its volume sum, worked by hand, its automatic brake, its springs and its load."""

import pytest

from circuit.judging.evidence import Evidence
from circuit.judging.volumes import shares
from circuit.kinds import find
from circuit.sim import Script, Variant, simulate_many
from circuit.studies.hands import apply
from circuit.units import ATMOSPHERE, value_in
from circuit.verdict.judge import judge
from tests.designs import design_of, loaded
from tests.examples.held import circuit_of, litres, lost, stops, verdict_of

BY_A_LINKAGE = """on: semitrailer-europe
- air-load-sensing-valve load-valve
- tube left-level.2 -> load-valve.left-bag
- tube right-level.2 -> load-valve.right-bag
+ load-sensing-valve load-valve: deliveries 4
"""


@pytest.fixture(scope="module")
def evidence() -> Evidence:
    return Evidence(circuit_of("semitrailer-europe"))


def test_it_is_clean():
    assert not verdict_of("semitrailer-europe").findings


def test_its_volume_sum(evidence: Evidence):
    # worked by hand: 6 x 54 = 324 in3 = 5.31 L; 80 / 5.31 = 15.07; (15.07 / 16.07)^8 = 0.598, ^10 = 0.526, ^11 = 0.493
    (share,) = shares(evidence)
    assert value_in(share.chamber_volume, "in3", "volume") == pytest.approx(324)
    assert litres(share.chamber_volume) == pytest.approx(5.31, abs=0.005)
    assert litres(share.tank_volume) == pytest.approx(80)
    left = share.ratio / (share.ratio + 1)
    assert left**8 == pytest.approx(0.598, abs=0.001)
    assert left**10 > 0.5 > left**11


def test_half_of_the_first_is_left_after_eight_on_every_count():
    """By a plain count the ninth pressure is 0.598 of the first; counted with what is asked, more than half."""
    verdict = judge(circuit_of("semitrailer-europe"), ("un-r13",))
    (found,) = [j for j in verdict.judgements if j.rule.name == "reserve-too-small"]
    figure = found.answer.figure
    assert (figure.found - ATMOSPHERE) / (2 * (figure.limit - ATMOSPHERE)) > 0.5


def test_a_broken_linkage_gives_the_stated_share():
    """The same trailer with a valve worked by a linkage: laden all of the signal passes, without its link the share
    that the design states, here the kind's own."""
    circuit = loaded(design_of(BY_A_LINKAGE))
    valve = circuit.by_name["load-valve"].settings
    script = Script(apply(circuit, 1.0, rig=ATMOSPHERE + 6.5e5))
    sound, broken = simulate_many(circuit, script, [
        Variant("sound"), Variant("broken", failures=(("load-valve", "link-broken"),))], 5.0)
    signal = sound.last("load-valve.4") - ATMOSPHERE
    assert valve["lost-ratio"] == 0.5
    assert broken.last("load-valve.2") - ATMOSPHERE == pytest.approx(0.5 * signal - 0.25e5, rel=0.02)
    assert sound.last("load-valve.2") > broken.last("load-valve.2") + 1e5


def test_a_lost_supply_line_brakes_by_air_and_then_by_springs(evidence: Evidence):
    circuit = evidence.circuit
    assert all(evidence.parked.is_charged(circuit.service_space(chamber)) for chamber in evidence.chambers)
    assert all(evidence.is_let_on(spring) for spring in evidence.springs)
    assert lost(evidence, ("supply-head", "1")) == set()


def test_the_automatic_brake_has_begun_before_the_line_is_down_to_two_bar(evidence: Evidence):
    valve = evidence.circuit.by_name["emergency"]
    kind = find("trailer-emergency-relay-valve")
    assert kind is not None and valve.kind is kind
    way = next(p for p in kind.passages if (p.start, p.end) == ("1-2", "2"))
    assert way.opening is not None

    def opening(line: float) -> float:
        pressures = {**dict.fromkeys("234", ATMOSPHERE), "1": ATMOSPHERE + line, "1-2": ATMOSPHERE + 6.9e5}
        return way.opening(pressures, valve.settings, kind.rest)

    assert opening(6.9e5) <= 0 and opening(3.6e5) <= 0
    assert opening(2.0e5) > 3e5


def test_red_out_lets_the_springs_on_while_the_rest_stays(evidence: Evidence):
    circuit = evidence.circuit
    assert not evidence.parked.is_charged(circuit.space["buttons", "22"])
    assert evidence.driving.is_charged(circuit.space["buttons", "22"])


def test_a_burst_suspension_leaves_the_brakes_their_air(evidence: Evidence):
    assert lost(evidence, ("ride-tank", "1")) == {"ride-tank"}
    assert set(stops(evidence, ("ride-tank", "1"))) == {"overflow"}


def test_a_lost_bag_gives_the_stated_share(evidence: Evidence):
    # worked by hand: half of the signal at 4, less the 0.25 bar by which the valve opens
    circuit = evidence.circuit
    air = evidence.braking_without(evidence.zone(circuit.space["load-valve", "41"]))
    signal = air.level[circuit.space["load-valve", "4"]] - ATMOSPHERE
    assert air.level[circuit.space["load-valve", "2"]] - ATMOSPHERE == pytest.approx(0.5 * signal - 0.25e5, abs=100)
