"""The benchmark of one truth can fail: it sees two printings that differ, whichever output is the one that is wrong."""

import re
from pathlib import Path

import pytest

from tests.benchmarks.one_truth import Tally, gathered
from tests.designs import EXAMPLES
from tests.truth.asked import Asked, loaded_once
from tests.truth.printing import Printing, amounts, bare, contradictions, figure, skeleton
from tests.truth.rows import parted, row_printing
from tests.truth.tables import csv_records, page_tables, text_tables
from tests.truth.verdicts import MET, NOT_MET, worst

DESIGN = EXAMPLES / "teaching-board" / "design.air"


def printing(text: str = "", words: str = "", bound: str = "", output: str = "one") -> Printing:
    return Printing("left", "tank, 1", output, figure(text), words, bound)


@pytest.mark.parametrize("one, other, count", [
    ("100.0 psi", "100.0 psi", 0),
    ("100.0 psi", "6.89 bar", 0),
    ("100.0 psi", "100.5 psi", 0),
    ("100.0 psi", "101.0 psi", 1),
    ("25.3 s", "25.4 s", 0),
    ("25.3 s", "25.6 s", 1),
    ("2 min 31 s", "151.3 s", 0),
    ("2 min 31 s", "154.0 s", 1),
    ("93 %", "93.9 %", 0),
    ("93.0 %", "94.0 %", 1),
    ("0.10 bar", "1.5 psi", 0),
    ("0.10 bar", "10 L", 1),
])
def test_two_figures(one, other, count):
    assert len(contradictions("x", [printing(one), printing(other, output="two")])) == count


@pytest.mark.parametrize("one, other, count", [("met", "met", 0), ("met", "not met", 1), ("met", "", 0)])
def test_two_verdicts(one, other, count):
    assert len(contradictions("x", [printing("1 s", one), printing("1 s", other)])) == count


@pytest.mark.parametrize("bound, limit, count", [
    ("at least", "90.0 psi", 0), ("at least", "110.0 psi", 1), ("at most", "110.0 psi", 0), ("at most", "90.0 psi", 1)])
def test_a_bound_is_kept_or_not(bound, limit, count):
    assert len(contradictions("x", [printing("100.0 psi"), printing(limit, bound=bound)])) == count


def test_each_other_answer_counts_once_and_other_places_are_none_of_its_business():
    same = [printing("100.0 psi") for _ in range(3)]
    others = [printing("120.0 psi", output="two"), printing("120.1 psi", output="three"), printing("80.0 psi", output="four")]
    elsewhere = Printing("left", "tank, 2", "two", figure("50.0 psi"))
    found = contradictions("x", [*others, *same, elsewhere])
    assert [each.other.output for each in found] == ["two", "four"] and {each.first.output for each in found} == {"one"}


def test_a_row_may_not_differ_at_all_but_for_its_digits():
    said = row_printing("response", 1, ("front-left", "0.407", "met"), "csv")
    assert not contradictions("x", [said, row_printing("response", 1, ("front-left", "0.407 s", "MET"), "text")])
    for other in (("front-left", "0.409", "met"), ("front-left", "0.407", "not met"), ("front-right", "0.407", "met"),
                  ("front-left", "0.407")):
        assert len(contradictions("x", [said, row_printing("response", 1, other, "text")])) == 1


def test_figures_are_read_as_they_are_printed():
    assert [(round(each.value, 2), each.unit) for each in amounts("from 1,813 psi (125.00 bar) in 0.4 s, 92.7 %")] == [
        (12500.19, "kPa"), (12500.0, "kPa"), (0.4, "s"), (92.7, "%")]
    assert [each.value for each in bare("30/30 | 221 | -0.5")] == [30, 30, 221, -0.5]
    assert skeleton("At 2 min 31 s with 7.20\u00a0bar") == "at # with #"
    assert worst([MET, NOT_MET, MET]) == NOT_MET == worst(["not met, accepted", MET])


TEXT = """Charging: board

Times to fill
                                   time  limit
what                                  s      s  outcome
-------------------------------------------------------------------
85 to 100 psi in every supply and  25.3   27.9  met by most of the
service reservoir                               range
at the cut-out again               12.6   45.0  met, a guide
Quickest and slowest: compressors that deliver 10 % more and less.

Full applications
after  left in the reservoir     %
----------------------------------
pri
    1  115.6 psi (7.97 bar)     93

sec
    1  117.7 psi (8.11 bar)     94
From 124.7 psi (8.60 bar); shares of gauge pressure.
"""


def test_tables_of_a_text_are_read_with_what_is_folded_and_said_above():
    assert text_tables(TEXT) == [
        [("85 to 100 psi in every supply and service reservoir", "25.3", "27.9",
          "met by most of the range"), ("at the cut-out again", "12.6", "45.0", "met, a guide")],
        [("pri", "1", "115.6 psi (7.97 bar)", "93"), ("sec", "1", "117.7 psi (8.11 bar)", "94")]]


def test_a_cell_that_goes_on_with_a_number_is_no_new_row_and_a_comma_may_belong_to_a_place():
    text = ("at         what      asked by\n----------------------------\nrear-tank  9 gives   Regulation 13 Annex 7\n"
            "                     1.2.1\nNote.\n")
    assert text_tables(text) == [[("rear-tank", "9 gives", "Regulation 13 Annex 7 1.2.1")]]
    assert parted("response", [("apply", "how", "pipe on head, 10 %, left, right", "0.1")]) == [
        ("apply", "how", place, "0.1") for place in ("pipe on head, 10 %", "left", "right")]


def test_tables_of_csv_and_of_a_page_are_read():
    assert csv_records("table,a,b\nx,1,'-y\ntable,c\nz,3\n") == {"x": [{"a": "1", "b": "-y"}], "z": [{"c": "3"}]}
    page = ('<table><caption>T</caption><thead><tr><th>a</th><th>b</th></tr></thead><tbody><tr class="band"><th>pri</th></tr>'
            '<tr><th><span class="sign">o</span> met</th><td>1</td><td></td></tr></tbody></table>')
    assert page_tables(page) == ({"T": [("pri", "met", "1")]}, {"T": ["a", "b"]})


@pytest.fixture(scope="module")
def asked(tmp_path_factory):
    """An example with everything that is printed of it."""
    found = Asked("board", DESIGN, tmp_path_factory.mktemp("truth"))
    with loaded_once():
        gathered(found, 1, 1)
    return found


class Altered(Asked):
    """The same outputs, but for one that is wrong on purpose."""

    def __init__(self, good: Asked) -> None:
        super().__init__(good.name, good.path, good.folder)
        self._said = dict(good._said)
        self.__dict__ |= {name: good.__dict__[name] for name in ("papers", "pdf", "page", "page_data", "page_rows")}

    def write(self, words: tuple[str, ...], pattern: str, instead: str) -> None:
        """Another text in the output of a command."""
        status, out, err = self._said[words]
        text, number = re.subn(pattern, instead, out, count=1, flags=re.S)
        assert number == 1, pattern
        self._said[words] = status, text, err

    def end(self, words: tuple[str, ...], status: int) -> None:
        self._said[words] = status, *self._said[words][1:]


def counted(asked: Asked) -> int:
    tally = Tally()
    tally.add("board", gathered(asked, 1, 1))
    return len(tally.found)


SIMULATE = ("check", "--simulate")
JSON, CSV = ("--format", "json"), ("--format", "csv")
WRONG = {
    "a time of the text": (("charge",), r"(85 to 100 psi.*?)(\d)(\d\.\d)( )", r"\g<1>9\3\4"),
    "a time of the table": (("respond", *CSV), r"(response,apply,.*?,)0\.(\d+),", r"\g<1>9.\2,"),
    "an outcome of the table": (("respond", *CSV), r"(response,apply,[^\n]*?),met(?: by[^,\n]*)?,", r"\1,not met,"),
    "a time of the JSON": (("respond", *JSON), r'("time": \{\s*"value": )', r"\g<1>7"),
    "a pressure that is left": (("reserve", *CSV), r"(applications,dry,1,)1(\d\d\.\d)", r"\g<1>2\2"),
    "an outcome of the JSON": ((*SIMULATE, *JSON), r'("coverage": \[.*?"outcome": )"met"', r'\1"not met"'),
    "a count of errors": (("check",), r"Not met: \d+ error", "Not met: 7 error"),
    "a clause of the table": (("check", *CSV), r"\nclauses,([^,]*),met,49", r"\nclauses,\1,not met,49"),
    "a finding's severity": (SIMULATE, r"\n1 ERROR  ", "\n1 WARNING  "),
    "a finding's sentence": (SIMULATE, r"(\n1 ERROR  \S+\n  )\S+", r"\1somebody"),
    "an expectation": (("run", *JSON), r'"met": true', '"met": false'),
    "a volume": (("sizes", *CSV), r"(ratios,the vehicle,)(\d+)", r"\g<1>9\2"),
    "what water leans on": (("water",), r"at work \d+ %", "at work 3 %"),
}


def test_a_design_whose_outputs_agree_has_no_contradiction(asked):
    assert counted(Altered(asked)) == 0


@pytest.mark.parametrize("what", WRONG)
def test_one_wrong_output_is_seen(asked, what):
    altered = Altered(asked)
    altered.write(*WRONG[what])
    assert counted(altered) > 0


def test_a_wrong_exit_status_is_seen(asked):
    altered = Altered(asked)
    altered.end(("check",), 0)
    assert counted(altered) > 0


@pytest.mark.parametrize("name", ["papers", "page"])
def test_a_wrong_paper_and_a_wrong_page_are_seen(asked, name):
    altered = Altered(asked)
    if name == "papers":
        rows = [dict(row) for row in asked.papers["build-up"]]
        rows[0]["time s"] = "1.0"
        altered.__dict__["papers"] = {**asked.papers, "build-up": rows}
    else:
        tables, heads = asked.page_rows
        first, *others = tables["Reservoirs"]
        altered.__dict__["page_rows"] = {**tables, "Reservoirs": [(*first[:2], "1.0", *first[3:]), *others]}, heads
    assert counted(altered) > 0


def test_what_is_gathered_comes_from_every_output(asked: Asked, tmp_path: Path):
    outputs = {each.output.partition(" ")[0] for each in gathered(Altered(asked), 1, 1)}
    assert outputs == {"check", "charge", "respond", "reserve", "leak-down", "sizes", "force", "water", "run", "papers", "page",
                       "page,", "faults", "kinds"}
