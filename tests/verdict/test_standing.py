"""A design with mistakes: rules speak for what hangs on none of them, and for the rest say that it is not decided."""

import pytest

from circuit import pipeline
from circuit.judging.rule import Result
from circuit.source import Source
from circuit.verdict import standing
from tests.designs import EXAMPLES, example_text


def known_of(name: str, old: str = "", new: str = "", text: str = ""):
    text = text or example_text(name)
    if old:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return pipeline.as_far(Source(str(EXAMPLES / name / "design.air"), text))


def results(verdict) -> dict[tuple[str, str], Result]:
    return {(j.rule.name, j.answer.thing): j.result for one in verdict.judgements for j in (one, *one.follows)}


def test_a_sound_design_has_nothing_unknown():
    known = known_of("teaching-board")
    assert known.mistakes == () and known.circuit is not None and known.unknown.is_nothing
    whole, partly = pipeline.judged(known.circuit), pipeline.standing(known)
    assert {key for key, r in results(partly).items() if r is Result.NOT_MET} == \
        {key for key, r in results(whole).items() if r is Result.NOT_MET}


def test_a_figure_that_is_half_written_leaves_all_but_its_own_part():
    known = known_of("teaching-board", "reservoir dry: volume 46 L", "reservoir dry: volume 46")
    assert [mistake.at.line for mistake in known.mistakes] == [19]
    found = results(pipeline.standing(known))
    whole = results(pipeline.judged(known_of("teaching-board").circuit))
    assert found["circuits-not-separate", "dry"] is whole["circuits-not-separate", "dry"] is Result.NOT_MET
    gone = {key for key, r in whole.items() if r is not Result.UNDECIDED and found[key] is Result.UNDECIDED}
    assert gone == {("reservoirs-too-small", "the vehicle"), ("reserve-too-small", "dry")}


def test_what_hangs_on_a_lost_line_is_not_decided_and_nothing_is_made_up():
    row = next(row for row in example_text("truck-6x4").split("\n") if row.startswith("tube wet ->"))
    known = known_of("truck-6x4", row, row.split(":")[0].partition("->")[0] + "->")
    verdict = pipeline.standing(known)
    assert known.mistakes and verdict is not None
    found = results(verdict)
    whole = results(pipeline.judged(known_of("truck-6x4").circuit))
    assert not [key for key, r in found.items() if r is Result.NOT_MET and whole.get(key) is not Result.NOT_MET]
    assert sum(r is Result.UNDECIDED for r in found.values()) > sum(r is Result.UNDECIDED for r in whole.values())
    assert sum(r is Result.MET for r in found.values()) > len(whole) / 3
    rows = {mistake.at.line for mistake in known.mistakes}
    hanging = [j.answer.missing for j in verdict.judgements if j.answer.missing.startswith("what row")]
    assert hanging and set(hanging) == {f"what row {rows.pop()} means"}


def test_a_real_fault_still_speaks_beside_a_mistake_in_a_trial():
    known = known_of("teaching-board", "circuit service:", "trial t {\n    prss foot: at 0 s\n}\ncircuit service:")
    assert known.unknown.is_nothing and len(known.mistakes) == 1
    assert results(pipeline.standing(known)) == results(pipeline.judged(known_of("teaching-board").circuit))


@pytest.mark.parametrize("name", ["truck-6x4", "city-bus", "semitrailer-tandem"])
@pytest.mark.parametrize("opened", ["trial t {", "assembly x: blanks side {"])
def test_a_block_that_is_opened_in_mid_file_is_few_mistakes(name: str, opened: str):
    rows = example_text(name).split("\n")
    for at in (20, len(rows) // 2, 3 * len(rows) // 4):
        known = known_of(name, text="\n".join((*rows[:at], opened, *rows[at:])))
        assert 1 <= len(known.mistakes) <= 5, [m.says for m in known.mistakes]


def test_a_damaged_declaring_row_is_told_once():
    text = example_text("truck-6x4").replace("relay-valve rear-relay:", "relay-valve rearrelay:")
    assert "rearrelay" in text
    known = known_of("truck-6x4", text=text)
    (mistake,) = known.mistakes
    assert "nothing is called `rear-relay`, here and at" in mistake.says and "rearrelay" in mistake.expected
    assert mistake.other is not None and mistake.other[1] == "the next of them"


def test_a_row_that_does_not_parse_still_gives_part_and_line():
    known = known_of("truck-6x4", "relay-valve rear-relay:", "relay-valve rear-relay; ")
    assert "rear-relay" in known.circuit.by_name and "rear-relay" in known.unknown.things
    assert len(known.mistakes) == 1
    line = next(row for row in example_text("truck-6x4").split("\n") if row.startswith("hose rear-relay.2 ->"))
    known = known_of("truck-6x4", line, line.replace(":", " :: "))
    assert len(known.mistakes) == 1 and any(" -> " in name for name in known.unknown.things)


def test_a_vehicle_of_unknown_class_leaves_what_holds_for_any():
    text = example_text("truck-6x4")
    row = next(row for row in text.split("\n") if row.startswith("vehicle "))
    known = known_of("truck-6x4", row, "vehicle truck: clas")
    assert known.unknown.is_class_lost
    assert any(j.result is Result.MET for j in pipeline.standing(known).judgements)


def test_a_mistake_in_one_vehicle_leaves_the_rig(tmp_path):
    (tmp_path / "airwright.toml").write_text("", encoding="utf-8")
    for name in ("combination-semi", "tractor-6x4", "semitrailer-tandem"):
        (tmp_path / name).mkdir()
        for path in (EXAMPLES / name).glob("*.air"):
            (tmp_path / name / path.name).write_text(path.read_text(encoding="utf-8"), encoding="utf-8")
    broken = tmp_path / "tractor-6x4" / "design.air"
    text = broken.read_text(encoding="utf-8")
    assert text.count("governor gov: ") == 1
    broken.write_text(text.replace("governor gov: ", "governor gov: cut "), encoding="utf-8")
    design = tmp_path / "combination-semi" / "design.air"
    known = pipeline.as_far(pipeline.opened(str(design)))
    verdict = pipeline.standing(known)
    assert known.mistakes and verdict is not None and len(verdict.vehicles) == 2
    assert any(j.result is Result.MET for j in verdict.judgements)


def test_rules_do_not_fall_over_what_stands_in(monkeypatch):
    fallen = set()
    asked = standing._said

    def watched(every, evidence):
        said, fell = asked(every, evidence)
        fallen.update(fell)
        return said, fell

    monkeypatch.setattr(standing, "_said", watched)
    rows = example_text("semitrailer-single").split("\n")
    for at, row in enumerate(rows):
        if row.strip() and not row.startswith(("#", " ", "}")):
            known = known_of("semitrailer-single", text="\n".join((*rows[:at], row[:max(3, len(row) // 2)], *rows[at + 1:])))
            pipeline.standing(known)
    assert not fallen


def test_a_rule_that_a_partial_circuit_is_beyond_says_that_it_is_not_decided(monkeypatch):
    asked = standing._asked

    def falls(evidence, limits):
        raise KeyError("volume")

    def with_one_that_falls(circuit, names):
        return [(rule._replace(check=falls) if rule.name == "reservoir-not-filled" else rule, clauses)
                for rule, clauses in asked(circuit, names)]

    monkeypatch.setattr(standing, "_asked", with_one_that_falls)
    known = known_of("teaching-board", "reservoir dry: volume 46 L", "reservoir dry: volume 46")
    (one,) = [j for j in pipeline.standing(known).judgements if j.rule.name == "reservoir-not-filled"]
    assert one.result is Result.UNDECIDED and one.answer.missing == "what row 19 means" and one.answer.thing == "board"
