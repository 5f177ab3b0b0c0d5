"""A chassis that is changed: lines set, parts taken away, put in and replaced, and what is said where that cannot be."""

from pathlib import Path

import pytest

from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.pipeline import load_source
from circuit.report.sheets.lists import confirmed
from circuit.source import Source
from circuit.verdict.compare import compare
from circuit.verdict.judge import judge
from tests.designs import EXAMPLES

HEAD = 'vehicle tipper: class truck, base "../truck-6x4/design.air"\n'


def derived(rows: str, name: str = "derived.air") -> Circuit:
    return load_source(Source(str(EXAMPLES / "tipper" / name), HEAD + rows))


def refused(rows: str) -> tuple[str, str]:
    """The first sentence and its remedy."""
    with pytest.raises(Unreadable) as caught:
        derived(rows)
    return caught.value.mistakes[0].says, caught.value.mistakes[0].expected


@pytest.mark.parametrize("row", ["set foot.21 -> rear-relay.4: length 10.4 m",
                                 "set rear-relay.control -> foot.delivery-1: length 10.4 m"])
def test_a_line_is_set_by_its_ends_either_way_and_by_any_word_for_a_port(row: str):
    line = derived(row).by_name["foot.21 -> rear-relay.4"]
    assert line.settings["length"] == pytest.approx(10.4) and line.given["size"].text == "3/8 in"
    assert line.given["length"].span is not None and line.given["length"].span.source.name.endswith("derived.air")


def test_a_line_is_set_by_its_own_name():
    found = derived("tube wet -> open.1: size 1/4 in, length 1 m, name spare\ncheck-valve open\nset spare: length 2 m\n"
                    "plug open.2").by_name["wet -> open.1"]
    assert found.settings["length"] == pytest.approx(2)


def test_a_part_put_into_a_line_leaves_two_halves_as_the_line_was():
    circuit = derived("tee t\ncut rear-relay.4 -> foot.21: put-in t, first 1 m, second 8 m\nset foot.21 -> t: size 1/2 in\n"
                      "plug t")
    near, far = circuit.by_name["rear-relay.4 -> t"], circuit.by_name["t -> foot.21"]
    assert (near.settings["length"], far.settings["length"]) == pytest.approx((1, 8))
    assert near.given["size"].text == "3/8 in" and far.given["size"].text == "1/2 in"
    assert "foot.21 -> rear-relay.4" not in circuit.by_name
    assert circuit.space["t", "1"] == circuit.space["rear-relay.4 -> t", "2"]


def test_a_part_of_two_ports_is_put_in_the_way_that_is_written():
    circuit = derived("check-valve c\ncut pri -> foot.11: put-in c.2 and c.1, first 1 m, second 5 m")
    assert circuit.by_name["pri -> c.2"].ends == (("pri", "1"), ("c", "2"))
    assert circuit.by_name["c.1 -> foot.11"].ends == (("c", "1"), ("foot", "11"))


def test_parts_lines_plugs_axles_and_trials_are_taken_away():
    circuit = derived("remove primary-lost and lamp\nremove pri -> modulator.42\nplug modulator.42\nremove modulator.42\n")
    assert [trial.name for trial in circuit.trials] == ["full-application"]
    assert "lamp" not in circuit.by_name and "pri -> modulator.42" not in circuit.by_name and not circuit.plugged


def test_all_that_stands_at_a_place_is_taken_away():
    ends = [f"d2-{side}.{port}" for side in ("left", "right") for port in ("service", "spring")]
    rows = "".join(f"remove {'rear-relay' if end.endswith('service') else 'spring-release'}.2 -> {end}\n" for end in ends)
    circuit = derived(rows + "remove d2-left and d2-right and full-application and drive-2\n"
                      "set primary and parking: axles drive-1\nset rear-relay: deliveries 3\nset spring-release: deliveries 2\n")
    assert not [name for name in circuit.by_name if name.startswith("d2-")] and "d1-left.can" in circuit.by_name
    assert [axle.name for axle in circuit.axles] == ["front", "drive-1"]


def test_a_part_is_replaced_and_its_lines_go_to_the_ports_that_mean_the_same():
    circuit = derived("replace rear-relay: by antilock-relay, deliveries 5\n"
                      "replace front-left: by chamber, type 16, stroke 2.25 in")
    relay, front = circuit.by_name["rear-relay"], circuit.by_name["front-left"]
    assert relay.kind.name == "antilock-relay" and circuit.used["rear-relay", "4"] == 1 and circuit.used["rear-relay", "2"] == 5
    assert "opens-at" not in relay.given or relay.given["opens-at"].assumed  # of the old part, not of the new one
    assert front.settings["type"] == "16" and front.settings["axle"] == "front" and front.settings["side"] == "left"


@pytest.mark.parametrize("rows, says, expected", [
    ("set us-federal: x 1", "a row of `rules` reads no settings, so `set` changes nothing of it",
     "set what a part, a line, an axle or a circuit reads"),
    ("set full-application: lenght 10 m", "a row of `trial` reads no settings, so `set` changes nothing of it",
     "set what a part, a line, an axle or a circuit reads"),
    ("set foot.21 -> rear-relay.4: lenght 10 m", "tube has no setting `lenght`", "did you mean length?"),
    ("set foot.21 -> front-release.1: length 1 m", "no line joins foot.21 and front-release.1",
     "the lines at these ports are foot.21 -> lamp-shuttle.11; foot.21 -> rear-relay.4; foot.22 -> front-release.1"),
    ("set foot.21 -> rare-relay.4: length 1 m", "nothing is called `rare-relay`", "did you mean rear-relay?"),
    ("remove foot.21 -> rear-relay.4\nset foot.21 -> rear-relay.4: length 1 m",
     "no line joins foot.21 and rear-relay.4 any more",
     "the lines at these ports are foot.21 -> lamp-shuttle.11"),
    ("remove lamp\nremove lamp", "`lamp` is not there any more", "remove this row, or the one that took it away"),
    ("remove d1-left.can: side left", "remove has no setting `side`", "it takes no settings"),
    ("set d1-left: type 24/24", "`d1-left` is a place of an assembly", "name what is in it: d1-left.can"),
    ("remove sec-tee", "`sec-tee` is taken away, and this row still names it", "remove or change this row as well"),
    ("cut foot.21 -> rear-relay.4: put-in t",
     "cut needs `first`: what is left of the line from the end written first up to the part",
     "add `first` and a length, as in "),
    ("cut wet: put-in lamp, first 1 m, second 1 m", "a line is cut, and this is a reservoir", "write the ends of a line"),
    ("replace rear-relay", "replace needs `by`: the kind that comes in its place", "write replace rear-relay: by relay-valve"),
    ("replace rear-relay: by rely-valve", "no kind is called `rely-valve`", "did you mean relay-valve?"),
    ("confirm pri: volume 40 L, by \"A\", when \"2026-11-28\", from \"plate\"", "the design writes another `volume`",
     "confirm what is written, or change it with `set` first"),
    ("confirm pri: volume 50 L, by \"A\", when \"soon\", from \"plate\"", "`when soon` is no day of the calendar", "write year"),
    ("confirm pri: by \"A\", when \"2026-11-28\", from \"plate\"", "`confirm` needs a part and a value",
     "write confirm front-left"),
    ("confirm pri: volume 50 L, by \"A\", when \"2026-11-28\"", "confirm needs `from`: what from: the data of the part's maker, "
     "a measurement, a plate", "add `from`"),
    ("set gov: cut-out 125 bar", "cut-out 125 bar is about ten times what is usual: psi meant?", "write 125 psi if so"),
    ("set gov: cut-in 80 bar", "cut-in 80 bar is about ten times what is usual: psi meant?", "write 80 psi if so"),
    ("set gov: cut-in 7.2 psi", "cut-in 7.2 psi is about a tenth of what is usual: bar meant?", "write 7.2 bar if so"),
    ("relay r", "no kind is called `relay`", "did you mean relay-valve or "),
    ("QRV q", "no kind is called `QRV`", "did you mean quick-release-valve?"),
    ("replace rear-relay: by check-valve", "rear-relay.4 (control) is in use, and a check-valve has no port that means the same",
     "remove what is there, and lead it to one of 1, 2"),
])
def test_what_cannot_be_done_says_why_and_what_to_do(rows: str, says: str, expected: str):
    found, remedy = refused(rows)
    assert found == says
    assert remedy.startswith(expected)


ROD = 'by "A. Fitter", when "2026-11-28", from "rod measured at 90 psi"'


def test_a_confirmed_value_is_assumed_no_longer_and_stays_in_the_papers():
    before, after = derived(""), derived(f"confirm front-left: working-stroke 1.4 in, {ROD}\n")
    assert ("front-left", "working-stroke") in {(device.name, name) for device, name, _ in before.assumed}
    assert ("front-left", "working-stroke") not in {(device.name, name) for device, name, _ in after.assumed}
    given = after.by_name["front-left"].given["working-stroke"]
    assert given.is_confirmed and given.text == "1.4 in" and not confirmed(before).rows
    assert confirmed(after).rows == (
        ("front-left", "working-stroke", "1.4 in", "A. Fitter, 2026-11-28, from rod measured at 90 psi"),)


def test_a_written_value_is_confirmed_as_written_and_a_later_change_takes_that_back():
    row = f"confirm pri: volume 50 L, {ROD}\n"
    assert derived(row).by_name["pri"].given["volume"].is_confirmed
    assert not derived(row + "set pri: volume 60 L\n").by_name["pri"].given["volume"].is_confirmed


def test_a_finding_shows_the_row_in_force_beside_the_one_that_was_written_first():
    verdict = judge(derived("set pri: volume 10 L"))
    (finding,) = [each for each in verdict.findings if each.rule.name == "reservoirs-too-small"]
    rows = {(span.source.row(span.line), what) for span, what in finding.answer.also}
    assert ("set pri: volume 10 L", "changed by this row") in rows


def test_compare_with_the_base_speaks_of_added_taken_lengthened_and_cut():
    base = judge(derived(""))
    found = compare(base, judge(derived("set foot.21 -> rear-relay.4: length 10.4 m\nremove lamp\ntee t\nplug t\n"
                                        "cut pri -> foot.11: put-in t, first 2 m, second 4 m\nset pri: volume 49 L")))
    told = {(change.what, change.says) for change in found.changes}
    assert ("cut", "tube pri -> foot.11 is cut for t: 6 m before, 2 m and 4 m now") in told
    assert ("removed", "stop-lamp-switch lamp is gone") in told and ("added", "tee t is new") in told
    (longer,) = [change for change in found.changes if change.what == "lengthened"]
    assert longer.says.endswith(": 8 m before, 10.4 m now") and longer.line == 2 and not longer.row_file


def test_a_changed_chassis_slides_underneath(tmp_path: Path):
    """The next version of the chassis: another part, a longer line, its rows in another order. The tipper is the same file."""
    (tmp_path / "truck-6x4").mkdir()
    (tmp_path / "tipper").mkdir()
    chassis = (EXAMPLES / "truck-6x4" / "design.air").read_text(encoding="utf-8")
    feed = "tube pri -> rear-relay.1: size 5/8 in, length "
    later = chassis.replace(f"{feed}0.8 m", f"{feed}1.1 m")
    later = "# version 2\n\n" + later.replace("type 20, stroke 2.25 in, axle front", "type 24, stroke 2.25 in, axle front")
    (tmp_path / "truck-6x4" / "design.air").write_text(later, encoding="utf-8")
    own = (EXAMPLES / "tipper" / "tipper.air").read_text(encoding="utf-8")
    circuit = load_source(Source(str(tmp_path / "tipper" / "tipper.air"), own), str(tmp_path))
    assert circuit.by_name["front-left"].settings["type"] == "24"
    assert circuit.by_name["pri -> rear-relay.1"].settings["length"] == 1.1
    assert circuit.by_name["foot.21 -> signal-tee"].settings["length"] == pytest.approx(9.9)
    assert not [each for each in judge(circuit).findings if each.severity == "error"]
