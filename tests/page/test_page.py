"""The page without a browser: well formed, self-contained, and all that was judged is in it."""

import base64
import json
import re
import xml.etree.ElementTree as ET
import zlib
from functools import cache
from html.parser import HTMLParser

import pytest

from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Result
from circuit.pipeline import judged as judge_circuit
from circuit.pipeline import load_source
from circuit.report.marked import marks_of
from circuit.report.page import FOLDER, SCRIPTS, WORKER, markup, page, prepared
from circuit.sim import Script, Session
from circuit.source import Source
from tests.designs import EXAMPLES, PREFACE, example_text

PLAYED = "teaching-board"
"""A small circuit: the ones that are simulated should not keep the tests waiting."""
VOID = {"meta", "link", "br", "input", "hr", "img"}


class Reader(HTMLParser):
    """Checks that elements close in order; keeps ids, addresses and text."""

    def __init__(self):
        super().__init__(convert_charrefs=True)
        self.open, self.ids, self.addresses, self.words = [], [], [], []

    def handle_starttag(self, tag, attributes):
        if tag not in VOID:
            self.open.append(tag)
        for name, value in attributes:
            if name == "id":
                self.ids.append(value)
            if name in ("src", "href", "action", "data", "srcset", "xlink:href"):
                self.addresses.append(value)

    def handle_startendtag(self, tag, attributes):
        self.handle_starttag(tag, attributes)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag):
        assert self.open and self.open[-1] == tag, f"</{tag}> closes {self.open[-3:]}"
        self.open.pop()

    def handle_data(self, data):
        self.words.append(data)


@cache
def verdict(name):
    source = Source(str(EXAMPLES / name / "design.air"), example_text(name))
    return judge_circuit(load_source(source))


@cache
def text(name, playing=False):
    found = verdict(name)
    return page(found, marks_of(found), playing)


def read(words):
    reader = Reader()
    reader.feed(words)
    reader.close()
    assert reader.open == []
    return reader


def data(words):
    return json.loads(re.search(r'<script type="application/json" id="data">(.*?)</script>', words, re.S)[1])


@pytest.mark.parametrize("name", ["truck-6x4", "teaching-board", "semitrailer-tandem"])
def test_a_page_is_well_formed_and_needs_nothing_from_elsewhere(name):
    words = text(name)
    reader = read(words)
    assert len(reader.ids) == len(set(reader.ids))
    assert {address for address in reader.addresses if not address.startswith("#")} <= {"data:,"}
    assert "://" not in re.sub(r'xmlns(:\w+)?="[^"]*"', "", words).replace('"http://www.w3.org/2000/svg"', "")
    assert len(words.encode()) < 2_000_000


def test_the_schematic_in_it_is_xml():
    picture = re.search(r"<svg [^>]*id=\"sheet\".*?</svg>\n", text("truck-6x4"), re.S)[0]
    root = ET.fromstring(picture)
    names = {element.get("data-name") for element in root.iter() if element.get("data-name")}
    assert names == set(verdict("truck-6x4").circuit.by_name)


def test_every_finding_is_listed_with_its_parts():
    found = verdict("teaching-board")
    reader = read(text("teaching-board"))
    words = " ".join(reader.words)
    assert found.findings
    for judgement in found.findings:
        assert judgement.answer.says in words and judgement.answer.remedy in words
    labels = [label for label, _ in data(text("teaching-board"))["findings"]]
    accepted = sum(judgement.waiver is not None for judgement in found.findings)
    assert accepted and labels == [*(f"w{n}" for n in range(1, accepted + 1)),
                                   *map(str, range(1, len(found.findings) - accepted + 1))]
    known = set(found.circuit.by_name)
    assert all(set(parts) <= known for _, parts in data(text("teaching-board"))["findings"])


def test_every_judgement_and_open_clause_is_a_row():
    found = verdict("truck-6x4")
    body = re.search(r'<table id="table-clauses">.*?</table>', text("truck-6x4"), re.S)[0]
    every = [one for judgement in found.every for one in judgement.each()]
    assert len(every) > len(found.judgements)
    assert body.count("<tr") - 1 == len(every) + len(found.open_clauses) + len(found.predicted)
    for result, kind in ((Result.MET, "met"), (Result.UNDECIDED, "undecided"), (Result.UNDECIDABLE, "never")):
        number = sum(j.result is result for j in every) + sum(o.result is result for o in found.open_clauses)
        assert body.count(f'<tr class="{kind}"') == number


def place_of(known, part):
    return known["spaces"][str(known["parts"][part]["ports"][0][2])][0]


def test_a_combination_lists_what_its_vehicles_have_open():
    whole = verdict("combination-semi")
    name, own = whole.vehicles[-1]
    found = next(each for each in verdict(PLAYED).findings if each.is_open)
    part = own.circuit.devices[0].name
    moved = found._replace(answer=found.answer._replace(thing=part, also=()))
    listed = markup.found_in(whole._replace(vehicles=((name, own._replace(judgements=(moved,))),)))
    assert [(each.label, each.parts, each.of) for each in listed] == [(f"{name} 1", (f"{name}.{part}",), name)]
    words = markup.rail(listed) + markup.findings(listed)
    assert f"{name}, by itself" in words and words.count(f'data-finding="{name} 1"') == 2


def test_what_simulations_say_of_times_is_a_table():
    words = " ".join(read(text(PLAYED, playing=True)).words)
    assert "Response prediction" in words and "Full applications with the engine off" in words
    assert "Response prediction" not in " ".join(read(text(PLAYED)).words)


def test_the_same_design_gives_the_same_page():
    found = verdict("teaching-board")
    assert page(found, marks_of(found), playing=False) == text("teaching-board")


def test_a_design_cannot_bring_markup_or_script_into_the_page():
    bad = '</script><script>alert(1)</script><img src=x onerror="alert(2)">$title'
    rows = [row.replace("vehicle x: class truck", f"vehicle x: class truck, title '{bad}'") for row in PREFACE]
    rows[0] = rows[0].replace("'", '"').replace('onerror="alert(2)"', "onerror=alert(2)")
    text = "\n".join([*rows, "reservoir t: volume 20 L, rated 10 bar, role service"])
    found = judge_circuit(load_source(Source("<b>&.air", text)))
    words = page(found, marks_of(found), playing=False)
    reader = read(words)
    assert words.count("<script") == 5 and "<img" not in words
    assert any("alert(1)" in piece and "$title" in piece for piece in reader.words)


def test_nothing_is_called_safe_or_approved():
    words = " ".join(read(text("truck-6x4")).words).lower()
    assert "predicted" in words and "no approval" in words
    for claim in ("is safe", "is approved", "is correct", "certified", "compliant"):
        assert claim not in words


def test_the_scripts_are_all_in_it():
    assert {path.name for path in FOLDER.glob("*.js")} == set(SCRIPTS) and (FOLDER / WORKER).is_file()
    names = [name for script in SCRIPTS for name in re.findall(r"^(?:async )?(?:function|const|let) (\w+)",
                                                               (FOLDER / script).read_text(encoding="utf-8"), re.M)]
    assert len(names) > 60 and len(names) == len(set(names)), "two scripts of the page share a name"


def test_what_a_simulation_decided_is_a_row_and_counts_in_the_verdict():
    plain = verdict(PLAYED)
    clause = plain.judgements[0].clause
    late = Predicted(clause, Result.NOT_MET, "dry", "too late", Figure("time", 0.6, 0.45, "time", False),
                     question="application-time")
    words = page(plain._replace(predicted=(late,)), playing=False)
    assert "1 of them by simulation" in words and "too late; predicted by simulation" in words and "0.15 s too much" in words
    label = str(sum(each.is_open for each in plain.findings) + 1)
    assert data(words)["findings"][-1] == [label, ["dry"]] and words.count(f'data-finding="{label}"') == 2


def carried(words):
    """What the page plays, unpacked."""
    return json.loads(zlib.decompress(base64.b64decode(re.search(r'id="live">(.*?)</script>', words, re.S)[1]), -15))


def test_nothing_is_simulated_beforehand():
    """The page carries the engine, the rows, hands and failures, and no course of pressures."""
    live, known = carried(text(PLAYED, playing=True)), data(text(PLAYED, playing=True))
    circuit = verdict(PLAYED).circuit
    every = [(device.name, failure.name) for device in circuit.devices for failure in device.kind.failures if failure.acts]
    shown = [(part, name) for part, name, _ in live["failures"]]
    assert [each for each in every if each in shown] == shown and ("pump", "worn") in shown
    left_out = {circuit.by_name[part].kind.name for part, name in every if (part, name) not in shown}
    assert left_out == {"low-pressure-switch", "stop-lamp-switch"}, "what drifts there changes no pressure"
    assert {hand["part"] for hand in live["hands"]} == {"foot", "wet-drain", "dry-drain", ""}
    assert [each["key"] for each in live["prepared"]] == ["apply", "part", "reserve", "charge", "trial-full-application"]
    assert "scenes" not in known and "faults" not in known
    assert len(text(PLAYED, playing=True).encode()) < 450_000
    assert re.search(r'id="live"></script>', text(PLAYED)) and len(text(PLAYED)) < len(text(PLAYED, playing=True))


def test_a_towed_vehicle_has_no_pedal_and_no_engine():
    circuit = verdict("semitrailer-tandem").circuit
    said = " ".join(words for each in prepared.prepared(circuit) if each.group == "play"
                    for words in (each.title, each.says, *(deed.says for deed in each.deeds)))
    assert "control line fed" in said and "supply line off" in said
    assert not re.search("pedal|engine|compressor|park control", said)


def test_every_start_is_the_air_at_rest():
    """The pressures that the page begins with are those a session begins with."""
    live = carried(text(PLAYED, playing=True))
    for level, start in zip(live["levels"], live["starts"][0]["pressures"], strict=False):
        board = Session(verdict(PLAYED).circuit, Script(pressures={} if level is None else {"reservoirs": 101325 + level}))
        ours = [board.pressure(name) for name in ("dry", "wet", "front-left", "foot.2")]
        nodes = [live["places"][place] for place in ("dry.1", "wet.1", "front-left.1", "foot.2")]
        assert [start[node] for node in nodes] == pytest.approx(ours, abs=0.51)
