"""When the vehicles of a combination begin to brake, held against the traces they come from."""

import pytest

from circuit.declaring.traits import Trait
from circuit.gas.chamber import TAKES_UP
from circuit.report.studies.respond import account
from circuit.studies.bite import bites, order
from circuit.studies.respond import respond
from tests.designs import example_text, loaded
from tests.studies.examples import ATMOSPHERE, bench, example


@pytest.fixture(scope="module")
def semi():
    return example("combination-semi")


def test_each_vehicle_bites_when_the_first_of_its_chambers_does(semi):
    found = respond(semi)
    trace = found.traces[0]
    assert [each.vehicle for each in found.bites] == list(semi.vehicles) == ["tractor", "semi"]
    for each in found.bites:
        own = [c for c in semi.having(Trait.SERVICE_ACTUATOR) if c.name.startswith(each.vehicle + ".")]
        before = [trace.pressure(semi.service_space(c), each.first - 0.001) for c in own]
        after = [trace.pressure(semi.service_space(c), each.last + 0.001) for c in own]
        assert max(before) < ATMOSPHERE + TAKES_UP <= min(after) and each.spread >= 0
    assert found.bites[0].lag == 0 and found.bites[1].lag == found.bites[1].first - found.bites[0].first


@pytest.mark.slow
def test_a_longer_control_line_lets_the_trailer_bite_later_and_nothing_else(semi):
    row = semi.by_name["semi.control-filter.2 -> semi.relay.4"]
    longer = semi.with_setting(row, "length", row.settings["length"] + 6)
    before, after = respond(semi).bites, respond(longer).bites
    assert after[1].lag > before[1].lag + 0.01 and after[0].first == pytest.approx(before[0].first, abs=0.01)
    assert order(after)[-1] == "semi"


def test_a_vehicle_by_itself_has_none_and_the_words_name_the_order(semi):
    alone = bench()
    assert respond(alone).bites == () and bites(alone, respond(alone).traces[0]) == ()
    table = next(table for table in account(semi).tables if table.key == "bite")
    assert len(table.rows) == 2 and "In this order: " in table.notes[0]
    assert all(table.key != "bite" for table in account(loaded(example_text("teaching-board"))).tables)
