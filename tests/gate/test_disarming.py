"""Edits that make a check greener without mending anything: each fails, by itself or beside what was there before."""

from functools import cache

import pytest

from circuit.gate.governed import less
from circuit.pipeline import load_source
from circuit.source import Source
from circuit.verdict.compare import compare
from circuit.verdict.demands import asked, dropped
from circuit.verdict.judge import Verdict, judge
from tests.designs import EXAMPLES, example_text

TRUCK, BOARD = example_text("truck-6x4"), example_text("teaching-board")
CIRCUITS = [row + "\n" for row in TRUCK.split("\n") if row.startswith("circuit ")]
TRIALS = TRUCK[TRUCK.index("trial "):]
FULL = TRIALS[TRIALS.index("trial full-application"):].split("\n}\n")[0] + "\n}\n"
TOWING = example_text("truck-towing")
TURNED = TRUCK.replace("wet -> pri-check.1", "wet -> pri-check.2").replace("tube pri-check.2 -> pri", "tube pri-check.1 -> pri")


def without(text: str, *rows: str) -> str:
    for row in rows:
        assert row in text, row
        text = text.replace(row, "")
    return text


def instead(text: str, old: str, new: str) -> str:
    assert old in text, old
    return text.replace(old, new, 1)


LESS = {
    "the rules deleted": (BOARD, without(BOARD, "rules us-federal\n")),
    "milder rules": (BOARD, instead(BOARD, "rules us-federal", "rules un-r13")),
    "another class": (TRUCK, instead(TRUCK, "class truck", "class full-trailer")),
    "a tractor": (TRUCK, instead(TRUCK, "class truck", "class tractor")),
    "all circuits gone": (TRUCK, without(TRUCK, *CIRCUITS)),
    "one circuit gone": (TRUCK, without(TRUCK, CIRCUITS[0])),
    "another circuit gone": (TRUCK, without(TRUCK, CIRCUITS[1])),
    "a circuit's axles fewer": (TRUCK, instead(TRUCK, "axles drive-1 and drive-2", "axles drive-1")),
    "a body that lifts": (TOWING, instead(TOWING, "class truck", "class truck, body auto-transporter")),
    "a year that lifts": (TRUCK, instead(TRUCK, "class truck", "class truck, built 1960")),
    "a trial gone": (TRUCK, without(TRUCK, FULL)),
    "every trial gone": (TRUCK, without(TRUCK, TRIALS)),
    "cut off before the last trial": (TRUCK, TRUCK[:TRUCK.rindex("trial ")]),
    "more time": (TRUCK, instead(TRUCK, "within 0.45 s", "within 0.9 s")),
    "no time": (TRUCK, instead(TRUCK, ", within 0.45 s", "")),
    "a lower pressure": (TRUCK, instead(TRUCK, "pressure at least 60 psi", "pressure at least 6 psi")),
    "the other bound": (TRUCK, instead(TRUCK, "pressure at least 60 psi", "pressure at most 60 psi")),
    "a trial under another name": (TRUCK, instead(instead(TRUCK, "trial full-application", "trial full"), "0.45 s", "9 s")),
}


@cache
def judged(text: str) -> Verdict:
    return judge(load_source(Source(str(EXAMPLES / "case.air"), text)))


@pytest.mark.parametrize("what", LESS)
def test_what_is_not_asked_any_more_fails(what: str) -> None:
    before, after = LESS[what]
    old, new = (load_source(Source(str(EXAMPLES / "case.air"), text)) for text in (before, after))
    found = dropped(asked(old, old.rule_sets), asked(new, new.rule_sets))
    assert found and all(one.says and one.name for one in found)
    assert not dropped(asked(old, old.rule_sets), asked(old, old.rule_sets))


def test_both_commands_fail_for_it() -> None:
    held = instead(BOARD, "rules us-federal", "rules un-r13")
    before, after = judged(held), judged(without(held, "rules un-r13\n"))
    found = compare(before, after)
    assert found.asks_less and found.is_worse
    (one,) = [each for each in found.outcomes if each.rule == "no-test-connection"]
    assert one.what == "unasked" and "no clause asks for it" in one.says
    findings = list(less(after, asked(before.circuit, before.circuit.rule_sets)))
    assert findings and all(each.is_open and each.severity == "error" for each in findings)


STANDS = {
    "a waiver of the head": (TURNED, 'waive part-backwards: at pri-check, because "x"\n'),
    "a waiver by prefix": (instead(TRUCK, "pri -> foot.11: size 1/2 in", "pri -> foot.11: size 1/2 in, ends moving"),
                           'waive tube-where-ends-move: at pri, because "x"\n'),
    "a waiver that is over": (without(TRUCK, "gauge sec-gauge: on sec, reads-to 12 bar\n"),
                              'waive no-pressure-gauge: at sec, because "x", until "2001-01-01"\n'),
    "a waiver of another rule": (without(TRUCK, "gauge sec-gauge: on sec, reads-to 12 bar\n"),
                                 'waive port-open: at sec, because "x"\n'),
    "a waiver elsewhere": (without(TRUCK, "gauge sec-gauge: on sec, reads-to 12 bar\n"),
                           'waive no-pressure-gauge: at pri, because "x"\n'),
    "nothing but a vehicle": ("vehicle v: class truck\nrules us-federal\n", ""),
    "air and no brakes": ("vehicle v: class truck\nrules us-federal\nreservoir r: volume 40 L, rated 10 bar, role service\n", ""),
}


LONG = ("a waiver of another rule", "a waiver elsewhere")


@pytest.mark.parametrize("what", [pytest.param(what, marks=pytest.mark.slow) if what in LONG else what for what in STANDS])
def test_what_accepts_nothing_or_leaves_nothing_to_judge_fails(what: str) -> None:
    text, waiver = STANDS[what]
    assert judge(load_source(Source(str(EXAMPLES / "case.air"), text + "\n" + waiver))).fails("warning")


UNREAD = {
    "no reason": 'waive port-open: at pri, because ""\n', "a reason nobody sees": 'waive port-open: at pri, because "\u200b"\n',
    "two waivers of one": 'waive port-open: at pri, because "a"\nwaive port-open: at pri, because "b"\n',
    "behind a lone carriage return": '# note\rwaive circuits-not-separate: at pri, because "x"\r# more\n',
    "a rule set that there is not": "rules us-federl\n",
}


@pytest.mark.parametrize("what", UNREAD)
def test_what_only_looks_like_a_reason_is_a_mistake(what: str) -> None:
    from circuit.mistake import Unreadable

    with pytest.raises(Unreadable):
        load_source(Source(str(EXAMPLES / "case.air"), TRUCK + UNREAD[what]))


def test_there_are_thirty() -> None:
    assert len(LESS) + len(STANDS) + len(UNREAD) >= 30
