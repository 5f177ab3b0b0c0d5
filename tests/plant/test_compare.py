"""`airwright compare`: two versions matched by names, what changed said once, and worse only when a finding is new."""

import json
import re
from itertools import islice

import jsonschema
import pytest

from circuit.cli import main
from circuit.pipeline import judged, load_source
from circuit.plant.bed import Bed
from circuit.plant.operators import OPERATORS
from circuit.plant.planting import plantings
from circuit.report import changes
from circuit.verdict.compare import Change, Comparison, compare
from circuit.source import Source
from circuit.verdict.judge import judge
from tests.designs import EXAMPLES, example_names, example_text, patched, sampled

TRUCK = example_text("truck-6x4")


def compared(before: str, after: str, name: str = "truck-6x4") -> Comparison:
    """The comparison of two texts that stand where an example does."""
    path = EXAMPLES / name
    return compare(*(judged(load_source(Source(str(path / word), text)))
                     for word, text in (("old.air", before), ("new.air", after))))


def patch(*rows: str, name: str = "truck-6x4") -> Comparison:
    """An example against itself with a patch."""
    return compared(example_text(name), patched(example_text(name), list(rows)), name)


SCHEMA = changes.schema()
VALID = jsonschema.Draft202012Validator(SCHEMA)


def says(found: Comparison, what: str) -> list[str]:
    return [change.says for change in found.changes if change.what == what]


@pytest.mark.parametrize("name", sampled(example_names(), 6))
def test_a_design_is_as_it_was(name: str):
    found = compared(example_text(name), example_text(name), name)
    assert found.changes == () and found.outcomes == () and not found.is_worse


def test_order_remarks_spacing_and_units_are_no_change():
    rows = TRUCK.split("\n")
    start, end = rows.index("reservoir wet: volume 20 L, rated 10.3 bar, role supply"), 44
    moved = rows[:start] + list(reversed(rows[start:end])) + rows[end:]
    text = "\n".join(["# a new remark", "", *moved]).replace("volume 50 L", "volume   0.05 m3").replace(
        "opens-at 10.3 bar", "opens-at 1030 kPa")
    assert text != TRUCK
    found = compared(TRUCK, text)
    assert found.changes == () and found.outcomes == ()


def test_ends_of_a_line_written_the_other_way_round_or_by_words_are_no_change():
    found = patch("- tube pri -> rear-relay.1", "+ tube rear-relay.supply -> pri: size 5/8 in, length 0.8 m")
    assert found.changes == ()


def test_a_setting_shows_both_values_and_what_follows_in_volumes_and_margins():
    found = patch("- reservoir pri", "+ reservoir pri: volume 45 L, rated 10.3 bar, role service")
    assert says(found, "set") == ["pri: volume was 50 L and is 45 L"]
    assert "reservoirs to chambers of the vehicle: 13.41 before, 12.76 now" in says(found, "ratio")
    margins = [o.says for o in found.outcomes if o.what == "margin" and o.rule == "reservoirs-too-small"]
    assert len(margins) == 1 and "10.76 L) to spare before" in margins[0] and "5.76 L) now" in margins[0]
    assert not found.is_worse and {o.what for o in found.outcomes} == {"margin"}


def test_a_setting_that_is_left_out_is_shown_as_assumed():
    found = patch("- check-valve pri-check and sec-check", "+ check-valve pri-check: opens-at 0.2 bar",
                  "+ check-valve sec-check")
    assert says(found, "set") == ["pri-check: opens-at was 0.1 bar and is 0.2 bar"]


def test_parts_and_lines_added_removed_replaced_and_led_elsewhere():
    found = patch("- gauge sec-gauge", "- tube pri -> modulator.42",
                  "+ tube sec -> modulator.42: size 1/4 in, length 1 m",
                  "- quick-release-valve front-release", "+ relay-valve front-release: deliveries 2",
                  "- tube foot.22 -> front-release.1", "+ tube foot.22 -> front-release.4: size 3/8 in, length 3 m",
                  "+ tube sec -> front-release.1: size 1/2 in, length 2 m")
    assert says(found, "removed") == ["gauge sec-gauge is gone"]
    assert says(found, "replaced") == ["front-release was a quick-release-valve and is a relay-valve"]
    assert set(says(found, "re-routed")) == {"the tube on modulator.42 led to pri and leads to sec",
                                             "the tube on foot.22 led to front-release.1 and leads to front-release.4"}
    assert says(found, "added") == ["tube sec -> front-release.1 is new"]
    assert {(o.what, o.rule) for o in found.outcomes if o.what == "new"} == {
        ("new", "no-pressure-gauge"), ("new", "modulating-valve-senses-wrong")}
    assert found.is_worse


def test_a_plug_and_a_declaration():
    found = patch("+ plug rear-relay.3", "- circuit secondary", "+ circuit secondary: reservoirs pri, axles front")
    assert says(found, "added") == ["rear-relay.3 is plugged"]
    assert says(found, "declared") == ["circuit secondary is another: was service, reservoirs sec, axles front, is "
                                       "service, reservoirs pri, axles front"]


def test_new_names_for_parts_that_hang_together_are_said_once_each():
    text = re.sub(r"\bsec\b", "second", TRUCK)
    found = compared(TRUCK, text)
    assert {change.what for change in found.changes} == {"renamed"}
    assert ("sec", "second") in {(change.before, change.after) for change in found.changes}
    assert found.outcomes == () and not found.is_worse


def test_two_parts_that_could_be_meant_are_not_guessed_at():
    text = TRUCK + "gauge one: on pri, reads-to 5 bar\n"
    renamed = TRUCK + "gauge two: on pri, reads-to 5 bar\ngauge three: on pri, reads-to 5 bar\n"
    found = compared(text, renamed)
    assert says(found, "renamed") == [] and len(says(found, "added")) == 2 and len(says(found, "removed")) == 1


def test_a_finding_new_gone_accepted_and_open_again():
    bare = TRUCK.replace("drain pri-drain: on pri, placed lowest\n", "").replace("    open pri-drain: at 0 s\n", "")
    waived = bare + 'waive reservoir-without-drain: at pri, because "drained at the valve below it"\n'
    outcomes = {(one, other): [(o.what, o.rule) for o in compared(before, after).outcomes if o.what != "margin"]
                for one, before in (("good", TRUCK), ("bare", bare), ("waived", waived))
                for other, after in (("good", TRUCK), ("bare", bare), ("waived", waived)) if before != after}
    rule = "reservoir-without-drain"
    assert outcomes["good", "bare"] == [("new", rule)] and outcomes["bare", "good"] == [("gone", rule)]
    assert outcomes["bare", "waived"] == [("accepted", rule)] and outcomes["waived", "bare"] == [("new", rule)]
    assert outcomes["good", "waived"] == [("accepted", rule)] and outcomes["waived", "good"] == [("gone", rule)]
    assert compared(TRUCK, bare).is_worse and compared(waived, bare).is_worse
    assert not compared(bare, TRUCK).has_more and not compared(TRUCK, waived).has_more
    assert [one.what for one in compared(bare, TRUCK).dropped] == ["trial"], "its trial opens the drain"


def test_what_follows_from_a_new_finding_is_told_with_it():
    found = patch("- tube wet -> pri-check.1", "+ tube wet -> pri-check.2: size 1/2 in, length 0.3 m",
                  "- tube pri-check.2 -> pri", "+ tube pri-check.1 -> pri: size 1/2 in, length 1 m")
    new = [o for o in found.outcomes if o.what == "new"]
    assert [o.rule for o in new] == ["part-backwards"] and "; with it " in new[0].says
    assert "reservoir-not-filled at pri" in new[0].says


@pytest.mark.parametrize("name", sampled(("semitrailer-tandem", "truck-6x4"), 1))
def test_every_planted_mistake_is_a_change_and_a_finding_more_is_worse(name: str):
    bed = Bed(load_source(Source(str(EXAMPLES / name / "design.air"), example_text(name))))
    good, worse = judge(bed.circuit), 0
    for planting in islice(plantings(bed, OPERATORS, 11), 16):
        spoilt = judge(planting.circuit)
        there, back = compare(good, spoilt), compare(spoilt, good)
        assert there.changes and back.changes, planting.says
        assert there.has_more == any(j.is_open for j in spoilt.judgements)
        assert not back.has_more
        for found in (there, back):
            VALID.validate(json.loads(changes.document(found)))
        worse += there.has_more
    assert worse > 10


@pytest.mark.slow
def test_vehicles_of_a_combination_are_compared_too():
    train = example_text("combination-train")
    other = train.replace("../semitrailer-single/design.air", "../semitrailer-tandem/design.air")
    found = compared(train, other, "combination-train")
    assert {name for name, own in found.vehicles if own.changes} == {"semi"}
    VALID.validate(json.loads(changes.document(found)))
    shut = compared(train, train + "set dolly.supply-cock: state shut\n", "combination-train")
    assert says(shut, "set") == ["dolly.supply-cock: state was open and is shut"] and shut.is_worse


def test_the_command_tells_a_reviewer_and_a_program_the_same(tmp_path, capsys):
    old, new = tmp_path / "old.air", tmp_path / "new.air"
    old.write_text(TRUCK, encoding="utf-8")
    new.write_text(TRUCK.replace("gauge sec-gauge: on sec, reads-to 12 bar\n", ""), encoding="utf-8")
    assert main(["compare", str(old), str(new)]) == 1
    text = capsys.readouterr().out
    assert "gauge sec-gauge is gone" in text and "1 new finding, 0 gone" in text and "no-pressure-gauge" in text
    assert main(["compare", str(new), str(old)]) == 0
    assert "Met now" in capsys.readouterr().out
    assert main(["compare", str(old), str(new), "--format", "json"]) == 1
    told = json.loads(capsys.readouterr().out)
    VALID.validate(told)
    assert told["worse"] is True and told["changes"][0]["what"] == "removed"
    assert set(told["changes"][0]) == set(Change._fields)
    assert [o["rule"] for o in told["outcomes"] if o["what"] == "new"] == ["no-pressure-gauge"]
    assert main(["compare", str(old), str(old)]) == 0
    assert "0 changes, no finding more" in capsys.readouterr().out


def test_the_schema_knows_every_word_and_refuses_others():
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    known = {name: set(SCHEMA["$defs"][record]["properties"]["what"]["enum"])
             for name, record in (("changes", "ChangeTold"), ("outcomes", "OutcomeTold"))}
    assert known["changes"] == {word for _, words in changes._DESIGN for word in words}
    assert known["outcomes"] == {word for _, words in changes._RESULTS for word in words}
    good = json.loads(changes.document(patch("- gauge sec-gauge: on sec, reads-to 12 bar")))
    for spoil in ({"worse": "no"}, {"old": 1}, {"changes": [{**good["changes"][0], "what": "mended"}]},
                  {"outcomes": [{**good["outcomes"][0], "line": "x"}]}, {"more": 1}):
        assert VALID.is_valid(good) and not VALID.is_valid({**good, **spoil})


def test_rules_can_be_chosen_and_what_cannot_be_read_is_said(tmp_path, capsys):
    old = str(EXAMPLES / "truck-europe" / "design.air")
    new = tmp_path / "new.air"
    text = example_text("truck-europe").replace(
        "tube park-tank -> park-check.1: size 12x1.5", "tube park-tank -> park-check.1: size 15x1.5")
    new.write_text(text, encoding="utf-8")
    assert main(["compare", old, str(new)]) == 0
    assert main(["compare", old, str(new), "--rules", "us-federal"]) == 1
    assert main(["compare", old, str(new), "--rules", "nobody"]) == 2
    (tmp_path / "broken.air").write_text("vehicle x\n", encoding="utf-8")
    assert main(["compare", str(tmp_path / "broken.air"), str(tmp_path / "none.air")]) == 2
    err = capsys.readouterr().err
    assert "broken.air:1:1" in err and "there is no file" in err
