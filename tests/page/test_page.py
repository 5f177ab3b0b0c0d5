"""The page without a browser: well formed, self-contained, and all that was judged is in it."""

import json
import re
import xml.etree.ElementTree as ET
from functools import cache
from html.parser import HTMLParser

import pytest

from circuit.faults.outcome import outcomes
from circuit.faults.study import study
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Figure, Result
from circuit.pipeline import judged as judge_circuit
from circuit.pipeline import load_source
from circuit.report.marked import marks_of
from circuit.report.page import FOLDER, SCRIPTS, faulty, markup, page
from circuit.report.page.pack import packed, parts_of, sampled, times_of
from circuit.report.situations import SITUATIONS
from circuit.sim import Script, simulate
from circuit.source import Source
from circuit.studies import hands
from circuit.studies.scenes import is_sound, scenes
from tests.designs import EXAMPLES, PREFACE, example_text
from tests.page.unpack import unpacked

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


def test_situations_are_the_settled_air():
    found = verdict("truck-6x4")
    known = data(text("truck-6x4"))
    for situation, state in zip(SITUATIONS, known["states"]):
        level = situation.air(found.evidence).level
        assert state["key"] == situation.key and len(state["level"]) == len(known["spaces"])
        for space, (place, _) in known["spaces"].items():
            gauge = max(0.0, level.get(int(space), 101325.0) - 101325.0) / 1e3
            assert state["level"][place] == pytest.approx(gauge, abs=0.051)


def place_of(known, part):
    return known["spaces"][str(known["parts"][part]["ports"][0][2])][0]


def test_scenes_play_apply_charge_and_the_trials():
    known = data(text(PLAYED, playing=True))
    shown = {scene["key"]: scene for scene in known["scenes"]}
    assert list(shown) == ["apply", "charge", "reserve", "trial-full-application"]
    course = {key: unpacked(scene["courses"], len(times_of(scene["parts"]))) for key, scene in shown.items()}
    dry, brake = place_of(known, "dry"), place_of(known, "rear-left")
    assert course["charge"][dry][0] == 0 and course["charge"][dry][-1] > 700
    assert course["apply"][brake][0] == 0 and course["apply"][brake].max() > 600 and course["apply"][brake][-1] < 10
    trial = shown["trial-full-application"]
    assert len(trial["expected"]) == 4 and all(met is True for met, *_ in trial["expected"])
    assert [words for _, words in trial["done"]] == ["press foot", "release foot"]
    words = " ".join(read(text(PLAYED, playing=True)).words)
    assert "Trials of the design" in words and "to spare" in words


def test_a_towed_vehicle_has_no_pedal_and_no_engine():
    circuit = verdict("semitrailer-tandem").circuit
    said = " ".join(words for scene in scenes(circuit) if scene.group == "play"
                    for words in (scene.title, *scene.says, *(what for _, what in scene.done)))
    assert "control line fed" in said and "supply line off" in said and "supply stopped" in said
    assert not re.search("pedal|engine|compressor|park control", said)
    done = [words for _, words in faulty.drive(circuit, 20.0).done]
    assert done == ["fault", "control line fed", "control line emptied", "supply line off"]


def test_every_single_fault_is_played_or_shown_at_rest():
    known = data(text(PLAYED, playing=True))
    faults, found = known["faults"], outcomes(study(verdict(PLAYED).circuit))
    assert [entry["title"] for entry in faults["entries"]] == [each.effect.fault.name for each in found]
    assert all(("course" in entry) != ("levels" in entry) for entry in faults["entries"])
    assert {entry["part"] for entry in faults["entries"]} <= set(known["parts"])
    burst = next(entry for entry in faults["entries"] if entry["title"] == "dry: burst")
    times = times_of(faults["drives"][0]["parts"])
    sound = unpacked(faults["drives"][0]["sound"], len(times))
    lost = unpacked(faults["courses"][burst["course"]], len(times), sound)
    dry, brake = place_of(known, "dry"), place_of(known, "rear-left")
    down = times.index(24.0)
    assert sound[dry][-1] > 500 and lost[dry][-1] < 5 and sound[brake][down] > 500 and lost[brake][down] < 20
    words = " ".join(read(text(PLAYED, playing=True)).words)
    assert "Single faults, the worst first" in words and "dry: burst" in words


def test_without_room_the_faults_are_shown_at_rest(monkeypatch):
    monkeypatch.setattr(faulty, "ROOM", 1000)
    circuit = verdict(PLAYED).circuit
    spaces = sorted(space for space in circuit.ports_of if space >= 0)
    entries = faulty.played(study(circuit), spaces)["entries"]
    still = [entry for entry in entries if "levels" in entry]
    assert 0 < len(still) < len(entries)
    monkeypatch.undo()
    monkeypatch.setattr(faulty, "ROOM", 0)
    entries = faulty.played(study(circuit), spaces)["entries"]
    burst = next(entry for entry in entries if entry["title"] == "dry: burst")
    dry = spaces.index(circuit.space["dry", "1"])
    before, driving, braking = (level[dry] for level in burst["levels"])
    assert before > 500 and driving == 0 and braking == 0


def test_courses_come_back_as_they_were():
    circuit = verdict(PLAYED).circuit
    trace = simulate(circuit, Script(hands.apply(circuit, 0.5)), 3.0)
    spaces = sorted(space for space in circuit.ports_of if space >= 0)
    parts = parts_of([0.5], 3.0)
    times = times_of(parts)
    assert times[0] == 0 and times[-1] == pytest.approx(3.0) and 0.5 in times and times == sorted(set(times))
    courses = sampled(trace, spaces, times)
    for place, space in enumerate(spaces):
        if space in trace.node:
            gauge = [(pressure - 101325) / 1e3 for pressure in trace.curve(space, times)]
            assert courses[place] == pytest.approx(gauge, abs=0.5001)
    base = sampled(trace, spaces, [0.0] * len(times))
    assert (unpacked(packed(courses), len(times)) == courses).all()
    assert (unpacked(packed(courses, base), len(times), base) == courses).all()


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


def test_a_still_page_has_no_scenes_and_is_smaller():
    assert data(text(PLAYED))["scenes"] == [] and data(text(PLAYED))["faults"] is None
    assert len(text(PLAYED)) < len(text(PLAYED, playing=True))


def test_what_simulations_say_of_times_is_a_table():
    words = " ".join(read(text(PLAYED, playing=True)).words)
    assert "Response prediction" in words and "Full applications with the engine off" in words
    assert "Response prediction" not in " ".join(read(text(PLAYED)).words)


def test_a_run_without_numbers_is_not_played():
    class Trace:
        times = (0.0, 1.0)
        pressures = ((1e5, 2e5), (1e5, float("nan")))

    assert not is_sound(Trace)
    Trace.pressures = Trace.pressures[:1]
    assert is_sound(Trace)


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
    assert words.count("<script") == 4 and "<img" not in words
    assert any("alert(1)" in piece and "$title" in piece for piece in reader.words)


def test_nothing_is_called_safe_or_approved():
    words = " ".join(read(text("truck-6x4")).words).lower()
    assert "predicted" in words and "no approval" in words
    for claim in ("is safe", "is approved", "is correct", "certified", "compliant"):
        assert claim not in words


def test_the_scripts_are_all_in_it():
    assert {path.name for path in FOLDER.glob("*.js")} == set(SCRIPTS)
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
