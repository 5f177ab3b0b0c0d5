"""The drawings of the examples: measured, complete, the same every time, with or without an engine."""

import os
import subprocess
import sys
import xml.etree.ElementTree as ET
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from circuit.draw import engine, extent, measure, pressure
from circuit.draw.fixed import body_boxes
from circuit.draw.fold import lay_out_circuit
from circuit.draw.labels import letter
from circuit.draw.layout import Layout
from circuit.draw.marks import Mark
from circuit.draw.paint import picture
from circuit.draw.parts import own_name, vehicle_of
from circuit.model.circuit import Circuit
from circuit.pipeline import judged, load
from circuit.report.marked import marks_of
from circuit.verdict.judge import judge
from tests.designs import EXAMPLES, example_names, example_text, loaded, patched, sampled

MOST_CROSSINGS = {
    "air-suspension": 5, "auxiliary-manifold": 4, "city-bus": 2, "combination-semi": 10, "combination-train": 10,
    "converter-dolly": 1, "lift-axle": 9, "semitrailer-europe": 10, "semitrailer-old": 1, "semitrailer-single": 1,
    "semitrailer-tandem": 4, "teaching-board": 0, "tractor-6x4": 7, "truck-6x4": 8, "truck-europe": 5,
    "truck-towing": 8, "tyre-inflation": 8,
}
"""What a sheet may have: for the truck and the combination what was asked for, for the others what was found, frozen."""
SVG = "{http://www.w3.org/2000/svg}"


@cache
def circuit(name: str) -> Circuit:
    return load(str(EXAMPLES / name / "design.air"))


@cache
def layout(name: str) -> Layout:
    return lay_out_circuit(circuit(name))


@cache
def svg(name: str) -> str:
    return picture(layout(name))


def written(text: str) -> list[str]:
    """All words on a sheet."""
    return [element.text or "" for element in ET.fromstring(text).iter(f"{SVG}text")]


def visible(text: str) -> set[str]:
    return set(written(text))


def bodies(sheet: Layout) -> list[measure.Box]:
    inset = 0.05
    return [(b.x + inset, b.y + inset, b.x + b.width - inset, b.y + b.height - inset) for b in sheet.bodies]


@pytest.mark.parametrize("name", [
    pytest.param(name, marks=() if name in ("truck-6x4", "combination-semi", "teaching-board") else pytest.mark.slow)
    for name in example_names()])
def test_crossings_are_few(name: str) -> None:
    found = measure.crossings(layout(name).wires)
    assert found <= MOST_CROSSINGS[name]


@pytest.mark.parametrize("name", sampled(example_names(), 6))
def test_lines_run_clear(name: str) -> None:
    sheet = layout(name)
    assert measure.touching(sheet.wires) == 0
    assert measure.through(sheet.wires, bodies(sheet)) == 0
    assert measure.overlaps(bodies(sheet)) == 0
    for drawn in sheet.wires:
        assert all(s.length > 0 for s in drawn.stretches)


@pytest.mark.parametrize("name", sampled(example_names(), 8))
def test_words_lie_on_nothing(name: str) -> None:
    sheet = layout(name)
    lettering = letter(sheet, ())
    boxes = [words.box for words in lettering.texts]
    assert len(boxes) > len(sheet.bodies)
    assert measure.overlaps(boxes) == 0
    assert measure.through(sheet.wires, boxes) == 0
    for words in lettering.texts:
        if words.what == "tube":
            assert not any(measure.boxes_meet(words.box, box) for box in lettering.boxes), words
    assert lettering.unplaced == []


@pytest.mark.parametrize("name", example_names())
def test_small_parts_stand_clear(name: str) -> None:
    sheet = layout(name)
    found = [box for body in sheet.bodies for box in list(body_boxes(sheet, body))[1:]]
    assert measure.through(sheet.wires, found) == 0


@pytest.mark.parametrize("name", example_names())
def test_every_device_is_named(name: str) -> None:
    words = Counter(written(svg(name)))
    named = Counter(own_name(circuit(name), device.name) for device in circuit(name).devices if not device.is_line)
    assert all(words[word] >= times for word, times in named.items()), named - words
    titles = {element.text or "" for element in ET.fromstring(svg(name)).iter(f"{SVG}title")}
    for device in circuit(name).devices:
        if device.is_line:
            assert any(title.startswith(device.title) for title in titles), device.name
        else:
            assert any(title.startswith(f"{device.name}: ") for title in titles), device.name


@pytest.mark.parametrize("name", example_names())
def test_groups_have_ids_of_their_own(name: str) -> None:
    root = ET.fromstring(svg(name))
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    classes = [(element.get("class") or "").split() for element in root.iter(f"{SVG}g")]
    assert sum("device" in c for c in classes) == sum(not d.is_line for d in circuit(name).devices)
    assert sum("net" in c for c in classes) == len(layout(name).wires)
    lines = [element for element in root.iter(f"{SVG}path") if element.get("class") == "line"]
    cut = [body.flag for body in layout(name).bodies if body.flag is not None]
    drawn = [line.get("data-name") for line in lines]
    assert set(drawn) == {d.name for d in circuit(name).devices if d.is_line}
    assert len(drawn) <= len(set(drawn)) + len(cut) / 2


def test_key_figures_are_written() -> None:
    words = visible(svg("truck-6x4"))
    for figure in ("50 L service", "7.2 bar to 8.6 bar", "10.3 bar", "pops out 2.1 bar", "type 30/30", "R", "L",
                   "axle drive-2", "Straight truck 6x4", "below 4.3 bar", "3/8 in \u00b7 8 m"):
        assert figure in words, figure
    assert any("not an approval" in word for word in words)


def test_circuits_follow_the_designer() -> None:
    titles = [(m.number, m.title) for m in layout("truck-6x4").roles.circuits]
    assert titles == [(0, "source"), (1, "primary (service)"), (2, "secondary (service)"), (3, "parking")]
    found = {run.line.name: (drawn.wire.circuit, layout("truck-6x4").roles.run_role[drawn.wire.number, place])
             for drawn in layout("truck-6x4").wires for place, run in enumerate(drawn.wire.runs) if run.line}
    assert found["pri -> foot.11"] == (1, "supply")
    assert found["foot.21 -> rear-relay.4"] == (1, "signal")
    assert found["front-release.2 -> front-left"] == (2, "delivery")
    assert found["spring-release.2 -> d1-left.spring"] == (3, "spring")
    assert found["wet -> gov.1"] == (0, "signal")
    assert found["dryer.22 -> purge-tank"] == (0, "supply")


@pytest.mark.parametrize("name", example_names())
def test_the_legend_names_no_circuit_that_is_not_drawn(name: str) -> None:
    assert {m.number for m in layout(name).roles.circuits} == {drawn.wire.circuit for drawn in layout(name).wires}


def test_a_reservoir_behind_an_emergency_valve_feeds_the_brakes() -> None:
    """It is filled and emptied by one and the same line."""
    sheet = layout("semitrailer-old")
    natures = {m.number: m.nature for m in sheet.roles.circuits}
    found = {run.line.name: natures[drawn.wire.circuit] for drawn in sheet.wires for run in drawn.wire.runs if run.line}
    assert found["emergency.reservoir -> tank"] == found["emergency.2 -> rear-left"] == "service"
    assert found["supply-head -> emergency.1"] == "source"


def test_circuits_that_vehicles_share_bear_no_vehicles_name() -> None:
    titles = {m.nature: m.title for m in layout("combination-semi").roles.circuits}
    assert titles["parking"] == "parking" and titles["service"] == "semi.service (service)"


def test_trailer_circuits() -> None:
    sheet = layout("semitrailer-tandem")
    natures = {m.number: m.nature for m in sheet.roles.circuits}
    found = {run.line.name: (natures[drawn.wire.circuit], sheet.roles.run_role[drawn.wire.number, place])
             for drawn in sheet.wires for place, run in enumerate(drawn.wire.runs) if run.line}
    assert found["control-filter.2 -> relay.4"] == ("trailer control", "signal")
    assert found["springs.21 -> tank-1"] == ("source", "supply")
    assert found["springs.22 -> compound-guard.11"] == ("parking", "spring")


def test_lines_to_a_user_of_air_are_no_spring_lines() -> None:
    """Charged while driving, empty while parked, and not to springs: air fed to a user."""
    sheet = layout("tyre-inflation")
    natures = {m.number: m.nature for m in sheet.roles.circuits}
    found = {run.line.name: (natures[drawn.wire.circuit], sheet.roles.run_role[drawn.wire.number, place])
             for drawn in sheet.wires for place, run in enumerate(drawn.wire.runs) if run.line}
    assert found["rear-vent.2 -> d2-left-wheel.line"] == ("auxiliary", "supply")
    assert found["spring-release.2 -> d2-left.spring"] == ("parking", "spring")


def test_same_bytes_under_another_hash_seed() -> None:
    program = (
        "from circuit.pipeline import load; from circuit.draw import svg; import sys; "
        f"sys.stdout.write(svg(load({str(EXAMPLES / 'semitrailer-tandem' / 'design.air')!r})))"
    )
    found = {
        subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, encoding="utf-8", check=True,
                       env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONIOENCODING": "utf-8"},
                       cwd=Path(__file__).resolve().parents[2]).stdout
        for seed in ("1", "77")
    }
    assert len(found) == 1 and len(found.pop()) > 10_000


def test_draws_without_an_engine(monkeypatch: pytest.MonkeyPatch) -> None:
    engine.found.cache_clear()
    monkeypatch.setenv("AIRWRIGHT_DOT", "")
    try:
        assert engine.run("digraph {}") is None
        sheet = lay_out_circuit(circuit("truck-6x4"))
    finally:
        engine.found.cache_clear()
    assert measure.crossings(sheet.wires) <= MOST_CROSSINGS["truck-6x4"] + 3
    assert measure.touching(sheet.wires) == 0


def test_marks_are_shown_and_tell_severity() -> None:
    marks = (Mark("pri", "1", "error"), Mark("park.2 -> modulator.1", "2", "warning"), Mark("sec-tee", "3", "error"),
             Mark("pri-gauge", "4", "warning"), Mark("pri", "5", "note"), Mark("nobody", "6", "error"))
    text = picture(layout("truck-6x4"), marks)
    groups = [g for g in ET.fromstring(text).iter(f"{SVG}g") if (g.get("class") or "").startswith("finding ")]
    assert [(g.get("class"), g.find(f"{SVG}text").text) for g in groups] == [  # type: ignore[union-attr]
        ("finding error", "1"), ("finding warning", "2"), ("finding error", "3"), ("finding warning", "4"),
        ("finding note", "5")]
    spots = letter(layout("truck-6x4"), tuple(mark.device_name for mark in marks[:5])).flags
    assert len({(spot.x, spot.y) for spot in spots}) == 5
    assert "finding: warning" in visible(text) and "finding: warning" not in visible(svg("truck-6x4"))


def test_ink_leaves_no_colour() -> None:
    coloured, plain = svg("truck-6x4"), picture(layout("truck-6x4"), ink=True)
    assert "#212dff" in coloured and "#212dff" not in plain


def test_findings_of_a_combinations_vehicle_are_marked_in_it() -> None:
    own = judge(loaded(patched(example_text("tractor-6x4"), ["- drain pri-drain"])))
    assert [j.answer.thing for j in own.findings] == ["pri"]
    whole = judge(circuit("combination-semi"))._replace(vehicles=(("tractor", own),))
    marks = marks_of(whole)
    assert [(mark.device_name, mark.label, mark.flag) for mark in marks] == [("tractor.pri", "tractor 1", "t1")]
    words = visible(picture(layout("combination-semi"), marks))
    assert "t1" in words and "t1: of tractor by itself, and so on" in words


@pytest.mark.parametrize("name", example_names())
def test_every_cut_line_has_two_flags_that_name_each_other(name: str) -> None:
    sheet = layout(name)
    flags: dict[int, list[str]] = {}
    for body in sheet.bodies:
        if body.flag is not None:
            assert body.flag.other is not None and body.flag.other.flag is not None
            assert body.flag.other.flag.other is body and body.flag.leaves is not body.flag.other.flag.leaves
            flags.setdefault(body.flag.number, []).append(body.flag.id)
            assert f"{body.flag.number} {body.flag.to}" in visible(svg(name))
    assert sorted(flags) == list(range(1, len(flags) + 1))
    assert all(len(own) == 2 for own in flags.values())
    root = ET.fromstring(svg(name))
    ids = {element.get("id") for element in root.iter()}
    links = [each.get("href") or "" for each in root.iter(f"{SVG}a")]
    assert len(links) == 2 * len(flags) and all(link[1:] in ids for link in links)


@pytest.mark.parametrize("name", ["combination-semi", "combination-train"])
def test_every_band_of_a_combination_is_of_one_vehicle(name: str) -> None:
    sheet = layout(name)
    assert {frame.vehicle for frame in sheet.frames} == set(circuit(name).vehicles)
    for frame in sheet.frames:
        inside = {vehicle_of(circuit(name), body.device) for body in sheet.bodies if body.flag is None
                  and frame.left < body.x < frame.left + frame.wide and frame.top < body.y < frame.top + frame.high}
        assert inside == {frame.vehicle}
    words = visible(svg(name))
    assert all(any(word.startswith(f"{vehicle}: ") for word in words) for vehicle in circuit(name).vehicles)


@pytest.mark.parametrize("name", example_names())
def test_nothing_is_split_and_bands_stand_apart(name: str) -> None:
    sheet = layout(name)
    frames = [(f.left, f.top, f.left + f.wide, f.top + f.high) for f in sheet.frames]
    assert measure.overlaps(frames) == 0
    for body in sheet.bodies if frames else ():
        box = extent.of_body(body)
        assert sum(f[0] <= box[0] and f[1] <= box[1] and box[2] <= f[2] and box[3] <= f[3] for f in frames) == 1, body.name


def test_a_port_with_two_lines_is_no_tee() -> None:
    """The foot valve's ports have a line at each hole; a tee is a dot with a name."""
    root = ET.fromstring(svg("truck-6x4"))
    device = next(g for g in root.iter(f"{SVG}g") if g.get("data-name") == "foot")
    holes = [each for each in device.iter(f"{SVG}path") if each.get("class") == "holes"]
    rings = [each for each in root.iter(f"{SVG}circle") if each.get("class") == "port"]
    assert len(holes) + len(rings) >= 1
    assert {d.name for d in circuit("truck-6x4").devices if d.kind.name == "tee"} <= visible(svg("truck-6x4"))
    dots = [g for g in root.iter(f"{SVG}g") if (g.get("class") or "") == "device tee"]
    assert len(dots) == len(layout("truck-6x4").tees)


@pytest.mark.parametrize("name", ["truck-6x4", "tyre-inflation"])
def test_lines_of_a_state_are_drawn_once(name: str) -> None:
    """Dots upon dots look like another line: where a line has a way of its own, nothing else of its wire lies there."""
    sheet = layout(name)
    shared = 0
    for drawn in sheet.wires:
        rest = [part for stretch in drawn.stretches for part in pressure.left_over(stretch, drawn.own)]
        shared += bool(rest)
        own = {(s.start, s.end): s.length for stretches in drawn.own for s in stretches}
        for stretch in rest:
            x, y = ((a + b) / 2 for a, b in zip(stretch.start, stretch.end))
            assert not [each for each in own if each[0][0] <= x <= each[1][0] and each[0][1] <= y <= each[1][1]]
        length = sum(s.length for s in drawn.stretches)
        assert sum(s.length for s in rest) + sum(own.values()) >= length - 1e-9
    assert shared


@pytest.mark.parametrize("name", example_names())
def test_the_committed_drawing_is_current(name: str) -> None:
    """Our own output, frozen: `airwright draw FILE -o drawing.svg --force` beside the design makes it anew."""
    marks = marks_of(judged(circuit(name)))
    is_current = (EXAMPLES / name / "drawing.svg").read_text(encoding="utf-8") == picture(layout(name), marks)
    assert is_current, "draw it anew and look at it"


def test_arrows_stand_only_where_air_goes_one_way() -> None:
    """A levelling valve lets a bellows' air out again through the line that filled it."""
    flows = {run.line.name: run.flow for name in ("air-suspension", "truck-6x4") for drawn in layout(name).wires
             for run in drawn.wire.runs if run.line}
    assert flows["pump.2 -> dryer.1"] == flows["wet -> pri-check.1"] == flows["sec-check.2 -> sec"] == 1
    assert not any(flow for name, flow in flows.items() if "bag-" in name or "level-" in name or "rear-relay.2" in name)
    assert len(letter(layout("truck-6x4")).arrows) >= 3
