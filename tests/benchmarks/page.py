"""The board on a screen, measured in a headless browser: sizes, how quick it is, and whether Python plays the same.

    python tests/benchmarks/page.py [--quick]

--quick: 3 plays of each design instead of 20. The last line is one JSON object: kb_board, kb_truck, kb_combination; ready_s, from
opening the truck's file to a board that can be worked; frame_ms_truck, frame_ms_combination, the median work of a frame, engine
and drawing, while the brakes come on and go off; seen_ms, from a hand to the drawn change, median; replay_kpa, the most by which
plays by chance differ when Python plays their trials again; seats_wrong, passages drawn open or shut against the opening that the
kind declares, over every scene; small_letters, letters under 9 px, or names under 12, at 1440, 1024 and 390 px as the page opens;
write_ratio, `report` against `check` of the truck.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from circuit import pipeline  # noqa: E402
from tests.page import replay, seats  # noqa: E402
from tests.page.browser import board_of, browser  # noqa: E402
from tests.page.test_browser import LETTERS  # noqa: E402

DESIGNS = ("teaching-board", "truck-6x4", "combination-semi", "semitrailer-tandem", "city-bus")
PLAY_S = 6.0
BRAKES = """async () => { frameTook.length = 0; const took = []; const pedal = board.given.hands.find((h) => h.sort === 'pedal');
  for (let n = 0; n < 180; n++) {
    if (n % 60 === 0) await putTo(pedal, n % 120 ? 0 : 0.7);
    await goOn(1 / 60);
    took.push(board.took + frameTook.at(-1));
  }
  return took; }"""
SEEN = """async () => { run(); const found = [];
  for (let n = 0; n < 15; n++) {
    await new Promise((then) => setTimeout(then, 80));
    const knob = board.given.hands.find((h) => h.label === 'tap'), to = standsAt(knob) >= 0.5 ? 0 : 1, begun = performance.now();
    put(knob, to);
    while (inputNow(board.given.inputs[knob.slot]) !== to) await new Promise(requestAnimationFrame);
    found.push(performance.now() - begun);
  }
  halt(); return found; }"""


def design(name: str) -> Path:
    return ROOT / "examples" / name / "design.air"


def took(*words: str, day: int = 0) -> float:
    """s of one command. day: another one each time, so that nothing is answered from what was kept."""
    begun = time.perf_counter()
    subprocess.run([sys.executable, "-m", "circuit", *words], cwd=ROOT, capture_output=True, check=False,
                   env={**os.environ, "SOURCE_DATE_EPOCH": str(1_800_000_000 + int(time.time()) + 86_400 * day)})
    return time.perf_counter() - begun


def small(running, path: Path) -> int:
    """Letters that are too small in the view that opens."""
    count = 0
    for width in (1440, 1024, 390):
        page, _ = board_of(running, path, viewport={"width": width, "height": 900})
        count += sum(size < 8.99 or name and size < 11.99 for _, size, name in page.evaluate(LETTERS))
        page.close()
    return count


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--quick", action="store_true")
    plays = 3 if parser.parse_args().quick else 20
    found: dict[str, float] = {}
    with tempfile.TemporaryDirectory() as folder, browser() as running:
        pages = {name: Path(folder) / f"{name}.html" for name in DESIGNS}
        for name, path in pages.items():
            took("report", str(design(name)), "-o", str(path))
        found |= {f"kb_{key}": pages[name].stat().st_size // 1000 for key, name in
                  (("board", "teaching-board"), ("truck", "truck-6x4"), ("combination", "combination-semi"))}
        begun = time.perf_counter()
        truck, _ = board_of(running, pages["truck-6x4"])
        found["ready_s"] = round(time.perf_counter() - begun, 2)
        found["frame_ms_truck"] = round(median(truck.evaluate(BRAKES)), 2)
        found["seen_ms"] = round(median(truck.evaluate(SEEN)), 1)
        combination, _ = board_of(running, pages["combination-semi"])
        found["frame_ms_combination"] = round(median(combination.evaluate(BRAKES)), 2)
        most, wrong = 0.0, 0
        for name, path in pages.items():
            page, _ = board_of(running, path)
            for seed in range(1, plays + 1):
                apart = replay.apart(page, design(name), seed, PLAY_S)
                most = max(most, apart)
            wrong += len(seats.wrong(page, pipeline.load(str(design(name)))))
            print(f"{name}: {plays} plays, at most {most:.3f} kPa so far", flush=True)
            page.close()
        found["replay_kpa"], found["seats_wrong"] = round(most, 3), wrong
        found["small_letters"] = sum(small(running, pages[name]) for name in ("teaching-board", "truck-6x4", "combination-semi"))
        report = min(took("report", str(design("truck-6x4")), "-o", str(pages["truck-6x4"]), "--force") for _ in range(3))
        found["write_ratio"] = round(report / min(took("check", str(design("truck-6x4")), day=n) for n in range(3)), 1)
    print(json.dumps(found))
    return 0


if __name__ == "__main__":
    sys.exit(main())
