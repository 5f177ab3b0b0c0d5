"""The way of a signal: its parts against the run's own crossing times, which side carried the air, and what a feed costs."""

from bisect import bisect_left

import pytest

from circuit.declaring.traits import Trait
from circuit.model.places import space_named
from circuit.pipeline import load_source
from circuit.report.studies.respond import account
from circuit.source import Source
from circuit.studies.hands import CannotAsk
from circuit.studies.application import HOLDS
from circuit.studies.respond import respond, worth_a_way
from tests.designs import EXAMPLES, example_names, loaded
from tests.studies.examples import ATMOSPHERE, PSI, example
from tests.studies.test_respond import NEVER

NEAR = 0.005
"""s by which a part's end may differ from the run's own crossing."""


def ways(circuit):
    return next(table for table in account(circuit).tables if table.key == "ways")


def crossing(trace, place, began, settled, share, rising):
    """s at which a share of a place's change has come, straight between the ends of steps."""
    column = trace.column(place)
    times, values = [float(t) for t in trace.times], [float(row[column]) for row in trace.pressures]
    first = trace.pressure(place, began)
    level = first + share * (trace.pressure(place, settled) - first)
    for row in range(max(bisect_left(times, began), 1), len(times)):
        if (values[row] >= level) if rising else (values[row] <= level):
            wide, rise = times[row] - times[row - 1], values[row] - values[row - 1]
            return times[row] if not wide or not rise else times[row - 1] + wide * (level - values[row - 1]) / rise
    return None


def found(name, sets):
    try:
        return respond(example(name), sets)
    except CannotAsk:
        return None


def timed_of(answer):
    """(place, its run, s at which it begins, s by which it has settled, whether it rises)"""
    for timed in answer.applied:
        yield timed, answer.traces[0], 0.0, HOLDS, True
    for timed in answer.released:
        yield timed, answer.traces[-1], HOLDS, 2 * HOLDS, False


@pytest.mark.parametrize("sets", [(), ("un-r13",)], ids=["own", "un-r13"])
@pytest.mark.parametrize("name", example_names())
def test_parts_add_up_and_end_where_the_run_crosses(name, sets):
    answer = found(name, sets)
    if answer is None:
        assert not example(name).having(Trait.SERVICE_ACTUATOR)
        return
    seen = 0
    for timed, trace, began, settled, rising in timed_of(answer):
        assert timed.path.costs == pytest.approx(timed.time.typical, abs=1e-6)
        legs = timed.path.legs
        for before, leg in zip((None, *legs), legs):
            seen += 1
            assert crossing(trace, leg.there, began, settled, leg.share, rising) == pytest.approx(leg.at, abs=NEAR)
            if before is not None:
                assert leg.costs == pytest.approx(leg.at - before.at, abs=1e-9) and leg.costs > -NEAR - 0.001
    assert seen > 4


@pytest.mark.parametrize("name", example_names())
def test_no_part_of_the_way_is_left_out(name):
    circuit, answer = example(name), found(name, ())
    for timed, *_ in timed_of(answer):
        for before, leg in zip(timed.path.legs, timed.path.legs[1:]):
            if leg.name not in circuit.by_name:
                assert leg is timed.path.legs[-1] and leg.name.partition(" on ")[2] in circuit.by_name
                continue
            own = {space for _, space in circuit.spaces_of[leg.name]}
            own |= {circuit.store(circuit.by_name[other]) for c in circuit.couplings if leg.name in c.ends for other in c.ends}
            assert {space_named(circuit, before.there), space_named(circuit, leg.there)} <= own, (timed.name, leg.part)
        lines = [leg.name for leg in timed.path.legs if leg.name in circuit.by_name and circuit.by_name[leg.name].is_line]
        assert lines and timed.path.length == pytest.approx(
            sum(circuit.by_name[line].settings["length"] for line in lines))


@pytest.mark.parametrize("name", [name for name in example_names() if example(name).having(Trait.SELECTS_HIGHER)])
def test_the_way_goes_by_the_side_that_stands_higher(name):
    circuit, answer = example(name), found(name, ())
    for timed, trace, began, *_ in timed_of(answer):
        for before, leg in zip(timed.path.legs, timed.path.legs[1:]):
            device = circuit.by_name.get(leg.name)
            if device is None or not device.has(Trait.SELECTS_HIGHER):
                continue
            inlets = [circuit.space_of(device, port.number) for port in device.kind.ports if port.number in ("11", "12")]
            taken = space_named(circuit, before.there)
            moments = [began + (leg.at - began) * share for share in (0.4, 0.6, 0.8)]
            for other in (space for space in inlets if space != taken):
                over = [trace.pressure(taken, time) - trace.pressure(other, time) for time in moments]
                assert sum(over) > -1e3, (timed.name, leg.part)


def test_a_release_by_a_double_check_goes_by_the_side_that_falls_last():
    """The pedal's secondary side is empty long before the primary, which holds the shuttle over."""
    answer = found("tractor-6x4", ())
    pot = next(timed for timed in answer.released if timed.name == "pot on control-head")
    trace = answer.traces[-1]
    late, early = (trace.first_time(f"pedal-shuttle.{port}", ATMOSPHERE + 20 * PSI, False, HOLDS) for port in ("11", "12"))
    assert early < late - 0.05
    legs = {leg.name: leg for leg in pot.path.legs}
    assert "foot.21 -> pedal-shuttle.11" in legs and "foot.22 -> pedal-shuttle.12" not in legs
    assert [leg.part for leg in pot.path.legs[:3]] == ["foot", "tube foot.21 -> pedal-shuttle.11", "pedal-shuttle"]
    assert legs["pedal-shuttle"].costs < 0.02 < legs["foot.21 -> pedal-shuttle.11"].costs


def spoilt(*changes):
    text = (EXAMPLES / "truck-6x4" / "design.air").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return load_source(Source(str(EXAMPLES / "truck-6x4" / "design.air"), text))


THIN = ("tube sec -> foot.12: size 1/2 in, length 4 m", "tube sec -> foot.12: size 3/8 in, length 4 m")
WIDE = ("tube sec -> foot.12: size 1/2 in, length 4 m", "tube sec -> foot.12: size 3/4 in, length 0.2 m")
RELAY = ("tube pri -> rear-relay.1: size 5/8 in", "tube pri -> rear-relay.1: size 3/8 in")


def test_a_thin_supply_line_is_named_at_the_valve_that_it_starves():
    thin, wide = respond(spoilt(THIN)), respond(spoilt(WIDE))
    front, free = (next(t for t in answer.applied if t.name == "front-left") for answer in (thin, wide))
    foot = front.path.legs[0]
    assert foot.name == "foot" and foot.feed.parts == ("tube sec -> foot.12",)
    assert foot.feed.costs == pytest.approx(front.time.typical - free.time.typical, rel=0.1) and foot.feed.costs > 0.12
    rows = [row for row in ways(spoilt(THIN)).rows if row[2] == "foot" and row[0] == "apply"]
    assert rows[0][4:] == ("tube sec -> foot.12", str(round(1e3 * foot.feed.costs)))


def test_a_relay_s_feed_is_told_too_and_a_wide_one_is_not():
    slow = respond(spoilt(RELAY))
    legs = {leg.name: leg for leg in next(t for t in slow.applied if t.name == "d1-left.can").path.legs}
    assert legs["rear-relay"].feed.parts == ("tube pri -> rear-relay.1",) and legs["rear-relay"].feed.costs > 0.3
    assert legs["foot"].feed.costs < 0.01 and legs["foot.21 -> rear-relay.4"].feed is None
    assert all(row[4] != "tube pri -> foot.11" for row in ways(spoilt(RELAY)).rows)


def test_every_late_place_gets_its_way():
    told = dict.fromkeys(row[1] for row in ways(spoilt(THIN, RELAY)).rows if row[0] == "apply")
    late = worth_a_way(respond(spoilt(THIN, RELAY)).applied)
    assert {name for names in told for name in names.split(", ")} == {timed.name for timed in late} and len(late) == 6
    assert len(told) == 2 and "front-left, front-right" in told
    assert len({row[1] for row in ways(example("truck-6x4")).rows if row[0] == "apply"}) == 1


def test_a_place_that_never_gets_there_has_the_way_of_what_comes():
    answer = respond(loaded(NEVER))
    assert answer.applied[0].time.value is None
    assert [leg.part for leg in answer.applied[0].path.legs][-2:] == ["low", "tube low.2 -> right"]
    assert "right never gets there: its way is told to 95 % of what comes." in ways(loaded(NEVER)).notes
