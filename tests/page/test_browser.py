"""The page in a browser: quiet, reachable by keyboard, readable, and doing what its controls say."""

from pathlib import Path

import pytest

from circuit.report.marked import marks_of
from circuit.report.page import page
from tests.page.browser import opened, show, slide_to
from tests.page.test_page import PLAYED, verdict


def test_pointing_at_a_part_tells_of_it(truck):
    truck.hover('[data-name="gov"]')
    words = truck.text_content("#about")
    assert "Governor" in words and "8.6 bar" in words and "assumed" in words
    assert truck.locator("#sheet .ring").count() == 1
    x, y = truck.evaluate("""() => { const line = shapes.get('pri -> foot.11');
      const at = line.getPointAtLength(line.getTotalLength() * 0.3).matrixTransform(line.getScreenCTM());
      return [at.x, at.y]; }""")
    truck.mouse.move(x, y)
    assert "from pri to foot.11" in truck.text_content("#about")


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
    truck.keyboard.press("0")
    assert truck.evaluate(box) == pytest.approx(whole)


@pytest.mark.parametrize("mode", ["circuits", "rest"])
def test_every_part_is_in_sight_at_first(board, mode):
    show(board, mode)
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
    board.hover(f'[data-name="{parts[0]}"]')
    assert f"Finding {entry.get_attribute('data-finding')}" in board.text_content("#about")


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


@pytest.mark.parametrize("name, width", [("truck-6x4", 1400), ("teaching-board", 1400), ("teaching-board", 390)])
def test_text_has_contrast(running, files, name, width):
    found, _ = opened(running, files / f"{name}.html", viewport={"width": width, "height": 900})
    assert weak_texts(found) == []
    show(found, "rest", "rest-driving")
    assert weak_texts(found) == []
    if name == PLAYED:
        found.evaluate("choose(data.findings[0][0])")
        show(found, "trial")
        assert weak_texts(found) == []
        show(found, "fault")
        slide_to(found, 24)
        assert weak_texts(found) == []
    found.close()


def test_a_text_of_little_contrast_is_noticed(board):
    """What measures can fail: grey words on the page, and grey words in the drawing."""
    board.evaluate("document.querySelector('h1').style.color = '#999'")
    board.evaluate("document.querySelector('#sheet .device text').setAttribute('fill', '#aaa')")
    assert len(weak_texts(board)) == 2


def test_the_focus_is_seen_and_goes_in_order(board):
    """From the top by Tab: each stop has an outline of its own, or the words beside a hidden button have it."""
    board.evaluate("document.activeElement.blur()")
    stops = []
    for _ in range(14):
        board.keyboard.press("Tab")
        stops.append(board.evaluate("""() => { const at = document.activeElement;
          const seen = at.closest('.modes') ? at.nextElementSibling : at;
          const style = getComputedStyle(seen);
          return [at.id || at.name || at.className, style.outlineStyle, parseFloat(style.outlineWidth)]; }"""))
    assert all(style == "solid" and width >= 2 for _, style, width in stops), stops
    names = [name for name, _, _ in stops]
    assert names[0] == "skip" and names[1].startswith("chip")
    order = [names.index(name) for name in ("unit", "zoom-out", "view", "mode", "play")]
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
    found, _ = opened(running, files / "teaching-board.html", viewport={"width": width, "height": 800})
    for mode in ("circuits", "rest", "play", "trial", "fault"):
        show(found, mode)
        assert found.evaluate("document.documentElement.scrollWidth") <= width, mode
    found.close()


def test_it_prints_whole(running, files, tmp_path):
    found, trouble = opened(running, files / "teaching-board.html")
    found.emulate_media(media="print")
    assert not found.is_visible("#about") and not found.is_visible(".zooms") and not found.is_visible("#play")
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


@pytest.mark.slow
@pytest.mark.parametrize("name", ["combination-train", "city-bus", "semitrailer-old", "tyre-inflation"])
def test_other_vehicles_open_quietly(running, tmp_path, name):
    found = verdict(name)
    path = tmp_path / "page.html"
    path.write_text(page(found, marks_of(found)), encoding="utf-8")
    opened_page, trouble = opened(running, path)
    for mode in opened_page.evaluate("""[...document.querySelectorAll('input[name=mode]')].filter((each) =>
      !each.closest('[hidden]')).map((each) => each.value)"""):
        show(opened_page, mode)
        keys = [] if mode == "circuits" else opened_page.evaluate("[...choice.options].map((each) => each.value)")
        for key in keys[:: max(1, len(keys) // 12)]:
            show(opened_page, mode, key)
    whole = opened_page.evaluate("frame.width")
    for button in opened_page.locator("button[data-vehicle]").all():
        button.click()
        assert opened_page.evaluate("frame.width") < whole
    assert opened_page.locator("button[data-vehicle]").count() == len(found.circuit.vehicles)
    assert trouble == [] and path.stat().st_size < 2_000_000
    opened_page.close()
