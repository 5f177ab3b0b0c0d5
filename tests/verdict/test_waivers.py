"""A waiver accepts one finding, by its rule and its place, and nothing that was put under it or begins like it."""

import re
from pathlib import Path

import pytest

from circuit.mistake import Unreadable
from circuit.pipeline import load_source
from circuit.source import Source
from circuit.verdict.coverage import coverage
from circuit.verdict.judge import Verdict, judge
from tests.designs import EXAMPLES, design_of, example_text, loaded

TRUCK = example_text("truck-6x4")
TURNED = TRUCK.replace("wet -> pri-check.1", "wet -> pri-check.2").replace("tube pri-check.2 -> pri", "tube pri-check.1 -> pri")
SMALL = TRUCK.replace("volume 50 L", "volume 30 L")
MOVING = TRUCK
for _row in ("foot.21 -> rear-relay.4: size 3/8 in", "foot.21 -> lamp-shuttle.11: size 1/4 in",
             "foot.22 -> front-release.1: size 3/8 in", "foot.22 -> sec-tee: size 1/4 in"):
    MOVING = MOVING.replace(_row, f"{_row}, ends moving")


def judged(text: str) -> Verdict:
    return judge(loaded(text))


def waived(text: str, *waivers: str) -> Verdict:
    return judged(text + "".join(f"\nwaive {one}" for one in waivers) + "\n")


def open_ones(verdict: Verdict) -> list[tuple[str, str]]:
    return [(one.rule.name, one.answer.thing) for one in verdict.findings if one.is_open]


def mistakes(text: str) -> list[str]:
    with pytest.raises(Unreadable) as refused:
        loaded(text)
    return [one.says for one in refused.value.mistakes]


def test_what_was_put_under_a_finding_comes_up_when_it_is_accepted() -> None:
    before, after = judged(TURNED), waived(TURNED, 'part-backwards: at pri-check, because "x"')
    (head,) = [one for one in before.findings if one.rule.name == "part-backwards"]
    assert head.follows and not after.is_clean
    rules = {rule for rule, _ in open_ones(after)}
    assert {one.rule.name for one in head.follows} - {"duty-broken"} <= rules | {
        each.rule.name for one in after.findings if one.is_open for each in one.follows}
    assert "part-backwards" not in rules
    accepted = {row.clause.key for row in coverage(after) if row.waived}
    assert not any(key.startswith("us-federal/") for key in accepted), accepted


def test_a_waiver_reaches_no_further_than_its_place() -> None:
    verdict = waived(MOVING, 'tube-where-ends-move: at foot, because "one short jumper"')
    errors = [one for one in verdict.findings if one.is_open and one.severity == "error"]
    assert len(errors) == 4 and not any(one.waiver for one in verdict.findings)
    (idle,) = [one for one in verdict.findings if one.rule.name == "waiver-without-finding"]
    assert 'at "foot.21 -> rear-relay.4"' in idle.answer.remedy


@pytest.mark.parametrize(
    "at", ['"foot.21 -> rear-relay.4"', '"rear-relay.4 -> foot.21"', '"tube  foot.21 ->  rear-relay.4"', "jump"])
def test_a_line_can_be_named_by_its_ends_from_either_side_or_by_its_name(at: str) -> None:
    named = MOVING.replace("foot.21 -> rear-relay.4: ", "foot.21 -> rear-relay.4: name jump, ")
    verdict = waived(named, f'tube-where-ends-move: at {at}, because "a short jumper"')
    assert [one.answer.thing for one in verdict.findings if one.waiver] == ["foot.21 -> rear-relay.4"]
    assert len([one for one in open_ones(verdict) if one[0] == "tube-where-ends-move"]) == 3


@pytest.mark.parametrize("at", ["truck", '"the vehicle"', '"truck"'])
def test_the_vehicle_as_a_whole_can_be_named(at: str) -> None:
    verdict = waived(SMALL, f'reservoirs-too-small: at {at}, because "a yard vehicle"')
    assert ("reservoirs-too-small", "the vehicle") in open_ones(judged(SMALL))
    assert not [one for one in open_ones(verdict) if one[1] == "the vehicle"]


def test_words_that_stand_for_no_single_name_are_told_to_stand_between_quotes() -> None:
    with pytest.raises(Unreadable) as refused:
        loaded(SMALL + 'waive reservoirs-too-small: at the vehicle, because "x"\n')
    assert refused.value.mistakes[0].expected == 'write at "the vehicle"'


@pytest.mark.parametrize("reason", ["", " ", "\u200b", "--", "1234"])
def test_a_reason_has_letters_in_it(reason: str) -> None:
    assert "`because` says nothing" in mistakes(SMALL + f'waive port-open: at pri, because "{reason}"\n')
    assert "`by` says nothing" in mistakes(SMALL + f'waive port-open: at pri, because "x", by "{reason}"\n')


def test_two_waivers_of_one_finding_are_a_mistake() -> None:
    rows = ('waive reservoirs-too-small: at truck, because "one"\n'
            'waive reservoirs-too-small: at "the vehicle", because "two"\n')
    assert mistakes(SMALL + rows) == ["this is a second waiver of reservoirs-too-small at truck"]


def test_a_waiver_ends_with_its_last_day(monkeypatch: pytest.MonkeyPatch) -> None:
    text = 'reservoirs-too-small: at truck, because "until the larger tank comes", until "2026-06-30"'
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1782777600")  # 2026-06-30
    assert not [one for one in open_ones(waived(SMALL, text)) if one[1] == "the vehicle"]
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1782950400")  # 2026-07-02
    late = waived(SMALL, text)
    assert ("reservoirs-too-small", "the vehicle") in open_ones(late)
    (over,) = [one for one in late.findings if one.rule.name == "waiver-without-finding"]
    assert over.severity == "error" and "ended with 2026-06-30" in over.answer.says
    assert "`until soon` is no day of the calendar" in mistakes(SMALL + 'waive port-open: at pri, because "x", until "soon"\n')


@pytest.mark.slow
def test_what_leads_can_be_accepted_and_what_it_healed_stands_again() -> None:
    case = Path(__file__).parent.parent / "rules" / "laid-wrong" / "fail_hose_on_another_axle.case"
    crossed = design_of(case.read_text(encoding="utf-8"))
    before = judged(crossed)
    leading = [one for one in before.findings if one.rule.name == "laid-wrong"]
    thing = leading[0].answer.thing
    verdict = waived(crossed, f'laid-wrong: at "{thing}", because "meant so"')
    again = [one for one in verdict.findings if one.rule.name == "laid-wrong"]
    assert again[0].waiver and not again[0].follows
    assert len(open_ones(verdict)) == len(leading[0].follows) + len(open_ones(before)) - 1
    assert "waiver-without-finding" not in dict(open_ones(verdict))


def test_a_combination_names_its_vehicles_and_their_parts() -> None:
    folder = EXAMPLES / "combination-semi" / "design.air"
    rows = "".join(f'waive port-open: at {place}, because "x"\n' for place in ("tractor", "tractor.pri", "rig", '"the vehicle"'))
    text = folder.read_text(encoding="utf-8")
    name = re.search(r"^combination ([\w-]+)", text, re.M)
    assert name
    found = load_source(Source(str(folder), text + rows.replace("at rig,", f"at {name[1]},").replace(
        'waive port-open: at "the vehicle"', 'waive tail-open: at "the vehicle"')))
    assert [one.at for one in found.waivers] == ["tractor", "tractor.pri", name[1], name[1]]
