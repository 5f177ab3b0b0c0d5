"""A circuit asked for what stands where, and the same circuit with one thing done; walls between two rooms."""

import pytest

from circuit.declaring.traits import Trait
from circuit.mistake import Unreadable
from circuit.model.settling import settle
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.loss import emptied_by
from circuit.units import ATMOSPHERE
from tests.designs import completed, loaded

CIRCUIT = loaded(completed("""
reservoir wet: volume 20 L, rated 10 bar, role supply, holes 5
reservoir dry: volume 40 L, rated 10 bar, role service
reservoir aux: volume 10 L, rated 10 bar, role auxiliary
gauge dial: on dry
low-pressure-switch lamp: on dry, on-below 4 bar
drain tap: on wet
tube wet -> dry: size 1/2 in, length 1 m
relay-valve relay: deliveries 3, supplies 2
manifold block: holes 6
tee t
chamber left: type 20, stroke 2.25 in, axle front, side left
spring-chamber can: type 20/20, stroke 2.25 in, axle front, side right
"""))


def key(circuit: Circuit, name: str, port: str = "1") -> int:
    return circuit.space[name, port]


def names(devices: tuple) -> list[str]:
    return [device.name for device in devices]


def test_what_stands_on_a_space():
    dry = key(CIRCUIT, "dry")
    assert names(CIRCUIT.on_space(dry)) == ["dry", "dial", "lamp", "wet -> dry"]
    assert names(CIRCUIT.on_space(dry, Trait.SHOWS_PRESSURE)) == ["dial"]
    assert names(CIRCUIT.on_space(dry, Trait.SHOWS_PRESSURE, Trait.WARNS_LOW)) == []
    assert CIRCUIT.on_space(9999) == ()
    assert names(CIRCUIT.having(Trait.STORES_AIR)) == names(CIRCUIT.reservoirs) == ["wet", "dry", "aux"]
    assert names(CIRCUIT.reservoirs_for("service", "auxiliary")) == ["dry", "aux"] and CIRCUIT.reservoirs_for() == ()


def test_ports_of_things_and_their_holes():
    found = [(device.name, port.number) for device, port in CIRCUIT.ports()]
    assert ("relay", "4") in found and ("dial", "4") in found and not [name for name, _ in found if "->" in name]
    assert len(found) == sum(len(d.kind.ports) for d in CIRCUIT.devices if not d.is_line)
    of = CIRCUIT.by_name
    holes = {(name, number): CIRCUIT.holes(of[name], of[name].kind.port(number)) for name, number in (
        ("wet", "1"), ("dry", "1"), ("relay", "1"), ("relay", "2"), ("relay", "3"), ("block", "1"), ("t", "1"))}
    assert list(holes.values()) == [5, 0, 2, 3, 1, 6, 3], "as written, any number, as set, one, as set, three"


def test_spaces_of_chambers_and_of_what_has_one():
    of = CIRCUIT.by_name
    assert CIRCUIT.store(of["wet"]) == key(CIRCUIT, "wet") == key(CIRCUIT, "tap")
    assert CIRCUIT.service_space(of["can"]) == key(CIRCUIT, "can", "11")
    assert CIRCUIT.spring_space(of["can"]) == key(CIRCUIT, "can", "12")
    assert CIRCUIT.service_space(of["left"]) == key(CIRCUIT, "left")
    assert CIRCUIT.space_of(of["tap"], "outside") == SPACE_OUTSIDE == CIRCUIT.space_of(of["tap"], "3")


def test_spaces_are_named_by_reservoirs_first_then_parts_then_lines():
    assert CIRCUIT.space_name(key(CIRCUIT, "dial", "4")) == "dry"
    assert CIRCUIT.space_name(key(CIRCUIT, "relay", "2")) == "relay.2" and CIRCUIT.space_name(key(CIRCUIT, "t")) == "t"
    bare = loaded(completed("gauge dial: on joint\nmanifold joint: holes 3\ntee end\n"
                            "tube joint -> end: size 1/2 in, length 1 m\n"))
    assert bare.space_name(bare.space["dial", "4"]) == "joint", "a part before what is drawn on it"


def test_ways_at_a_space_and_of_a_device():
    wet = key(CIRCUIT, "wet")
    assert {way.device.name for way in CIRCUIT.ways_at[wet]} == {"wet -> dry", "tap"}
    assert [(way.passage.start, way.passage.end) for way in CIRCUIT.ways_of["relay"]] == [("1", "2"), ("2", "3")]
    assert "wet" not in CIRCUIT.ways_of and all(way in CIRCUIT.ways for way in CIRCUIT.ways_at[SPACE_OUTSIDE])
    assert {way.device.name for way in CIRCUIT.ways_at[SPACE_OUTSIDE]} == {"tap", "relay"}


def test_one_thing_changed_leaves_the_rest():
    wet, aux = ("wet", "1"), ("aux", "1")
    swapped = CIRCUIT.exchanged(wet, aux)
    assert (swapped.space[wet], swapped.space[aux]) == (CIRCUIT.space[aux], CIRCUIT.space[wet])
    assert {k: v for k, v in swapped.space.items() if k not in (wet, aux)} == {
        k: v for k, v in CIRCUIT.space.items() if k not in (wet, aux)}
    alone = CIRCUIT.apart(wet, ("dry", "1"))
    fresh = {alone.space[wet], alone.space["dry", "1"]}
    assert len(fresh) == 2 and not fresh & set(CIRCUIT.space.values()) and alone.space["tap", "1"] == CIRCUIT.space[wet]
    moved = CIRCUIT.moved(("wet -> dry", "2"), aux)
    assert moved.space["wet -> dry", "2"] == CIRCUIT.space[aux] and moved.space["dry", "1"] == CIRCUIT.space["dry", "1"]
    one = CIRCUIT.joined(aux, wet)
    assert one.space[aux] == one.space[wet] == one.space["tap", "1"] and one.used[aux] == 1
    assert CIRCUIT.joined(aux, ("relay", "3")) is CIRCUIT, "nothing is joined to the open air"
    assert CIRCUIT.taken(wet).used[wet] == CIRCUIT.used[wet] + 1 and CIRCUIT.taken(aux).used[aux] == 1


def test_a_setting_changed_is_changed_on_one_part():
    wet = CIRCUIT.by_name["wet"]
    changed = CIRCUIT.with_setting(wet, "volume", 0.5)
    assert changed.by_name["wet"].settings["volume"] == 0.5 and wet.settings["volume"] == pytest.approx(0.02)
    assert changed.by_name["wet"].settings["role"] == "supply" and changed.by_name["dry"] is CIRCUIT.by_name["dry"]
    assert names(changed.devices) == names(CIRCUIT.devices)


def test_a_line_that_lets_air_one_way_only():
    for towards, ends in (("2", ("1", "2")), ("1", ("2", "1"))):
        (way,) = CIRCUIT.checked("wet -> dry", towards).ways_of["wet -> dry"]
        assert (way.passage.start, way.passage.end, way.passage.both_ways) == (*ends, False)
    assert CIRCUIT.checked("wet -> dry", "2").by_name["dry"] is CIRCUIT.by_name["dry"]


def test_a_plug_taken_out():
    plugged = loaded(completed("relay-valve one and two\nplug one.3 and two.3\n"))
    free = plugged.unplugged(plugged.by_name["one"], "3")
    assert free.space["one", "3"] == SPACE_OUTSIDE and free.space["two", "3"] != SPACE_OUTSIDE
    assert set(free.plugged) == {("two", "3")} and set(plugged.plugged) == {("one", "3"), ("two", "3")}


# --- walls -----------------------------------------------------------------------------------------------------------

ROOMS = "reservoir a: volume 20 L, rated 10 bar, role service\nreservoir b: volume 20 L, rated 10 bar, role service\n"


def test_a_wall_stands_between_two_reservoirs_and_takes_no_hole():
    circuit = loaded(completed(ROOMS + "partition wall: between a and b\n"))
    assert (circuit.space["wall", "1"], circuit.space["wall", "2"]) == (circuit.space["a", "1"], circuit.space["b", "1"])
    assert circuit.by_name["wall"].host == ("a", "1") and circuit.used.get(("a", "1"), 0) == 0


@pytest.mark.parametrize("between", ["a and a", "a and t", "t and a"])
def test_a_wall_elsewhere_is_refused(between: str):
    with pytest.raises(Unreadable) as refused:
        loaded(completed(ROOMS + f"tee t\npartition wall: between {between}\n"))
    (mistake,) = refused.value.mistakes
    assert (mistake.says, mistake.at.column) == ("a partition stands between two reservoirs", 17)
    assert mistake.expected == "write partition wall: between FIRST and SECOND, the names of two reservoirs"


def test_a_wall_beside_nothing_is_one_mistake():
    for rows, says in (("partition wall: between a and nobody\n", ["nothing is called `nobody`"]),
                       ("partition wall\n", ["partition needs `between`: the two reservoirs it parts"])):
        with pytest.raises(Unreadable) as refused:
            loaded(completed(ROOMS + rows))
        assert [m.says for m in refused.value.mistakes] == says


# --- latches that snap when a line is lost ---------------------------------------------------------------------------


def test_a_control_line_that_bursts_throttles_its_supply():
    """A trailer control valve shuts off the supply line while 22 stays 3 bar behind the pedal: the tank behind it lives."""
    circuit = loaded(completed("""
reservoir tank: volume 40 L, rated 10 bar, role service
manifold pedal and hand: holes 2
plug pedal and hand
trailer-control-valve valve
tube tank -> valve.11: size 1/2 in, length 1 m
tube pedal -> valve.41: size 3/8 in, length 1 m
tube hand -> valve.43: size 3/8 in, length 1 m
consumer supply: use "the supply line"
tube valve.21 -> supply: size 1/2 in, length 1 m
consumer control: use "the control line"
tube valve.22 -> control: size 1/2 in, length 1 m
"""))
    sources = {circuit.space["tank", "1"]: 8.0, circuit.space["pedal", "1"]: 6.0, circuit.space["hand", "1"]: 7.0}
    air = settle(circuit, "braking", {space: ATMOSPHERE + bar * 1e5 for space, bar in sources.items()})
    assert air.is_charged(circuit.space["control", "1"])
    lost = emptied_by(air, circuit.space["control", "1"])
    assert circuit.space["supply", "1"] in lost, "what stands in the line goes by the burst"
    assert circuit.space["tank", "1"] not in lost, "and the valve has snapped, so that its tank does not follow"
