"""Words and bands on a sheet: widths of letters, what is free, how bands are packed, fields of a frame, bands of pressure."""

from itertools import combinations
from random import Random

import pytest

from circuit.draw import medium, pack, pressure, text
from circuit.draw.border import field_at
from circuit.draw.marks import Mark, Names
from circuit.draw.palette import OTHER_COLOURS, SERVICE_COLOURS, SOURCE_COLOUR, colours
from circuit.draw.pressure import BANDS, band_of, band_titles, left_over, written
from circuit.draw.roles import PARKING, SERVICE, SOURCE, Member
from circuit.draw.room import Space, Text
from circuit.draw.tree import Stretch
from circuit.units import ATMOSPHERE

PSI = 6894.757293168361


# --- letters ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("bold", [False, True])
def test_words_are_as_wide_as_the_typeface_makes_them(bold: bool):
    """Against the metrics of the same typeface as a PDF library reads them from its file."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.ttfonts import TTFont

    name = "VeraBd" if bold else "Vera"
    pdfmetrics.registerFont(TTFont(name, f"{name}.ttf"))
    for words in ("reservoir", "wet 46 L supply", "Q-0|%~", "WWW iii", "pops out 2.1 bar", "()[]{}"):
        assert text.width(words, 11, bold) == pytest.approx(pdfmetrics.stringWidth(words, name, 11), rel=0.01)
    for character in map(chr, range(32, 127)):
        assert text.width(character, 100, bold) == pytest.approx(pdfmetrics.stringWidth(character, name, 100), abs=0.6)


def test_a_character_outside_the_table_counts_as_a_wide_one():
    assert text.width("é", 10) == pytest.approx(7.0) and text.width("漢", 10) == pytest.approx(10.0)
    assert text.width("", 10) == 0.0 and text.width("\n", 10) == pytest.approx(7.0)


def test_a_text_is_cut_with_dots():
    assert text.shortened("reservoir", 10, 100) == "reservoir"
    cut = text.shortened("a very long name", 10, 50)
    assert cut.endswith("...") and text.width(cut, 10) <= 50 and "a very long name".startswith(cut[:-3])
    assert text.width(cut[:-3] + "xx...", 10) > 50, "no more is cut than must be"
    assert text.shortened("wide", 10, 1) == "..."


@pytest.mark.parametrize("anchor, left", [("start", 3.0), ("middle", 3.0 - 0.5), ("end", 3.0 - 1.0)])
def test_the_box_of_words_lies_round_them(anchor: str, left: float):
    words = Text(3.0, 5.0, "x", 10 / text.width("x", 1.0), "name", anchor=anchor)  # one U wide
    box = words.box
    assert box[0] == pytest.approx(left) and box[2] == pytest.approx(left + 1.0)
    assert box[1] < 5.0 < box[3] and 5.0 - box[1] > box[3] - 5.0, "more above the base line than below it"


def test_upright_words_run_upward():
    lying, standing = (Text(3.0, 5.0, "name", 10, "tube", upright=upright).box for upright in (False, True))
    assert standing[3] - standing[1] == pytest.approx(lying[2] - lying[0])
    assert standing[3] == 5.0 and standing[1] < 5.0 and standing[0] < 3.0 < standing[2]


# --- free room -------------------------------------------------------------------------------------------------------


def test_a_place_is_free_where_nothing_is_within_its_margin():
    space = Space()
    space.take((10.0, 10.0, 20.0, 12.0))
    assert not space.is_free((19.0, 11.0, 25.0, 15.0)) and space.is_free((21.0, 10.0, 25.0, 12.0))
    assert not space.is_free((20.2, 10.0, 25.0, 12.0)) and space.is_free((20.2, 10.0, 25.0, 12.0), pad=0.1)
    assert not space.is_free((10.0, 12.1, 20.0, 14.0)) and space.is_free((10.0, 12.2, 20.0, 14.0))
    line = Stretch((0.0, 5.0), (40.0, 5.0), "supply")
    space.run(line)
    assert not space.is_free((30.0, 4.0, 32.0, 6.0)) and space.is_free((30.0, 4.0, 32.0, 6.0), over=(line,))
    other = space.copy()
    other.take((30.0, 0.0, 40.0, 3.0))
    assert space.is_free((30.0, 0.0, 32.0, 2.0)) and not other.is_free((30.0, 0.0, 32.0, 2.0))
    far = Space()
    far.take((-20.0, 0.0, -9.0, 2.0))
    assert not far.is_free((-10.0, 1.0, -8.5, 1.5)) and far.is_free((-8.0, 1.0, -7.0, 1.5))


# --- bands on sheets -------------------------------------------------------------------------------------------------


def apart(sizes: list[tuple[float, float]], block: pack.Block, bands: tuple[int, ...]) -> bool:
    boxes = [(x, y, x + sizes[n][0], y + sizes[n][1]) for n, (x, y) in zip(bands, block.places)]
    return all(a[2] + pack.GAP <= b[0] + 1e-9 or b[2] + pack.GAP <= a[0] + 1e-9 or a[3] + pack.GAP <= b[1] + 1e-9
               or b[3] + pack.GAP <= a[1] + 1e-9 for a, b in combinations(boxes, 2))


@pytest.mark.parametrize("seed", range(12))
def test_bands_stand_apart_on_as_few_sheets_as_hold_them(seed: int):
    chance = Random(seed)
    sizes = [(chance.uniform(20, 60), chance.uniform(10, 40)) for _ in range(2 + seed % 5)]
    sheets = pack.on_sheets(sizes, 100.0, 70.0)
    assert sorted(n for sheet in sheets for n in sheet.bands) == list(range(len(sizes)))
    for sheet in sheets:
        assert apart(sizes, sheet.block, sheet.bands)
        assert sheet.block.wide <= 100.0 and sheet.block.high <= 70.0
        assert sheet.block.wide == pytest.approx(max(x + sizes[n][0] for n, (x, _) in zip(sheet.bands, sheet.block.places)))
        assert sheet.block.high == pytest.approx(max(y + sizes[n][1] for n, (_, y) in zip(sheet.bands, sheet.block.places)))
    area = sum(wide * high for wide, high in sizes)
    assert len(sheets) >= area / 7000.0
    roll = pack.on_a_roll(sizes, 100.0, 1.75)
    assert apart(sizes, roll, tuple(range(len(sizes)))) and roll.wide <= 100.0


def test_two_bands_that_fit_share_a_sheet_and_two_that_do_not_have_one_each():
    assert len(pack.on_sheets([(40.0, 30.0), (40.0, 30.0)], 100.0, 70.0)) == 1
    assert len(pack.on_sheets([(80.0, 50.0), (80.0, 50.0)], 100.0, 70.0)) == 2
    (sheet,) = pack.on_sheets([(45.0, 60.0), (45.0, 60.0)], 100.0, 70.0)
    assert sheet.block.places == ((0.0, 0.0), (45.0 + pack.GAP, 0.0)), "side by side, as one above the other is too high"
    (sheet,) = pack.on_sheets([(90.0, 30.0), (90.0, 30.0)], 100.0, 70.0)
    assert sheet.block.places == ((0.0, 0.0), (0.0, 30.0 + pack.GAP))


def test_a_band_too_large_for_a_sheet_has_one_of_its_own():
    sheets = pack.on_sheets([(120.0, 80.0), (20.0, 10.0)], 100.0, 70.0)
    assert [sheet.bands for sheet in sheets] == [(0,), (1,)]


def test_bands_keep_their_order_unless_another_takes_fewer_sheets():
    assert [s.bands for s in pack.on_sheets([(90.0, 30.0), (90.0, 30.0), (90.0, 60.0)], 100.0, 70.0)] == [(0, 1), (2,)]
    assert [s.bands for s in pack.on_sheets([(90.0, 30.0), (90.0, 60.0), (90.0, 30.0)], 100.0, 70.0)] == [(0, 2), (1,)]


# --- media -----------------------------------------------------------------------------------------------------------


def test_sheets_have_the_sizes_of_their_standards():
    """ISO 216: A4 is 210 by 297 mm, A3 twice that; ANSI: Letter 8.5 by 11 in, Tabloid 11 by 17 in."""
    assert medium.SIZES["A4"] == (297.0, 210.0) and medium.SIZES["A3"] == (420.0, 297.0)
    assert medium.SIZES["Letter"] == pytest.approx((11 * 25.4, 8.5 * 25.4))
    assert medium.SIZES["Tabloid"] == pytest.approx((17 * 25.4, 11 * 25.4))


@pytest.mark.parametrize("size", sorted(medium.SIZES))
def test_the_drawing_has_the_sheet_less_its_frame_and_strip(size: str):
    left, bottom, wide, high = medium.room(size)
    whole = medium.SIZES[size]
    inner = medium.EDGE + medium.ZONE + medium.AROUND
    assert left == inner and left + wide == pytest.approx(whole[0] - inner)
    assert bottom == pytest.approx(inner + medium.STRIP) and bottom + high == pytest.approx(whole[1] - inner)
    sheet = medium.paper(size)
    capital = text.CAPITAL * text.LETTER / 10 * wide / sheet.wide  # mm, when the drawing fills the width
    assert capital == pytest.approx(1.8), "ISO 3098: no letter lower than 1.8 mm"
    assert sheet.sheets and not medium.SCREEN.sheets
    assert sheet.high / sheet.wide == pytest.approx(high / wide)


@pytest.mark.parametrize("size, corners", [("A3", ("A1", "A8", "F1", "F8")), ("A4", ("A1", "A6", "D1", "D6"))])
def test_fields_of_the_frame_are_lettered_down_and_numbered_along(size: str, corners: tuple[str, ...]):
    wide, high = medium.SIZES[size]
    inner = medium.EDGE + medium.ZONE + 0.1
    places = ((inner, high - inner), (wide - inner, high - inner), (inner, inner), (wide - inner, inner))
    assert tuple(field_at(size, x, y) for x, y in places) == corners
    assert field_at(size, -5.0, high + 5.0) == "A1", "what lies in the margin counts as in the nearest field"


# --- pressures -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("psi, band", [(-3, 0), (0, 0), (4.9, 0), (5.1, 1), (29.9, 1), (30.1, 2), (59, 2), (61, 3), (89, 3),
                                       (91, 4), (140, 4)])
def test_a_line_is_of_the_band_of_its_pressure(psi: float, band: int):
    assert band_of(ATMOSPHERE + psi * PSI) is BANDS[band]


def test_bands_read_without_colour():
    assert [band.weight for band in BANDS] == sorted(band.weight for band in BANDS)
    assert BANDS[0].dash and not any(band.dash for band in BANDS[1:])
    assert band_titles("psi") == ["below 5 psi", "5 to 30 psi", "30 to 60 psi", "60 to 90 psi", "90 psi and more"]
    assert band_titles("bar") == ["below 0.3 bar", "0.3 to 2.1 bar", "2.1 to 4.1 bar", "4.1 to 6.2 bar", "6.2 bar and more"]


def test_a_pressure_is_written_as_a_gauge_shows_it():
    assert written(ATMOSPHERE + 100 * PSI, "psi") == "100" and written(ATMOSPHERE + 5.25e5, "bar") in ("5.2", "5.3")
    assert written(ATMOSPHERE - 2000, "psi") == "0" and written(ATMOSPHERE, "bar") == "0.0"


def test_what_no_line_has_drawn_as_its_own_is_left_over():
    whole = Stretch((0.0, 2.0), (10.0, 2.0), "supply")
    own = [[Stretch((1.0, 2.0), (3.0, 2.0), "supply")], [Stretch((6.0, 2.0), (12.0, 2.0), "supply")]]
    assert [(s.start, s.end) for s in left_over(whole, own)] == [((0.0, 2.0), (1.0, 2.0)), ((3.0, 2.0), (6.0, 2.0))]
    assert left_over(whole, [[Stretch((0.0, 2.0), (10.0, 2.0), "supply")]]) == []
    elsewhere = [[Stretch((1.0, 3.0), (3.0, 3.0), "supply")]]
    assert [(s.start, s.end) for s in left_over(whole, elsewhere)] == [((0.0, 2.0), (10.0, 2.0))]
    upright = Stretch((5.0, 0.0), (5.0, 8.0), "supply")
    found = left_over(upright, [[Stretch((5.0, 0.0), (5.0, 6.0), "supply")]])
    assert [(s.start, s.end) for s in found] == [((5.0, 6.0), (5.0, 8.0))]


def test_a_pill_is_dashed_where_there_is_no_air():
    reading = pressure.Reading({7: ATMOSPHERE + 60.4 * PSI})
    full, empty = pressure.pill((1.0, 2.0), 7, reading), pressure.pill((1.0, 2.0), 8, reading)
    assert ">60<" in full and "dasharray" not in full and BANDS[3].colour in full and 'data-space="7"' in full
    assert ">0<" in empty and "dasharray" in empty and "translate(10,20)" in empty


# --- marks, names, colours -------------------------------------------------------------------------------------------


def test_a_flag_has_the_number_and_in_a_combination_the_vehicles_letter():
    assert Mark("pri", "12").flag == "12" and Mark("pri", "tractor 3").flag == "t3"


def test_ids_are_given_once():
    names = Names()
    given = [names.give("part", word) for word in ("wet", "d1-left.can", "wet", "!?", "?", "Wet_2")]
    assert given == ["part-wet", "part-d1-left-can", "part-wet-2", "part-x", "part-x-2", "part-Wet_2"]
    assert [names.give("line", "x") for _ in range(3)] == ["line-x", "line-x-2", "line-x-3"]


def test_circuits_have_colours_of_their_own():
    members = [Member(0, SOURCE, "source"), Member(1, SERVICE, "one"), Member(2, SERVICE, "two"), Member(3, PARKING, "park")]
    found = colours(members)
    assert found[0] == SOURCE_COLOUR and found[3] == OTHER_COLOURS[PARKING]
    assert found[1] in SERVICE_COLOURS and found[2] in SERVICE_COLOURS and len(set(found.values())) == 4
