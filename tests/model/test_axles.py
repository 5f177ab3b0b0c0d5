"""What an axle declares of brakes that are not drawn, and who counts it."""

from circuit.verdict.compare import compare
from circuit.verdict.judge import judge
from tests.designs import completed, loaded

ROWS = """axle rear: position 2, brakes hydraulic, parks cable
reservoir tank: volume 20 L, rated 10 bar, role service
"""


def test_an_axle_is_air_braked_and_parked_by_what_is_drawn_unless_it_says_so():
    front, rear = loaded(completed(ROWS)).axles
    assert (front.hydraulic, front.by_cable) == (False, False)
    assert (rear.hydraulic, rear.by_cable) == (True, True)


def says(text: str, rule: str) -> list[str]:
    return [j.answer.says for j in judge(loaded(text)).judgements if j.rule.name == rule]


def test_what_is_not_drawn_is_met_as_declared_and_no_more():
    text = "rules us-federal\nvehicle x: class truck\naxle front: position 1, brakes hydraulic, parks cable\n"
    assert set(says(text, "wheel-without-brake")) == {
        "axle front has hydraulic service brakes, as declared; none of them is drawn"}


def test_a_change_of_what_is_declared_is_told():
    old, new = (completed(ROWS.replace(", parks cable", tail)) for tail in ("", ", parks cable"))
    told = [change for change in compare(judge(loaded(old)), judge(loaded(new))).changes if "rear" in str(change)]
    assert told and "parked by a cable" in str(told)
