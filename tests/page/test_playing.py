"""The page in motion: scenes, trials and faults play on the schematic, its instruments and its plots."""

from tests.page.browser import opened, pill, show, slide_to


def test_states_colour_and_write_pressures(truck):
    assert not truck.is_visible(".pills") and not truck.is_visible("#bench")
    show(truck, "rest", "rest-driving")
    assert truck.is_visible(".pill >> nth=0") and "Driving" in truck.text_content("#story")
    assert pill(truck, "pri") == "8.5"
    assert truck.get_attribute(".dial >> nth=1 >> svg", "aria-label") == "pri, service reservoir: 8.5 bar"
    truck.check('input[name=unit][value="psi"]')
    assert pill(truck, "pri") == "123" and "psi" in truck.text_content(".bands")
    assert "123 psi" in truck.text_content("#dials")
    space = truck.evaluate("data.parts['rear-relay'].ports.find(p => p[0] == '2')[2]")
    line = f'.air[data-ends^="{space} "]'
    empty = truck.get_attribute(line, "stroke-dasharray")
    assert "foot up" in truck.inner_text("#switches")
    show(truck, "rest", "rest-braking")
    assert empty != "none" and truck.get_attribute(line, "stroke-dasharray") == "none"
    assert "foot 100 % down" in truck.inner_text("#switches") and "lamp ON" in truck.inner_text("#switches")
    show(truck, "circuits")
    assert not truck.is_visible(".pills") and not truck.is_visible(".bands") and not truck.is_visible("#bench")


def test_scenes_play(board):
    show(board, "play", "apply")
    assert board.is_visible("#plot svg") and "from" in board.get_attribute("#plot svg", "aria-label")
    brake = "rear-left"
    first = pill(board, brake)
    slide_to(board, 2.25)
    assert float(first) == 0 and float(pill(board, brake)) > 5 and board.text_content("#clock") == "2.25 s"
    assert board.locator("#marks .own").count() == 2 and board.locator("#marks").inner_text().split() == [
        "pedal", "down", "pedal", "up"]
    written = board.locator("#bars tr", has_text=brake).locator("td.number").first.inner_text()
    assert written == pill(board, brake)
    board.wait_for_function("() => document.getElementById('heard').textContent.includes('2.25 s')")
    assert f"{brake} {written}" in board.text_content("#heard")
    slide_to(board, 0)
    board.select_option("#pace", "20")
    board.click("#play")
    board.wait_for_function("() => Number(slide.value) >= 159", timeout=5000)
    assert board.text_content("#play") == "Play"


def test_keys_play_step_and_stop(board):
    show(board, "play", "apply")
    board.focus("#slide")
    board.keyboard.press("ArrowRight")
    board.keyboard.press("ArrowRight")
    assert board.evaluate("moment") == 2
    board.focus("#view")
    board.keyboard.press(",")
    assert board.evaluate("moment") == 1
    board.keyboard.press("Space")
    board.wait_for_function("() => moment > 3")
    assert board.text_content("#play") == "Pause"
    board.keyboard.press("Escape")
    assert board.text_content("#play") == "Play"
    stopped = board.evaluate("moment")
    board.wait_for_timeout(150)
    assert board.evaluate("moment") == stopped
    board.focus("#slide")
    board.keyboard.press("Space")
    assert board.text_content("#play") == "Pause"
    board.keyboard.press("Space")
    assert board.text_content("#play") == "Play"


def test_any_fault_is_found_and_played(board):
    show(board, "fault")
    number = board.evaluate("data.faults.entries.length")
    assert board.locator("#choice option").count() == number > 50
    assert "no service brake left" in board.get_attribute("#choice optgroup >> nth=0", "label")
    board.fill("#fault-filter", "dry burst")
    board.wait_for_function("() => choice.options.length < 15")
    assert f" of {number}" in board.text_content("#fault-count")
    key = board.evaluate("[...choice.options].find((each) => each.textContent === 'dry: burst').value")
    show(board, "fault", key)
    story = board.text_content("#story")
    assert "dry: burst" in story and "no service brake" in story and "Simulated, predicted" in story
    assert board.locator("#sheet .ring.faulty").count() == 1
    full = pill(board, "dry")
    slide_to(board, 24)
    assert float(full) > 8 and float(pill(board, "dry")) < 0.1
    assert "warning ON" in board.inner_text("#switches")
    assert "below its warning" in board.get_attribute(".dial >> nth=1 >> svg", "aria-label")
    assert "warning warns" in board.text_content("#happenings")
    show(board, "circuits")
    assert board.locator("#sheet .ring.faulty").count() == 0
    button = board.locator("#table-faults button[data-fault]").nth(7)
    name = button.inner_text()
    button.click()
    board.wait_for_function("(name) => document.querySelector('#story h3')?.textContent.startsWith(name)", arg=name)
    assert board.is_checked("input[name=mode][value=fault]")


def test_every_fault_unpacks(board):
    """Each fault's courses: as many as there are spaces, no pressure below nothing, and at the start the sound ones'."""
    wrong = board.evaluate("""async () => { const wrong = [];
      for (let number = 0; number < data.faults.entries.length; number++) {
        const fault = await load(`fault-${number}`);
        if (fault.courses.length !== Object.keys(data.spaces).length || fault.courses.some((course) =>
          course.length !== fault.times.length || course.some((value) => !(value >= 0 && value < 2000)))) wrong.push(fault.title);
      }
      return wrong; }""")
    assert wrong == []


def test_trials_say_what_was_met(board):
    show(board, "trial")
    assert board.locator("#story .expected li.met").count() == 4 and "to spare" in board.text_content("#story")


def test_without_motion_it_leaps(running, files):
    found, trouble = opened(running, files / "teaching-board.html", reduced_motion="reduce")
    show(found, "play", "apply")
    found.click("#play")
    found.wait_for_function("() => moment > 0", timeout=3000)
    assert found.evaluate("moment") == found.evaluate("scene.happenings.find((each) => each.frame > 0).frame")
    assert trouble == []
    found.close()
