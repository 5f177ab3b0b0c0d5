"""What names mean across files, assemblies and vehicles: found, and changed everywhere or not at all."""

import pytest

from circuit import pipeline
from circuit.editor import naming
from circuit.editor.desk import Desk
from tests.designs import EXAMPLES, example_names, example_text
from tests.editor.desks import TRUCK, desk_with


def found_at(desk: Desk, path: str, text: str, word: str) -> naming.Use:
    line, row = next((n, row) for n, row in enumerate(desk.source(path).rows) if row.startswith(text))
    use = naming.use_at(desk, path, line, row.index(word) + 1)
    assert use is not None
    return use


def path_of(name: str) -> str:
    return str(EXAMPLES / name / "design.air")


def test_a_part_is_found_where_it_is_written_down_and_wherever_it_is_used():
    desk = desk_with(TRUCK, example_text("truck-6x4"))
    use = found_at(desk, TRUCK, "tube pri -> rear-relay", "rear-relay")
    given = naming.definition(desk, use.symbol)
    assert given is not None and desk.source(TRUCK).row(given.at.start[0] + 1).startswith("relay-valve rear-relay")
    text = example_text("truck-6x4")
    assert len([each for each in naming.uses_in(desk, TRUCK) if each.symbol == use.symbol]) == text.count("rear-relay")


def test_a_rename_reaches_the_rigs_and_leaves_the_same_circuit():
    desk, tractor = Desk(gated=False), path_of("tractor-6x4")
    use = found_at(desk, tractor, "coupling-head supply-head", "supply-head")
    edits = naming.renamed(desk, tractor, use, "emergency-head")
    assert {tractor, path_of("combination-semi")} <= {each.path for each in edits}
    for path in {each.path for each in edits}:
        desk.put(path, naming.applied(desk.source(path), [each for each in edits if each.path == path]))
    for path in {each.path for each in edits}:
        assert desk.known(path).mistakes == ()
    rig = desk.known(path_of("combination-semi")).circuit
    assert "tractor.emergency-head" in rig.by_name and "semi.supply-head" in rig.by_name


def test_axles_blanks_and_ports_of_assemblies_have_their_own_names(tmp_path):
    (tmp_path / "airwright.toml").write_text("", encoding="utf-8")
    (tmp_path / "ends.air").write_text("assembly pair: blanks axle {\n    chamber can: type 20, stroke 2.25 in, axle <axle>, "
                                       "side left\n    port air: is can\n}\n", encoding="utf-8")
    design = tmp_path / "a.air"
    design.write_text('use "ends.air"\nvehicle x: class truck\naxle front: position 1\ntee front-tee\npair one: axle front\n'
                      "tube front-tee -> one.air: size 3/8 in, length 1 m, name feed\n"
                      'waive port-open: at "front-tee", because "a test"\n', encoding="utf-8")
    desk, path = Desk(gated=False), str(design)
    axle = found_at(desk, path, "axle front", "front")
    assert axle.symbol.sort == naming.AXLE and len(naming.uses(desk, axle.symbol, path)) == 2
    blank = found_at(desk, path, "pair one", "axle")
    assert blank.symbol.sort == naming.BLANK and len(naming.uses(desk, blank.symbol, path)) == 3
    port = found_at(desk, path, "tube front-tee", "air")
    assert naming.definition(desk, port.symbol).path == str(tmp_path / "ends.air")
    tee = found_at(desk, path, "tee front-tee", "front-tee")
    edits = naming.renamed(desk, path, tee, "joint")
    assert naming.applied(desk.source(path), edits).count("joint") == 3
    with pytest.raises(naming.CannotRename, match="already"):
        naming.renamed(desk, path, tee, "feed")
    with pytest.raises(naming.CannotRename, match="no name"):
        naming.renamed(desk, path, tee, "two words")


def test_the_library_is_not_changed():
    desk, path = Desk(gated=False), path_of("semitrailer-tandem")
    use = found_at(desk, path, "spring-wheel front-left", "type")
    with pytest.raises(naming.CannotRename, match="library"):
        naming.renamed(desk, path, use, "size")


FEW = ("combination-semi", "semitrailer-tandem", "truck-6x4")
"""Examples that every run looks at; the others are slow ones."""


@pytest.mark.parametrize("name", [name if name in FEW else pytest.param(name, marks=pytest.mark.slow)
                                  for name in example_names()])
def test_every_device_of_an_example_can_be_renamed_by_its_uses(name: str):
    """Each name that a file gives has its place, and every use is a use of something that is given."""
    desk, path = Desk(gated=False), path_of(name)
    uses = naming.uses_in(desk, path)
    assert uses and len({each.at for each in uses}) == len(uses)
    assert all(naming.definition(desk, symbol) for symbol in {each.symbol for each in uses if each.symbol.path == path})
    circuit = pipeline.load(path)
    given = {each.symbol.name for each in uses if each.gives}
    own = {device.name for device in circuit.devices if device.span.via is None and not device.is_line
           and device.span.source.name == path}
    assert own <= given
