"""What explains a broken duty stands over it; what somebody accepted, or what weighs less, does not take it away."""

import pytest

from circuit import rules
from circuit.clauses import asking
from circuit.judging.rule import Judgement, not_met
from circuit.verdict.judge import Verdict, explained, judge
from tests.behaviour import played
from tests.designs import example_text, loaded, patched

LIMITED = ["- tube foot.21 -> rear-relay.4", "+ pressure-limiting-valve low: limits-to 3 bar",
           "+ tube foot.21 -> low.1: size 3/8 in, length 4 m", "+ tube low.2 -> rear-relay.4: size 3/8 in, length 4 m"]
"""The drive axles get 3 bar at most."""
FRONT_SHUT = ["- tube foot.22 -> front-release.1", "+ cut-out-cock shut-off: state shut",
              "+ tube foot.22 -> shut-off.1: size 3/8 in, length 1.5 m",
              "+ tube shut-off.2 -> front-release.1: size 3/8 in, length 1.5 m"]


def held(*patches: list[str]) -> Verdict:
    return judge(loaded(patched(example_text("truck-6x4"), [row for patch in patches for row in patch])))


def open_places(verdict: Verdict) -> set[str]:
    return {each.answer.thing for one in verdict.findings if one.is_open for each in (one, *one.follows)}


def test_what_is_accepted_takes_no_other_duty_with_it() -> None:
    """The front axle without brakes is accepted; the drive axles at 3 bar are not."""
    first = next(one for one in held(FRONT_SHUT).findings if one.rule.name == "brake-not-applied")
    waived = [f'+ waive brake-not-applied: at {first.answer.thing}, because "a trial without the front axle"']
    verdict = held(FRONT_SHUT, LIMITED, waived)
    assert [one.rule.name for one in verdict.findings if one.waiver] == ["brake-not-applied"]
    assert not verdict.is_clean and {"d1-left.can", "d1-right.can", "d2-left.can", "d2-right.can"} <= open_places(verdict)


def test_a_waiver_of_a_broken_duty_is_used() -> None:
    waived = [f'+ waive duty-broken: at {place}, because "a trial at 3 bar"'
              for place in ("d1-left.can", "d1-right.can", "d2-left.can", "d2-right.can")]
    verdict = held(LIMITED, waived)
    assert verdict.is_clean and "waiver-without-finding" not in {one.rule.name for one in verdict.findings}


@pytest.mark.parametrize(("severity", "is_accepted", "stands_under"), [
    ("error", False, True), ("warning", False, False), ("note", False, False), ("error", True, False)])
def test_only_what_weighs_as_much_and_is_open_explains(severity: str, is_accepted: bool, stands_under: bool) -> None:
    circuit = loaded(patched(example_text("truck-6x4"), [*LIMITED, '+ waive brake-not-applied: at pri, because "x"']))
    duty = next(each for one in held(LIMITED).findings for each in one.follows if each.answer.known_as == "service-chamber-full")
    (clause,) = [one for one in asking("brake-not-applied") if one.set_name == "good-practice"]
    rule = rules.find("brake-not-applied")
    assert rule is not None and "brake-not-applied" in duty.answer.explained_by
    head = Judgement(rule, clause, not_met("pri", circuit.vehicle.span, "no air", "lead air to it"), severity,
                     waiver=circuit.waivers[0] if is_accepted else None)
    found = explained([head, duty])
    assert [one.rule.name for one in found] == (["brake-not-applied"] if stands_under else ["brake-not-applied", "duty-broken"])
    assert (found[0].follows == (duty,)) is stands_under


def test_a_store_that_is_lost_is_lost_when_it_is_played() -> None:
    found = played(loaded(example_text("truck-6x4")))
    assert found["pri lost, pedal", "d1-left.can service"] < 0.3e5 < 5e5 < found["pri lost, pedal", "front-left service"]
    assert found["sec lost, pedal", "front-left service"] < 0.3e5 < 5e5 < found["sec lost, pedal", "d1-left.can service"]
