"""The page in a browser: quiet, reachable by keyboard, readable, and doing what its controls say."""

from pathlib import Path

import pytest

from circuit.report.marked import marks_of
from circuit.report.page import page
from tests.page.browser import board_of, opened
from tests.page.test_page import PLAYED, verdict


def test_a_part_that_is_chosen_is_told_of(truck):
    truck.hover('[data-name="gov"]')
    assert truck.locator("#sheet .ring").count() == 1 and not truck.is_visible("#beside")
    truck.click('[data-name="gov"]')
    words = truck.text_content("#beside")
    assert "Governor" in words and "8.6 bar" in words and "assumed" in words
    x, y = truck.evaluate("""() => { const line = shapes.get('pri -> foot.11');
      const at = line.getPointAtLength(line.getTotalLength() * 0.3).matrixTransform(line.getScreenCTM());
      return [at.x, at.y]; }""")
    truck.mouse.click(x, y)
    assert "from pri to foot.11" in truck.text_content("#about-head")
    truck.click("#away")
    assert not truck.is_visible("#beside")


def test_zoom_pan_and_fit(truck):
    box = "() => { const b = sheet.viewBox.baseVal; return [b.x, b.y, b.width, b.height]; }"
    whole = truck.evaluate(box)
    truck.click("#zoom-in")
    near = truck.evaluate(box)
    assert near[2] < 0.75 * whole[2]
    truck.focus("#view")
    truck.keyboard.press("ArrowRight")
    assert truck.evaluate(box)[0] > near[0]
    truck.mouse.move(600, 400)
    truck.mouse.wheel(0, -300)
    assert truck.evaluate(box)[2] < near[2]
    before = truck.evaluate(box)
    truck.mouse.down()
    truck.mouse.move(500, 430, steps=4)
    truck.mouse.up()
    assert truck.evaluate(box)[0] > before[0]
    truck.focus("#view")
    truck.keyboard.press("f")
    assert truck.evaluate(box) == pytest.approx(whole)


@pytest.mark.parametrize("by_circuit", [False, True])
def test_every_part_is_in_sight_at_first(board, by_circuit):
    board.set_checked("#by-circuit", by_circuit)
    assert board.evaluate("""() => { const room = view.getBoundingClientRect();
      return [...shapes].filter(([, shape]) => { const box = shape.getBoundingClientRect();
        return box.left < room.left || box.right > room.right || box.top < room.top || box.bottom > room.bottom; })
        .map(([name]) => name); }""") == []


def test_keys_reach_every_part(truck):
    truck.focus("#view")
    truck.keyboard.press("Enter")
    seen = {truck.evaluate("document.activeElement.dataset.name")}
    for key in ["ArrowRight"] * 12 + ["ArrowUp"] * 5 + ["ArrowLeft"] * 4 + ["ArrowDown"] * 5:
        truck.keyboard.press(key)
        seen.add(truck.evaluate("document.activeElement.dataset.name"))
    assert len(seen) > 8 and None not in seen
    assert truck.evaluate("document.activeElement.getAttribute('aria-label')")
    for _ in range(5):
        truck.keyboard.press("+")
    assert truck.evaluate("""() => { const a = document.activeElement.getBoundingClientRect(), v = view.getBoundingClientRect();
      return a.left < v.right && a.right > v.left && a.top < v.bottom && a.bottom > v.top; }""")
    truck.keyboard.press("Escape")
    assert truck.evaluate("document.activeElement.id") == "view"


def test_a_finding_lights_its_parts_and_the_reverse(board):
    entry = board.locator("li.finding").last
    parts = board.evaluate("name => new Map(data.findings).get(name)", entry.get_attribute("data-finding"))
    assert parts
    entry.locator(".pick").click()
    assert entry.locator(".pick").get_attribute("aria-pressed") == "true"
    lit = board.locator("#sheet .ring").count() + board.locator("#sheet .line.lit").count()
    assert lit == len(parts)
    board.evaluate("(name) => choosePart(name)", parts[0])
    assert f"Finding {entry.get_attribute('data-finding')}" in board.text_content("#about-head")


def test_the_clause_filter_hides_other_outcomes(board):
    board.check('input[name=outcome][value="not-met"]')
    shown = board.locator("#table-clauses tbody tr:visible")
    every = board.locator("#table-clauses tr.not-met").count()
    assert shown.count() == every > 0
    board.fill("#clause-filter", shown.first.locator("td").nth(3).inner_text()[:30])
    assert 0 < shown.count() <= every and "shown" in board.text_content("#clause-count")
    board.fill("#clause-filter", "no such words at all")
    assert shown.count() == 0


CONTRAST = (Path(__file__).parent / "contrast.js").read_text(encoding="utf-8")


def weak_texts(found):
    """Texts of too little contrast; there must be texts at all."""
    measured = found.evaluate(CONTRAST)
    assert measured["seen"] > 150
    return measured["weak"]


@pytest.mark.parametrize("name, width, scheme", [("truck-6x4", 1400, "light"), ("teaching-board", 1400, "dark"),
                                                 ("teaching-board", 390, "light")])
def test_text_has_contrast(running, files, name, width, scheme):
    found, _ = board_of(running, files / f"{name}.html", viewport={"width": width, "height": 900}, color_scheme=scheme)
    assert weak_texts(found) == []
    found.evaluate("choosePart('foot')")
    found.evaluate("fail(failureOf('foot', data.parts.foot.failures[0][0]), 1)")
    found.wait_for_function("() => board.condition.failures.length === 1")
    assert weak_texts(found) == []
    found.set_checked("#by-circuit", True)
    if name == PLAYED:
        found.evaluate("choose(data.findings[0][0])")
    assert weak_texts(found) == []
    found.close()


def test_a_text_of_little_contrast_is_noticed(board):
    """What measures can fail: grey words on the page, and grey words in the drawing."""
    board.evaluate("document.querySelector('h1').style.color = '#999'")
    board.evaluate("document.querySelector('#sheet .device text').setAttribute('fill', '#aaa')")
    assert len(weak_texts(board)) == 2


def test_the_focus_is_seen_and_goes_in_order(board):
    """From the top by Tab: each stop has an outline of its own."""
    board.evaluate("document.activeElement.blur()")
    stops = []
    for _ in range(18):
        board.keyboard.press("Tab")
        stops.append(board.evaluate("""() => { const at = document.activeElement;
          const style = getComputedStyle(at);
          return [at.id || at.name || at.className, style.outlineStyle, parseFloat(style.outlineWidth)]; }"""))
    assert all(style == "solid" and width >= 2 for _, style, width in stops), stops
    names = [name for name, _, _ in stops]
    assert names[0] == "skip" and names[1] == "play"
    order = [names.index(name) for name in ("play", "slide", "pace", "hold", "ready", "copy")]
    assert order == sorted(order)


def test_every_control_has_a_name_and_is_large_enough(truck):
    nameless = truck.evaluate("""() => [...document.querySelectorAll('button, input, select, summary')].filter((e) =>
      !(e.textContent.trim() || e.getAttribute('aria-label') || e.labels?.[0]?.textContent.trim())).map((e) => e.outerHTML)""")
    assert nameless == []
    small = truck.evaluate("""() => [...document.querySelectorAll('button:not(.part), select, summary')].filter((e) => {
      const b = e.getBoundingClientRect(); return b.height && (b.height < 24 || b.width < 24); }).map((e) => e.outerHTML)""")
    assert small == []


@pytest.mark.parametrize("width", [360, 768, 1400])
def test_nothing_sticks_out_sideways(running, files, width):
    found, _ = board_of(running, files / "teaching-board.html", viewport={"width": width, "height": 800})
    for part in ("", "foot", "wet-drain"):
        found.evaluate("(part) => part && choosePart(part)", part)
        assert found.evaluate("document.documentElement.scrollWidth") <= width, part
    found.close()


def test_it_prints_whole(running, files, tmp_path):
    found, trouble = opened(running, files / "teaching-board.html")
    found.emulate_media(media="print")
    assert not found.is_visible("#beside") and not found.is_visible(".zooms") and not found.is_visible("#play")
    assert found.evaluate("document.querySelector('.scroll').scrollHeight <= document.querySelector('.scroll').clientHeight + 1")
    assert found.pdf(path=tmp_path / "page.pdf", prefer_css_page_size=True)[:5] == b"%PDF-"
    assert trouble == []
    found.close()


def test_it_reads_without_scripts(running, files):
    context = running.new_context(java_script_enabled=False)
    found = context.new_page()
    found.goto((files / "teaching-board.html").as_uri())
    assert found.is_visible("li.finding >> nth=0") and found.is_visible("#sheet") and not found.is_visible(".pills")
    context.close()


LETTERS = """() => [...sheet.querySelectorAll('text')].filter((text) => {
  const box = text.getBoundingClientRect(), room = view.getBoundingClientRect();
  return box.width && getComputedStyle(text).display !== 'none' && text.getClientRects().length
    && box.right > room.left && box.left < room.right; }).map((text) => [text.textContent,
    parseFloat(getComputedStyle(text).fontSize)
    * Math.hypot(text.getScreenCTM().a, text.getScreenCTM().b), text.parentNode.classList.contains('device')
    && text.getAttribute('font-weight') === 'bold'])"""


@pytest.mark.parametrize("name, width", [("truck-6x4", 1440), ("truck-6x4", 1024), ("teaching-board", 390)])
def test_every_letter_can_be_read_at_first(running, files, name, width):
    found, _ = board_of(running, files / f"{name}.html", viewport={"width": width, "height": 900})
    letters = found.evaluate(LETTERS)
    assert len(letters) > 20
    assert [each for each in letters if each[1] < 8.99 or each[2] and each[1] < 11.99] == []
    for _ in range(6):
        found.click("#zoom-out")
        assert [each for each in found.evaluate(LETTERS) if each[1] < 8.99] == []
    found.close()


@pytest.mark.slow
@pytest.mark.parametrize("name", ["combination-train", "city-bus", "semitrailer-old", "tyre-inflation"])
def test_other_vehicles_play_quietly(running, tmp_path, name):
    """Every scene and every tenth failure, a second each."""
    found = verdict(name)
    path = tmp_path / "page.html"
    path.write_text(page(found, marks_of(found)), encoding="utf-8")
    board, trouble = board_of(running, path)
    for number in range(board.evaluate("board.given.prepared.length")):
        board.evaluate("async (number) => { await playScene(board.given.prepared[number]); halt(); await goOn(1); }", number)
    for number in range(0, board.evaluate("board.given.failures.length"), 10):
        board.evaluate("async (number) => { await playFailure(number); halt(); await goOn(1); }", number)
    whole = board.evaluate("frame.width")
    for button in board.locator("button[data-vehicle]").all():
        button.click()
        assert board.evaluate("frame.width") != whole
    assert board.locator("button[data-vehicle]").count() == len(found.circuit.vehicles)
    assert trouble == [] and board.evaluate("board.trouble") == "" and path.stat().st_size < 900_000
    board.close()
