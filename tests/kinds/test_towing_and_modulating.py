"""What the kinds of driver, modulation and towing do, at pressures worked by hand: bar, as a gauge shows them."""

import pytest

from circuit import kinds
from circuit.declaring.kind import OUTSIDE, Kind
from circuit.model.settings import typical_value
from circuit.units import ATMOSPHERE


class Part:
    """A kind with its typical settings, some of them changed."""

    def __init__(self, name: str, **settings: object) -> None:
        kind = kinds.find(name)
        assert kind is not None
        self.kind: Kind = kind
        self.settings = {s.name: typical_value(s) if s.typical else None for s in kind.settings}
        self.settings.update({word.replace("_", "-"): value for word, value in settings.items()})

    def around(self, bars: dict[str, float]) -> dict[str, float]:
        numbers = (*(port.number for port in self.kind.ports), OUTSIDE)
        return {number: ATMOSPHERE + bars.get(number, 0.0) * 1e5 for number in numbers}

    def opens(self, way: str, bars: dict[str, float], **state: float) -> bool:
        start, end = way.split(">")
        known = {**self.kind.rest, **{word.replace("_", "-"): value for word, value in state.items()}}
        return any(p.opening is None or p.opening(self.around(bars), self.settings, known) > 0
                   for p in self.kind.passages if (p.start, p.end) == (start, end))

    def snaps(self, variable: str, bars: dict[str, float]) -> str:
        latch = next(latch for latch in self.kind.latches if latch.variable == variable)
        around = self.around(bars)
        sets = latch.sets is not None and latch.sets(around, self.settings) > 0
        resets = latch.resets is not None and latch.resets(around, self.settings) > 0
        assert not (sets and resets)
        return "sets" if sets else "resets" if resets else ""


def bar(value: float) -> float:
    return ATMOSPHERE + value * 1e5


@pytest.mark.parametrize(("asked", "given"), [(2.0, 1.0), (2.8, 1.4), (3.45, 2.75), (4.1, 4.1), (6.0, 6.0)])
def test_the_automatic_front_valve_halves_until_2_8_and_gives_all_from_4_1(asked: float, given: float):
    # worked by hand: half up to 2.8; from (2.8, 1.4) to (4.1, 4.1) in a straight line, so 2.75 half way
    valve = Part("front-limiting-valve")
    assert valve.opens("1>2", {"1": asked, "2": given - 0.05})
    assert not valve.opens("1>2", {"1": asked, "2": given + 0.01})
    assert valve.opens("2>3", {"1": asked, "2": given + 0.15}) and not valve.opens("2>3", {"1": asked, "2": given})


def test_the_manual_front_valve_halves_on_the_drivers_word_only():
    valve = Part("manual-front-limiting-valve")
    assert valve.opens("1>2", {"1": 6, "2": 5}) and not valve.opens("1>2", {"1": 6, "2": 5}, slippery=1)
    assert valve.opens("1>2", {"1": 6, "2": 2.9}, slippery=1)


@pytest.mark.parametrize(("load", "given"), [(0.0, 6 * 0.4 - 0.25), (0.5, 6 * 0.7 - 0.25), (1.0, 6 - 0.25)])
def test_the_lever_gives_a_share_between_empty_and_laden(load: float, given: float):
    valve = Part("load-sensing-valve")
    assert valve.opens("1>2", {"1": 8, "4": 6, "2": given - 0.01}, load=load)
    assert not valve.opens("1>2", {"1": 8, "4": 6, "2": given + 0.01}, load=load)


def test_a_broken_link_and_a_burst_bag_give_the_stated_share():
    lever, bags = Part("load-sensing-valve"), Part("air-load-sensing-valve")
    for given, opens in ((2.7, True), (2.8, False)):  # 6 x 0.5 - 0.25 = 2.75
        assert lever.opens("1>2", {"1": 8, "4": 6, "2": given}, linked=0) is opens
        assert bags.opens("1>2", {"1": 8, "4": 6, "2": given, "41": 5, "42": 0}) is opens
    assert bags.opens("1>2", {"1": 8, "4": 6, "2": 5.7, "41": 5, "42": 5})  # laden: 6 - 0.25


def test_red_pops_before_yellow_and_yellow_takes_red_along():
    dash = Part("dash-module", pops_out_at=bar(2.1), trailer_pops_out_at=bar(3.1))
    for source in (3.2, 3.0, 2.0):
        assert dash.opens("11>22", {"11": source}) is (source > 3.1)
        assert dash.opens("11>21", {"11": source}) is (source > 2.1)
        assert dash.opens("22>3", {"11": source, "22": 3}) is (source <= 3.1)
    assert dash.snaps("trailer-pushed", {"11": 3.0}) == "resets" and dash.snaps("pushed", {"11": 3.0}) == ""
    assert not dash.opens("11>22", {"11": 8}, pushed=0) and dash.opens("22>3", {"11": 8, "22": 8}, pushed=0)


def test_the_dash_takes_the_higher_source():
    dash = Part("dash-module")
    assert dash.opens("12>21", {"11": 0, "12": 8}) and not dash.opens("11>21", {"11": 0, "12": 8})


def test_the_protection_valve_snaps_at_two_pressures():
    valve = Part("tractor-protection-valve", opens_at=bar(3.1), shuts_at=bar(2.8))
    assert [valve.snaps("open", {"1": p}) for p in (3.2, 2.95, 2.7)] == ["sets", "", "resets"]
    between = {"1": 2.95, "11": 6}
    assert valve.opens("11>21", between, open=1) and not valve.opens("11>21", between, open=0)
    assert valve.opens("1>2", {})


def test_the_hand_brake_goes_by_degrees_and_its_test_position_frees_the_trailer():
    valve = Part("hand-brake-valve", full_delivery=bar(8))
    assert valve.opens("1>21", {"1": 9, "21": 3.9}, lever=0.5)
    assert not valve.opens("1>21", {"1": 9, "21": 4.1}, lever=0.5)
    assert valve.opens("21>3", {"1": 9, "21": 1}, lever=1) and valve.opens("22>3", {"1": 9, "22": 1}, lever=1)
    assert valve.opens("1>22", {"1": 9, "22": 1}, lever=1, test=1)
    assert not valve.opens("22>3", {"22": 8}, lever=1, test=1)


def test_the_trailer_control_valve_leads_inverts_and_throttles():
    valve = Part("trailer-control-valve")
    released = {"43": 7, "21": 8}
    assert valve.opens("21>22", {**released, "41": 4, "22": 4.1})
    assert not valve.opens("21>22", {**released, "41": 4, "22": 4.3})
    assert valve.opens("21>22", {**released, "42": 4, "22": 4.1})
    assert not valve.opens("21>22", {**released, "22": 0})
    assert valve.opens("21>22", {"43": 0, "21": 8, "22": 7.4})
    assert not valve.opens("21>22", {"43": 0, "21": 8, "22": 7.6})
    released["11"] = 8
    assert valve.snaps("throttled", {**released, "41": 6, "22": 0}) == "sets"
    assert valve.snaps("throttled", {**released, "41": 6, "22": 0, "11": 0.1}) == "resets", "a lost supply is no broken line"
    assert valve.snaps("throttled", {**released, "41": 6, "22": 6}) == "resets"
    assert not valve.opens("11>21", {"11": 8}, throttled=1) and valve.opens("11>21", {"11": 8})


def test_the_relay_emergency_valve_applies_at_3_1_and_lets_go_at_4_4():
    valve = Part("relay-emergency-valve")
    assert [valve.snaps("emergency", {"1": p}) for p in (3.0, 4.0, 4.5)] == ["sets", "", "resets"]
    assert valve.opens("1-2>2", {"1": 3.0, "1-2": 7}) and not valve.opens("1-2>2", {"1": 4.0, "1-2": 7})
    assert valve.opens("1-2>2", {"1": 4.0, "1-2": 7}, emergency=1)
    assert valve.opens("2>3", {"1": 7, "2": 6}) and not valve.opens("2>3", {"1": 0, "2": 6})
    assert not valve.opens("1-2>1", {"1-2": 7})
    assert Part("relay-emergency-valve", bleeds_back="yes").opens("1-2>1", {"1-2": 7})


@pytest.mark.parametrize(("line", "given"), [(3.5, 0.0), (3.0625, 1.75), (1.75, 7.0), (0.0, 7.0)])
def test_the_european_one_brakes_the_more_the_lower_the_line(line: float, given: float):
    # worked by hand: nothing at 3.5, all of 7 bar at half of that, so 1.75 bar an eighth below 3.5
    valve = Part("trailer-emergency-relay-valve")
    assert valve.opens("1-2>2", {"1": line, "1-2": 7, "2": max(0.0, given - 0.05)}) is (given > 0)
    assert not valve.opens("1-2>2", {"1": line, "1-2": 7, "2": given + 0.05})


def test_the_shunting_button_goes_back_with_the_line():
    valve = Part("park-and-shunt-valve")
    assert valve.opens("1>21", {"1": 7}) and not valve.opens("11>21", {"11": 7})
    assert valve.opens("11>21", {"11": 7}, shunting=1) and not valve.opens("1>21", {"1": 7}, shunting=1)
    assert valve.snaps("shunting", {"1": 7}) == "resets" and valve.snaps("shunting", {"1": 0}) == ""
    assert valve.opens("22>3", {"11": 2.9, "22": 2}) and not valve.opens("22>3", {"11": 7, "22": 6})


def test_an_ebs_module_without_current_is_a_relay():
    module = Part("ebs-module", full_delivery=bar(8))
    assert module.opens("1>2", {"1": 9, "4": 6, "2": 5.6}) and not module.opens("1>2", {"1": 9, "4": 0}, demand=1)
    assert module.opens("1>2", {"1": 9, "4": 0, "2": 3.9}, energised=1, demand=0.5)
    assert not module.opens("1>2", {"1": 9, "4": 9, "2": 4.1}, energised=1, demand=0.5)


def test_a_bobtail_relay_gives_a_third_without_a_trailer():
    relay = Part("bobtail-relay")
    assert relay.opens("1>2", {"1": 8, "41": 6, "42": 7, "2": 5.7})
    for given, opens in ((1.7, True), (1.8, False)):  # 6 x 0.33 - 0.25 = 1.73
        assert relay.opens("1>2", {"1": 8, "41": 6, "2": given}) is opens


def test_an_overload_relay_follows_the_higher_signal():
    relay = Part("overload-relay")
    for signal in ("41", "42"):
        assert relay.opens("1>2", {"1": 8, signal: 6, "2": 5.7})
    assert relay.opens("2>3", {"1": 8, "2": 6})


@pytest.mark.parametrize(("name", "variable"), [("brake-hold-valve", "energised"), ("traction-solenoid", "energised"),
                                               ("spring-release-valve", "held")])
def test_it_feeds_while_asked_and_vents_otherwise(name: str, variable: str):
    valve = Part(name)
    asked = {variable: 1.0}
    assert valve.opens("1>2", {"1": 8}, **asked) and not valve.opens("2>3", {"1": 8, "2": 4}, **asked)
    assert not valve.opens("1>2", {"1": 8}) and valve.opens("2>3", {"2": 4})


def test_an_antilock_modulator_passes_holds_and_releases():
    modulator = Part("antilock-modulator")
    assert modulator.opens("1>2", {"1": 6}) and not modulator.opens("2>3", {"2": 6})
    assert not modulator.opens("1>2", {"1": 6}, hold=1) and not modulator.opens("2>3", {"2": 6}, hold=1)
    assert modulator.opens("2>3", {"2": 6}, hold=1, release=1)
