"""The produced SVG itself, measured: what is referred to is there, and words lie on no line and on no other words.

Read from the drawings beside the examples, which another test holds to be current; nothing of the layout is asked.
"""

import re
import xml.etree.ElementTree as ET

import pytest

from circuit.draw.text import width
from tests.designs import EXAMPLES, example_names

SVG, LINK = "{http://www.w3.org/2000/svg}", "{http://www.w3.org/1999/xlink}href"
Box = tuple[float, float, float, float]


def root_of(name: str) -> ET.Element:
    return ET.fromstring((EXAMPLES / name / "drawing.svg").read_text(encoding="utf-8"))


def words_in(group: ET.Element) -> list[tuple[str, Box]]:
    """The words of a drawing with the boxes of their letters, px; without those inside wheels, tags and flags."""
    found = []
    marked = {id(text) for each in group.iter(f"{SVG}g") if (each.get("class") or "").split(" ")[0] in
              ("tags", "findings") for text in each.iter(f"{SVG}text")}
    for text in group.iter(f"{SVG}text"):
        if id(text) in marked or text.get("fill") == "#fff" or not text.text:
            continue
        size = float(text.get("font-size") or 0)
        long = width(text.text, size, text.get("font-weight") == "bold")
        before = {"start": 0.0, "middle": long / 2, "end": long}[text.get("text-anchor") or "start"]
        turned = re.match(r"translate\(([-\d.]+),([-\d.]+)\) rotate\(-90\)", text.get("transform") or "")
        up, down = 0.7 * size, 0.2 * size
        if turned:
            x, y = float(turned[1]), float(turned[2])
            found.append((text.text, (x - up, y - long + before, x + down, y + before)))
        else:
            x, y = float(text.get("x") or 0), float(text.get("y") or 0)
            found.append((text.text, (x - before, y - up, x - before + long, y + down)))
    return found


def lines_in(group: ET.Element) -> list[Box]:
    """The straight pieces of all lines."""
    found = []
    for way in group.iter(f"{SVG}path"):
        if way.get("class") == "way":
            for chain in (way.get("d") or "").split("M")[1:]:
                places = [tuple(map(float, place.split())) for place in chain.split("L")]
                found += [(min(a, c), min(b, d), max(a, c), max(b, d)) for (a, b), (c, d) in zip(places, places[1:])]
    return found


def meet(a: Box, b: Box) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


@pytest.mark.parametrize("name", example_names())
def test_no_words_on_a_line_or_on_other_words(name: str) -> None:
    group = next(g for g in root_of(name).iter(f"{SVG}g") if g.get("class") == "circuit")
    words, lines = words_in(group), lines_in(group)
    assert len(words) > 20 and len(lines) > 10
    assert [(a, b) for i, (a, one) in enumerate(words) for b, other in words[:i] if meet(one, other)] == []
    assert [(a, line) for a, one in words for line in lines if meet(one, line)] == []


@pytest.mark.parametrize("name", example_names())
def test_the_structure_is_sound(name: str) -> None:
    root = root_of(name)
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    assert len(ids) == len(set(ids))
    uses = list(root.iter(f"{SVG}use"))
    assert uses and all((use.get("href") or "#")[1:] in ids and use.get(LINK) == use.get("href") for use in uses)
    assert (root.findtext(f"{SVG}title") or "").strip()
    groups = [g for g in root.iter(f"{SVG}g") if (g.get("class") or "").split(" ")[0] in ("device", "net")]
    assert groups and all((g.findtext(f"{SVG}title") or "").strip() for g in groups)
    assert not list(root.iter(f"{SVG}image"))


SCREEN_PX, LEAST_PX, WIDEST = 1440, 9.0, 1.9


@pytest.mark.parametrize("name", example_names())
def test_letters_are_legible_on_a_screen(name: str) -> None:
    """As wide as a screen of 1440 px, no letter is smaller than 9 px, and the picture is no strip."""
    root = root_of(name)
    _, _, wide, high = map(float, (root.get("viewBox") or "").split())
    sizes = [float(text.get("font-size") or 0) for text in root.iter(f"{SVG}text") if text.text]
    assert len(sizes) > 20
    assert min(sizes) * SCREEN_PX / wide >= LEAST_PX
    assert wide / high <= WIDEST


@pytest.mark.parametrize("name", example_names())
def test_layers_are_named_by_circuit_and_a_reader_is_told(name: str) -> None:
    root = root_of(name)
    layers = {g.get("id"): g for g in root.iter(f"{SVG}g") if g.get("class") == "layer"}
    nets = [g for g in root.iter(f"{SVG}g") if (g.get("class") or "").startswith("net ")]
    assert layers and sum(len(list(layer)) for layer in layers.values()) == len(nets)
    for own, layer in layers.items():
        assert layer.get("aria-label")
        for net in layer:
            assert (net.get("class") or "").split()[-1] == (own or "").removeprefix("layer-")
    assert (root.findtext(f"{SVG}desc") or "").startswith("Schematic of a compressed-air circuit with ")
