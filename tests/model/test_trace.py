"""A trace as a table of figures: what it says between its steps, worked by hand on three steps of two spaces."""

import pytest

from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.places import NoSuchPlace, device_named, port_named, space_named
from circuit.model.trace import Balance, Happening, Trace, between
from tests.designs import completed, loaded

class Table(list):  # type: ignore[type-arg]
    """Rows of figures that also give a column, as a trace keeps them."""

    def column(self, number: int) -> list[float]:
        return [row[number] for row in self]


CIRCUIT = loaded(completed("""
reservoir tank: volume 20 L, rated 10 bar, role service
relay-valve relay: deliveries 1
tube tank -> relay.1: size 1/2 in, length 1 m, name feed
assembly pair: blanks n {
    tee one
    reservoir pot: volume <n>, rated 10 bar, role service
    fit one -> pot
    port in: is one
}
pair here: n 5 L
"""))
TANK, SUPPLY = CIRCUIT.space["tank", "1"], CIRCUIT.space["relay", "1"]
TRACE = Trace(
    circuit=CIRCUIT, times=[0.0, 1.0, 1.0, 3.0], names=("tank", "supply", "rig"), node={TANK: 0, SUPPLY: 1}, rigs={"rig": 2},
    pressures=Table([[8e5, 1e5, 5e5], [6e5, 3e5, 5e5], [6e5, 3e5, 5e5], [2e5, 4e5, 5e5]]),
    rates=Table([[-2e5, 2e5, 0.0], [-2e5, 2e5, 0.0], [-2e5, 0.5e5, 0.0], [-2e5, 0.5e5, 0.0]]),
    states={("relay", "open"): ((0.0, 0.0), (1.0, 1.0), (2.0, 0.25))},
    events=(Happening(1.0, "relay", "open", 1.0),), balance=Balance(1.0, 0.9, 0.0, 0.0, 0.1, 0.0), atmosphere=101325.0,
)
"""The tank falls by 2 bar a second all the time; behind the relay it rises by 2 and, from 1 s on, by half a bar a second."""


def test_a_straight_line_is_read_back_between_its_steps():
    for time in (0.0, 0.25, 0.5, 1.0, 1.7, 2.0, 3.0):
        assert TRACE.pressure("tank", time) == pytest.approx(8e5 - 2e5 * time)
        assert TRACE.pressure("relay.1", time) == pytest.approx(min(1e5 + 2e5 * time, 2.5e5 + 0.5e5 * time))
    assert TRACE.pressure("tank", -1.0) == 8e5 and TRACE.pressure("tank", 9.0) == 2e5, "before and after it stands still"
    assert TRACE.end == 3.0 and TRACE.last("tank") == 2e5 and TRACE.last("rig") == 5e5


def test_a_place_is_a_space_a_name_or_a_rig():
    assert [TRACE.column(place) for place in ("tank", "relay.1", "relay.supply", TANK, SUPPLY, "rig")] == [0, 1, 1, 0, 1, 2]
    with pytest.raises(NoSuchPlace, match="there is no `nowhere` in this design"):
        TRACE.column("nowhere")
    with pytest.raises(KeyError):
        TRACE.column(999)


def test_when_a_pressure_is_first_reached():
    assert TRACE.first_time("tank", 5e5, rising=False) == pytest.approx(1.5, abs=1e-9)
    assert TRACE.first_time("relay.1", 2e5) == pytest.approx(0.5, abs=1e-9)
    assert TRACE.first_time("relay.1", 3.5e5) == pytest.approx(2.0, abs=1e-9)
    assert TRACE.first_time("relay.1", 2e5, after=0.75) == 0.75, "it stands higher already"
    assert TRACE.first_time("tank", 5e5, rising=False, after=1.2) == pytest.approx(1.5, abs=1e-9)
    assert TRACE.first_time("relay.1", 9e5) is None and TRACE.first_time("tank", 1e5, rising=False) is None
    assert TRACE.first_time("tank", 8e5) == 0.0 and TRACE.first_time("tank", 9e5, rising=False) == 0.0


def test_the_lowest_and_the_highest_between_two_times():
    assert TRACE.lowest("tank") == 2e5 and TRACE.highest("tank") == 8e5
    assert TRACE.lowest("tank", until=2.0) == pytest.approx(4e5) and TRACE.highest("tank", after=2.0) == pytest.approx(4e5)
    assert TRACE.lowest("relay.1", 0.5, 0.75) == pytest.approx(2e5)
    assert TRACE.highest("relay.1", 0.5, 0.75) == pytest.approx(2.5e5)
    assert TRACE.highest("relay.1", 0.5, 1.0) == pytest.approx(3e5), "the step at the last time counts"


def test_many_times_at_once_are_the_same_as_one_by_one():
    times = [-0.5, 0.0, 0.3, 1.0, 1.4, 2.9, 3.0, 4.0]
    assert TRACE.at_steps("tank") == [8e5, 6e5, 6e5, 2e5]
    assert TRACE.curve("tank", times) == [TRACE.pressure("tank", time) for time in times]
    rows = TRACE.rows(times)
    assert rows.shape == (len(times), 3)
    for row, time in zip(rows, times):
        assert list(row) == pytest.approx([TRACE.pressure(place, time) for place in ("tank", "relay.1", "rig")])


def test_a_bent_curve_never_leaves_its_two_ends():
    """A rate far above the mean rise is held to three times of it; a flat piece stays flat whatever the rates say."""
    bent = TRACE.__class__(**{**{name: getattr(TRACE, name) for name in TRACE.__dataclass_fields__ if name[0] != "_"},
                              "rates": Table([[9e6, -3e5, 7.0]] * 4)})
    for time in (0.1, 0.5, 0.9, 1.5, 2.5):
        assert 2e5 <= bent.pressure("tank", time) <= 8e5 and 1e5 <= bent.pressure("relay.1", time) <= 4e5
        assert bent.pressure("rig", time) == 5e5
        assert list(bent.rows([time])[0]) == pytest.approx([bent.pressure(p, time) for p in ("tank", "relay.1", "rig")])


@pytest.mark.parametrize("leaves, arrives, middle", [(1.0, 1.0, 0.5), (0.0, 0.0, 0.5), (3.0, 0.0, 0.875), (0.0, 3.0, 0.125),
                                                     (99.0, -5.0, 0.875), (-5.0, 99.0, 0.125)])
def test_the_cubic_between_two_steps(leaves: float, arrives: float, middle: float):
    """Hermite's at the middle: half of the rise and an eighth of the step times the difference of the slopes."""
    assert between(0.5, 1.0, 0.0, 1.0, leaves, arrives) == pytest.approx(middle)
    assert between(1.0, 2.0, 4.0, 8.0, 2 * leaves, 2 * arrives) == pytest.approx(4.0 + 4.0 * middle)
    assert between(0.0, 1.0, 3.0, 7.0, leaves, arrives) == pytest.approx(3.0)
    assert between(1.0, 1.0, 3.0, 7.0, leaves, arrives) == pytest.approx(7.0)
    assert between(0.3, 0.0, 3.0, 7.0, leaves, arrives) == 7.0, "at one moment the later value counts"
    assert between(0.3, 1.0, 3.0, 3.0, leaves, arrives) == 3.0


def test_a_falling_cubic_mirrors_a_rising_one():
    for since in (0.2, 0.5, 0.7):
        assert between(since, 1.0, 1.0, 0.0, -2.0, -0.5) == pytest.approx(1.0 - between(since, 1.0, 0.0, 1.0, 2.0, 0.5))


def test_states_hold_until_they_change():
    assert [TRACE.state("relay", "open", time) for time in (0.0, 0.9, 1.0, 1.9, 2.0, 5.0)] == [0.0, 0.0, 1.0, 1.0, 0.25, 0.25]
    assert TRACE.state("relay", "open", -1.0) == 0.0
    assert str(TRACE.events[0]) == "1.000 s: relay open 1"


def test_places_are_found_by_number_word_and_the_port_of_an_assembly():
    assert space_named(CIRCUIT, "relay.supply") == SUPPLY == space_named(CIRCUIT, "relay.1")
    assert space_named(CIRCUIT, "here.pot") == CIRCUIT.space["here.pot", "1"]
    device, port = port_named(CIRCUIT, "relay.control")
    assert (device.name, port.number) == ("relay", "4")
    assert device_named(CIRCUIT, "feed").name == "tank -> relay.1" and device_named(CIRCUIT, "relay").name == "relay"
    for place in ("nowhere", "relay.9", "nowhere.1", "here.1", ".1"):
        with pytest.raises(NoSuchPlace, match=f"there is no `{place}` in this design"):
            port_named(CIRCUIT, place)
    with pytest.raises(NoSuchPlace, match="there is no `nobody` in this design"):
        device_named(CIRCUIT, "nobody")
    assert CIRCUIT.space["relay", "3"] == SPACE_OUTSIDE
    with pytest.raises(NoSuchPlace, match="`relay.3` is open to the air"):
        space_named(CIRCUIT, "relay.3")


def test_a_word_that_one_part_of_an_assembly_has_names_its_port():
    circuit = loaded(completed("""
assembly brake: blanks side {
    relay-valve relay: deliveries 1
    tee one
}
brake left: side x
"""))
    device, port = port_named(circuit, "left.control")
    assert (device.name, port.number) == ("left.relay", "4")
    assert port_named(circuit, "left.relay.control") == (device, port)
    with pytest.raises(NoSuchPlace):
        port_named(circuit, "left.1")  # a relay and a tee both have one
