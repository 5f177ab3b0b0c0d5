"""The page in a browser: quiet, reachable by keyboard, readable, and doing what its controls say."""

import pytest

from circuit.pipeline import marks_of
from circuit.report.page import page
from tests.page.browser import browser, opened
from tests.page.test_page import PLAYED, text, verdict


@pytest.fixture(scope="module")
def running():
    with browser() as found:
        yield found


@pytest.fixture(scope="module")
def files(tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    for name in ("truck-6x4", PLAYED):
        (folder / f"{name}.html").write_text(text(name, name == PLAYED), encoding="utf-8")
    return folder


@pytest.fixture
def truck(running, files):
    found, trouble = opened(running, files / "truck-6x4.html", viewport={"width": 1400, "height": 900})
    yield found
    assert trouble == []
    found.close()


@pytest.fixture
def board(running, files):
    found, trouble = opened(running, files / "teaching-board.html", viewport={"width": 1400, "height": 900})
    yield found
    assert trouble == []
    found.close()


def pill(found, name):
    space = found.evaluate(f"data.parts['{name}'].ports[0][2]")
    return found.text_content(f'.pill[data-space="{space}"] text')


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


def test_states_colour_and_write_pressures(truck):
    assert not truck.is_visible(".pills")
    truck.check('input[name=state][value="driving"]')
    assert truck.is_visible(".pill >> nth=0") and "Driving" in truck.text_content("#state-says")
    assert pill(truck, "pri") == "8.5"
    truck.check('input[name=unit][value="psi"]')
    assert pill(truck, "pri") == "123" and "psi" in truck.text_content(".bands")
    empty = truck.get_attribute('.air[data-ends^="%d "]' % truck.evaluate("data.parts['rear-relay'].ports.find(p => p[0] == '2')[2]"),
                                "stroke-dasharray")
    truck.check('input[name=state][value="braking"]')
    full = truck.get_attribute('.air[data-ends^="%d "]' % truck.evaluate("data.parts['rear-relay'].ports.find(p => p[0] == '2')[2]"),
                               "stroke-dasharray")
    assert empty != "none" and full == "none"
    truck.check('input[name=state][value=""]')
    assert not truck.is_visible(".pills") and not truck.is_visible(".bands")


def test_scenes_play(board):
    board.check('input[name=state][value="scene-apply"]')
    assert board.is_visible("#plot svg") and "from" in board.get_attribute("#plot svg", "aria-label")
    brakes = [n for n in ("front-left", "front-right", "rear-left", "rear-right")
              if board.locator('.pill[data-space="%d"]' % board.evaluate(f"data.parts['{n}'].ports[0][2]")).count()]
    assert brakes
    first = pill(board, brakes[0])
    board.evaluate("() => { slide.value = 60; slide.dispatchEvent(new Event('input')); }")
    assert float(first) == 0 and float(pill(board, brakes[0])) > 5 and board.text_content("#clock") == "2.25 s"
    board.evaluate("() => { slide.value = 0; slide.dispatchEvent(new Event('input')); }")
    board.select_option("#speed", "20")
    board.click("#play")
    board.wait_for_function("() => Number(slide.value) >= 159", timeout=5000)
    assert board.text_content("#play") == "Play"


def test_zoom_pan_and_fit(truck):
    box = "() => { const b = sheet.viewBox.baseVal; return [b.x, b.y, b.width, b.height]; }"
    whole = truck.evaluate(box)
    truck.click("#zoom-in")
    near = truck.evaluate(box)
    assert near[2] < 0.75 * whole[2]
    truck.focus("#view")
    truck.keyboard.press("ArrowRight")
    assert truck.evaluate(box)[0] > near[0]
    truck.mouse.move(600, 450)
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
    parts = board.evaluate("new Map(data.findings).get('%s')" % entry.get_attribute("data-finding"))
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
    assert shown.count() == board.locator("#table-clauses tr.not-met").count() > 0


CONTRAST = """() => {
  const bright = (c) => { const [r, g, b] = c.match(/[\\d.]+/g).slice(0, 3).map((v) => { v /= 255;
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; }); return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
  const ratio = (a, b) => { const [x, y] = [bright(a), bright(b)].sort((m, n) => n - m); return (x + 0.05) / (y + 0.05); };
  const ground = (e) => { for (; e; e = e.parentElement) { const c = getComputedStyle(e).backgroundColor;
    if (!c.endsWith(', 0)') && c !== 'transparent') return c; } return 'rgb(255, 255, 255)'; };
  const weak = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const e = walker.currentNode.parentElement;
    if (!walker.currentNode.textContent.trim() || e.closest('script, style, noscript')) continue;
    const style = getComputedStyle(e);
    const ink = e.closest('svg') ? style.fill : style.color;
    if (ink === 'none' || (e.closest('svg') && ink === 'rgb(255, 255, 255)')) continue;  // white on a mark of its own
    const paper = e.closest('.finding .flag, #sheet .findings, #sheet .device') ? null : ground(e);
    if (!paper) continue;
    const found = ratio(ink, paper);
    if (found < 4.5) weak.push([e.outerHTML.slice(0, 80), found]);
  }
  return weak;
}"""


@pytest.mark.parametrize("name", ["truck-6x4", "teaching-board"])
def test_text_has_contrast(running, files, name):
    found, _ = opened(running, files / f"{name}.html")
    assert found.evaluate(CONTRAST) == []
    found.check('input[name=state][value="driving"]')
    assert found.evaluate(CONTRAST) == []
    found.close()


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
    assert found.evaluate("document.documentElement.scrollWidth") <= width
    found.close()


def test_it_prints_whole(running, files, tmp_path):
    found, trouble = opened(running, files / "teaching-board.html")
    found.emulate_media(media="print")
    assert not found.is_visible("#about") and not found.is_visible(".zooms")
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
    for key in opened_page.evaluate("[...document.querySelectorAll('input[name=state]')].map((e) => e.value)"):
        opened_page.check(f'input[name=state][value="{key}"]')
    assert trouble == [] and path.stat().st_size < 2_000_000
    opened_page.close()
