"""One mistake is one finding: every row of a good design left out, ports exchanged, every exhaust plugged.

Not each of them is a mistake that a drawing can show; but none may give two findings that stand side by side.
"""

import pytest

from circuit.declaring.traits import Role
from circuit.mistake import Unreadable
from circuit.model.devices import SPACE_OUTSIDE
from circuit.verdict.judge import judge
from tests.designs import example_text, findings_of, loaded, open_findings

DESIGNS = ("truck-6x4", "semitrailer-tandem", "teaching-board")
SAYS_NOTHING = ("vehicle", "rules", "use", "circuit", "#", "trial")
"""Begins of rows that are no part of the plumbing."""


def plumbing(text: str) -> list[int]:
    """The numbers, from 0, of the rows that draw something; a trial's block is none of them."""
    found, inside = [], False
    for number, row in enumerate(text.split("\n")):
        inside = inside or row.startswith("trial")
        if row.strip() and not inside and not row.startswith(SAYS_NOTHING):
            found.append(number)
        if row.startswith("}"):
            inside = False
    return found


@pytest.mark.parametrize("name", [
    pytest.param(name, marks=pytest.mark.slow if name == "truck-6x4" else ()) for name in DESIGNS])
def test_a_row_left_out_is_one_finding(name: str):
    text = example_text(name)
    rows, before = text.split("\n"), findings_of(text)
    judged = 0
    for number in plumbing(text):
        left = "\n".join([*rows[:number], "", *rows[number + 1:]])
        try:
            found = findings_of(left)
        except Unreadable:
            continue  # what the row drew is named by other rows, and they say so
        judged += 1
        further = [finding for finding in found if finding not in before]
        assert len(further) == 1, f"without {rows[number]}: {further}"
    assert judged > 15


@pytest.mark.parametrize("name", DESIGNS)
def test_two_ports_exchanged_are_one_finding_that_names_the_part(name: str):
    circuit = loaded(example_text(name))
    before = open_findings(judge(circuit))
    seen = 0
    for device in circuit.devices:
        for one, other in device.kind.turns:
            keys = [(device.name, port.number) for word in (one, other) if (port := device.kind.port(word))]
            found = [j for j in judge(circuit.exchanged(keys[0], keys[1])).judgements if j.is_open
                     and (j.answer.at.outermost.line, j.rule.name) not in before]
            assert len(found) <= 1, (keys, [j.answer.says for j in found])
            if found:
                assert device.name in found[0].answer.says or found[0].answer.thing == device.name
                seen += 1
            else:
                assert device.kind.port(one).role is Role.SUPPLY and device.kind.port(other).role is Role.CONTROL
    assert seen > 3


@pytest.mark.parametrize("name", DESIGNS)
def test_an_exhaust_plugged_is_one_finding_at_the_plug(name: str):
    text = example_text(name)
    circuit = loaded(text)
    before, last = findings_of(text), text.count("\n") + 1
    plugged = 0
    for device, port in circuit.ports():
        if port.role is Role.EXHAUST and circuit.space[device.name, port.number] == SPACE_OUTSIDE:
            assert findings_of(f"{text}plug {device.name}.{port.number}\n") == [*before, (last, "exhaust-blocked")]
            plugged += 1
    assert plugged > 3
