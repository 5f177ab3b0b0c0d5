"""Designs of several files: assemblies, a base, a combination; what each brings in, and each slip with its place."""

from pathlib import Path

import pytest

from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.expand import DEEPEST
from circuit.pipeline import load

TRUCK = "vehicle mine: class truck\nrules us-federal\naxle front: position 1\n"
TANK = "reservoir tank: volume 20 L, rated 10 bar, role service\n"


def written(folder: Path, **files: str) -> Path:
    """Writes `name.air` for each name and gives the path of `main.air`."""
    for name, text in files.items():
        (folder / f"{name}.air").write_text(text, encoding="utf-8")
    return folder / "main.air"


def loaded(folder: Path, **files: str) -> Circuit:
    return load(str(written(folder, **files)))


def refused(folder: Path, **files: str) -> list[tuple[str, int, str, str]]:
    """File, line, words and remedy of each mistake."""
    with pytest.raises(Unreadable) as trouble:
        loaded(folder, **files)
    return [(Path(m.at.source.name).name, m.at.line, m.says, m.expected) for m in trouble.value.mistakes]


def names(circuit: Circuit) -> list[str]:
    return [device.name for device in circuit.devices]


# --- assemblies ------------------------------------------------------------------------------------------------------

PAIR = """assembly pair: blanks v and n {
    reservoir a and b: volume <v>, rated 10 bar, role service
    tee <n>
    fit a -> <n>
    tube a -> b: size 1/2 in, length 1 m
    drain tap: on a
    port left: is a
    port right: is b
}
"""


def test_an_assembly_stands_at_each_place_with_its_blanks_filled(tmp_path: Path):
    circuit = loaded(tmp_path, main=TRUCK + 'use "parts.air"\npair one and two: v 5 L, n x\npair three: v 8 L, n y\n'
                     "tube one.right -> two.left: size 1/2 in, length 2 m\n", parts=PAIR)
    assert {"one.a", "one.b", "one.x", "one.tap", "two.a", "three.b", "three.y"} <= set(names(circuit))
    assert circuit.by_name["one.b"].settings["volume"] == pytest.approx(5e-3)
    assert circuit.by_name["three.a"].settings["volume"] == pytest.approx(8e-3)
    line = circuit.by_name["one.right -> two.left"]
    assert line.ends == (("one.b", "1"), ("two.a", "1"))
    assert circuit.by_name["two.tap"].host == ("two.a", "1")
    assert circuit.space["one.x", "1"] == circuit.space["one.a", "1"] != circuit.space["one.b", "1"]
    assert [Path(file.name).name for file in circuit.files] == ["main.air", "parts.air"]


def test_an_assembly_may_hold_another_and_plug_its_own_port(tmp_path: Path):
    circuit = loaded(tmp_path, main=TRUCK + """assembly outer: blanks v {
    inner core: v <v>
    tube core.way -> end: size 1/2 in, length 1 m
    tee end
    relay-valve relay
    plug relay.3
}
assembly inner: blanks v {
    reservoir pot: volume <v>, rated 10 bar, role service
    port way: is pot
}
outer here: v 5 L
""")
    assert {"here.core.pot", "here.end"} <= set(names(circuit))
    assert circuit.by_name["here.core.pot"].settings["volume"] == pytest.approx(5e-3)
    assert ("here.relay", "3") in circuit.plugged and circuit.space["here.relay", "3"] != SPACE_OUTSIDE
    assert any(device.ends == (("here.core.pot", "1"), ("here.end", "1")) for device in circuit.devices)


def test_the_library_is_behind_the_own_folder(tmp_path: Path):
    own = "assembly service-tank: blanks volume {\n    reservoir mine: volume <volume>, rated 10 bar, role service\n}\n"
    assert "x.tank" in names(loaded(tmp_path, main=TRUCK + 'use "tanks.air"\nservice-tank x: volume 20 L, rated 10 bar\n'))
    assert "x.mine" in names(loaded(tmp_path, main=TRUCK + 'use "tanks.air"\nservice-tank x: volume 20 L\n', tanks=own))


def test_a_file_used_twice_brings_its_assemblies_once(tmp_path: Path):
    circuit = loaded(tmp_path, main=TRUCK + 'use "parts.air"\nuse "again.air"\npair one: v 5 L, n x\n', parts=PAIR,
                     again='use "parts.air"\n')
    assert "one.a" in names(circuit)


NESTED = "assembly a0 {\n    tee t\n}\n" + "".join(
    f"assembly a{n} {{\n    a{n - 1} x\n}}\n" for n in range(1, DEEPEST + 1))


def test_assemblies_stand_in_each_other_to_a_depth(tmp_path: Path):
    deepest = loaded(tmp_path, main=TRUCK + NESTED + f"a{DEEPEST - 1} top\n")
    assert names(deepest) == ["top" + ".x" * (DEEPEST - 1) + ".t"]
    found = refused(tmp_path, main=TRUCK + NESTED + f"a{DEEPEST} top\n")
    assert [(says, expected) for _, _, says, expected in found] == [
        (f"assemblies stand inside assemblies more than {DEEPEST} deep here", "an assembly may not hold itself")]


SLIPS = [
    ("use parts", 4, "`use` needs a file name between quotes", 'write use "axles.air"'),
    ('use "nowhere.air"', 4, "there is no file `nowhere.air` beside this design or in the library",
     "check the name; the library has axles.air, tanks.air, wheel-ends.air"),
    ('use "main.air"', 4, "this file uses itself: main.air uses main.air", "remove one `use` of the ring"),
    ("assembly pair and other {\n    tee t\n}", 4, "an assembly has one name and a block of statements",
     "write assembly wheel-end: blanks axle and side { ... }"),
    ("assembly pair {\n    tee t\n}\nassembly pair {\n    tee u\n}", 7, "there is already an assembly `pair`",
     "give one of them another name"),
    ("assembly pair {\n    tee t\n    port a and b: is t\n}", 6, "a port of an assembly has one name and says what it is",
     "write port service: is can.11"),
    ("assembly pair {\n    tee t\n}\npair", 7, "`pair` is an assembly: placing it needs a name", "write pair NAME: ..."),
    ("assembly pair: blanks n and m {\n    tee <n> and <m>\n}\npair one", 7, "pair needs n and m", "fill in: n ..., m ..."),
    ("assembly pair {\n    tee t\n}\npair one: n 2", 7, "the assembly pair has no blank `n`", "its blanks are none"),
    ("assembly pair: blanks size {\n    tee t\n}\npair one: siez 2, size 3", 7, "the assembly pair has no blank `siez`",
     "did you mean size?"),
    ("assembly pair: blanks n {\n    tee <n>\n    fit <m> -> <n>\n}", 4,
     "`<m>` is used inside, and `m` is no blank of this assembly", "add it: blanks n and m"),
    ("assembly pair {\n    tee t\n}\ntee one\npair one", 8, "there are two things called `one`", "give one of them another name"),
    ("assembly pair {\n    tee t\n    port a: is t\n}\npair one\ntube one.b -> one.a: size 1/2 in, length 1 m", 9,
     "the assembly at `one` has no port or part `b`", "its ports are a"),
]


@pytest.mark.parametrize(("rows", "line", "says", "expected"), SLIPS, ids=[slip[2][:60] for slip in SLIPS])
def test_a_slip_with_assemblies_is_told_in_place(tmp_path: Path, rows: str, line: int, says: str, expected: str):
    assert ("main.air", line, says, expected) in refused(tmp_path, main=TRUCK + rows + "\n")


def test_a_blank_without_a_value_is_told(tmp_path: Path):
    found = refused(tmp_path, main=TRUCK + "assembly pair: blanks n {\n    tee <n>\n}\npair one: n\n")
    assert found == [("main.air", 7, "`n` has no value", "write one after it")]


def test_a_used_file_holds_assemblies_only(tmp_path: Path):
    assert refused(tmp_path, main=TRUCK + 'use "parts.air"\n', parts=PAIR + TANK) == [
        ("parts.air", 10, "a used file holds assemblies only, and this is `reservoir`",
         "move it into the design, or into an assembly")]


def test_a_ring_of_files_is_told_with_its_chain(tmp_path: Path):
    found = refused(tmp_path, main=TRUCK + 'use "one.air"\n', one='use "two.air"\n', two='use "one.air"\n')
    assert found == [("two.air", 1, "this file uses itself: one.air uses two.air uses one.air", "remove one `use` of the ring")]


def test_mistakes_of_several_files_come_in_the_order_of_reading(tmp_path: Path):
    found = refused(tmp_path, main=TRUCK + 'use "parts.air"\nrely-valve b\nrelly-valve a\n',
                    parts="assembly x {\n    tee t\n    port a: is\n}\nreservoir t\n")
    assert [(file, line) for file, line, *_ in found if file == "main.air"] == [("main.air", 5), ("main.air", 6)]
    assert [file for file, *_ in found] == sorted([file for file, *_ in found]), "main.air before parts.air"


# --- a base ----------------------------------------------------------------------------------------------------------


def test_a_base_stands_before_what_is_built_on_it(tmp_path: Path):
    base = 'use "parts.air"\nvehicle chassis: class bus\nrules un-r13\naxle front: position 1\npair first: v 5 L, n x\n'
    circuit = loaded(tmp_path, base=base, parts=PAIR,
                     main='vehicle mine: class truck, base "base.air"\nrules us-federal\npair second: v 8 L, n x\n' + TANK)
    assert circuit.vehicle.name == "mine" and circuit.vehicle.vehicle_class == "truck"
    assert circuit.rule_sets == ("us-federal",), "the own rules stand for those of the base"
    assert names(circuit).index("first.a") < names(circuit).index("tank") and "second.a" in names(circuit)
    silent = loaded(tmp_path, base=base, parts=PAIR, main='vehicle mine: class truck, base "base.air"\n' + TANK)
    assert silent.rule_sets == ("un-r13",)


def test_an_own_assembly_stands_for_one_of_the_base(tmp_path: Path):
    base = "vehicle b: class bus\nassembly pot {\n    tee old\n}\naxle front: position 1\n"
    circuit = loaded(tmp_path, base=base, main='vehicle m: class truck, base "base.air"\n'
                     "assembly pot {\n    tee new\n}\npot here\n")
    assert names(circuit) == ["here.new"]


def test_a_base_that_cannot_be_had(tmp_path: Path):
    (mistake,) = refused(tmp_path, main='vehicle m: class truck, base "gone.air"\naxle front: position 1\n')
    assert mistake[:2] == ("main.air", 1) and mistake[2].startswith("`gone.air` cannot be read: ")
    (ring,) = refused(tmp_path, main='vehicle m: class truck, base "main.air"\n')
    assert ring[2:] == ("this file bases itself: main.air bases main.air", "remove one `base` of the ring")


def test_settings_of_a_base_can_be_changed(tmp_path: Path):
    base = "vehicle b: class bus\naxle front: position 1\nreservoir one and two: volume 20 L, rated 10 bar, role service\n"
    circuit = loaded(tmp_path, base=base, main='vehicle m: class truck, base "base.air"\nset two: volume 30 L, rated 9 bar\n')
    one, two = circuit.by_name["one"].settings, circuit.by_name["two"].settings
    assert (one["volume"], two["volume"]) == pytest.approx((0.02, 0.03))
    assert one["rated"] - two["rated"] == pytest.approx(1e5) and two["role"] == "service"
    only = loaded(tmp_path, base=base.replace("one and two", "one"),
                  main='vehicle m: class truck, base "base.air"\nset one: volume 30 L\n')
    assert names(only) == ["one"] and only.by_name["one"].settings["volume"] == pytest.approx(0.03)


def test_setting_what_is_not_there(tmp_path: Path):
    assert refused(tmp_path, main=TRUCK + TANK + "set tnak: volume 3 L\n") == [
        ("main.air", 5, "nothing is called `tnak`", "did you mean tank?")]
    assert refused(tmp_path, main=TRUCK + "set zzz: volume 3 L\n") == [
        ("main.air", 4, "nothing is called `zzz`", "name a part of the design, or a line by its ends")]
    assert ("main.air", 5, "`set` needs the name of a part or the ends of a line",
            "write set rear-cock: state shut, or set foot.21 -> rear-relay.4: length 10 m") in refused(
        tmp_path, main=TRUCK + TANK + "set\n")


# --- combinations ----------------------------------------------------------------------------------------------------

TRACTOR = """vehicle t: class tractor
rules us-federal
axle front: position 1
coupling-head red and blue: line supply, end rear
reservoir tank: volume 20 L, rated 10 bar, role service
tube tank -> red: size 1/2 in, length 1 m
trial own {
    start tank: pressure 5 bar
}
"""
SEMI = """vehicle s: class semi-trailer
axle rear: position 1
coupling-head red: line supply
reservoir tank: volume 30 L, rated 10 bar, role service
tube red -> tank: size 1/2 in, length 1 m
"""
RIG = 'combination rig: title "A rig"\nrules us-federal\nvehicle front: file "tractor.air"\nvehicle back: file "semi.air"\n'


def test_a_combination_has_the_parts_of_its_vehicles_under_their_names(tmp_path: Path):
    circuit = loaded(tmp_path, main=RIG + "couple front.red -> back.red\n", tractor=TRACTOR, semi=SEMI)
    assert circuit.is_combination and circuit.vehicle.title == "A rig" and circuit.vehicle.name == "rig"
    assert {"front.tank", "back.tank", "front.red", "back.red"} <= set(names(circuit))
    assert {name: Path(path).name for name, path in circuit.vehicles.items()} == {"front": "tractor.air", "back": "semi.air"}
    assert [axle.name for axle in circuit.axles] == ["front.front", "back.rear"], "position 1 of each vehicle is its own"
    assert circuit.trials == () and circuit.rule_sets == ("us-federal",)
    assert [coupling.ends for coupling in circuit.couplings] == [("front.red", "back.red")]
    joined = {name: circuit.by_name[name].settings for name in ("front.red", "front.blue", "back.red")}
    assert [settings["joined"] for settings in joined.values()] == [1.0, 0.0, 1.0]
    assert [settings["loose"] for settings in joined.values()] == [0.0, 1.0, 0.0]
    assert circuit.by_name["front.red"].span.source.name.endswith("tractor.air"), "a part stands where it is written"


def test_a_head_alone_on_its_vehicle_is_neither_joined_nor_loose(tmp_path: Path):
    circuit = loaded(tmp_path, main=SEMI + "dummy-coupling cap: on red\n")
    assert [circuit.by_name["red"].settings[word] for word in ("joined", "loose", "capped")] == [0.0, 0.0, 1.0]


COMBINED = [
    ("tee t", 5, "a combination has no parts of its own, and this is `tee`",
     "write it into the file of the vehicle that carries it"),
    ("vehicle third", 5, "a vehicle of a combination has one name and a file", 'write vehicle tractor: file "tractor.air"'),
    ('vehicle back: file "other.air"', 5, "there are two vehicles called `back`", "give one of them another name"),
    ("couple front.red -> back.tank", 5, "`back.tank` is a reservoir, not a coupling head",
     "name a coupling head of each vehicle"),
    ("couple front.red", 5, "`couple` joins two coupling heads", "write couple tractor.supply-head -> semi.supply-head"),
    ("couple front.red -> back.red\ncouple front.red -> back.red", 6, "`front.red` is coupled twice", "a head takes one hose"),
    ("couple front.red -> back.rde", 5, "`back` has no part `rde`", "did you mean back.red?"),
    ("couple front.red -> back.zzzzzz", 5, "`back` has no part `zzzzzz`", "it has red, tank"),
    ("combination second", 5, "this is a second `combination`", "remove one"),
]


@pytest.mark.parametrize(("row", "line", "says", "expected"), COMBINED, ids=[slip[2][:50] for slip in COMBINED])
def test_a_slip_in_a_combination(tmp_path: Path, row: str, line: int, says: str, expected: str):
    found = refused(tmp_path, main=RIG + row + "\n", tractor=TRACTOR, semi=SEMI, other=SEMI)
    assert ("main.air", line, says, expected) in found


def test_a_combination_needs_two_vehicles_and_one_name(tmp_path: Path):
    alone = 'combination rig\nvehicle front: file "tractor.air"\n'
    assert ("main.air", 1, "a combination has two vehicles or more", 'write vehicle tractor: file "tractor.air"') in refused(
        tmp_path, main=alone, tractor=TRACTOR)
    unnamed = RIG.replace("combination rig: title", "combination: title")
    assert refused(tmp_path, main=unnamed, tractor=TRACTOR, semi=SEMI) == [
        ("main.air", 1, "`combination` needs one name", 'write combination rig: title "..."')]
    assert loaded(tmp_path, main=RIG.replace(': title "A rig"', ""), tractor=TRACTOR, semi=SEMI).vehicle.title == "rig"


def test_a_vehicle_that_names_the_combination_is_a_ring(tmp_path: Path):
    found = refused(tmp_path, main=RIG.replace("semi.air", "main.air"), tractor=TRACTOR)
    assert ("main.air", 4, "this file vehicles itself: main.air vehicles main.air", "remove one `vehicle` of the ring") in found
