"""What 300 designs cost, and how the cost of one grows: `python tests/benchmarks/scale.py`.

A repository of 300 designs is made by script (tests/benchmarks/many.py) and checked cold on all cores, unchanged, and with one
design changed, each in multiples of one `check` of the truck, unkept, of the same round. Then generated trailers of about 200 to
10,000 parts and lines are judged, sound ones and ones of which every fifth tank has no drain; the exponents of processor time
against size are fitted by least squares in logarithms: 1 is linear. `--most N` leaves larger designs out. The last line is one
JSON object: unchanged_300, changed_300, cold_300, exponent, exponent_dirty, peak_mb, check_ratio, help_ratio, unchanged_ratio.
"""

import argparse
import json
import math
import os
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from tests.benchmarks.growth import design  # noqa: E402
from tests.benchmarks.many import make  # noqa: E402
from tests.benchmarks.start_up import command, measured  # noqa: E402

SIZES = (200, 700, 2500, 10_000)
TRUCK = Path(__file__).resolve().parents[2] / "examples" / "truck-6x4" / "design.air"
_JUDGE = """
import resource, sys, time
from circuit.pipeline import judged, load_source
from circuit.source import Source
text = sys.stdin.read()
start = time.process_time()
verdict = judged(load_source(Source("generated.air", text)))
print(time.process_time() - start, len(verdict.circuit.devices), len(verdict.findings),
      resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)
"""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--most", type=int, default=SIZES[-1], metavar="N", help="the largest design, in parts and lines")
    parser.add_argument("--designs", type=int, default=300, metavar="N", help="designs of the repository")
    options = parser.parse_args()
    figures = repository(options.designs)
    for key, is_dirty in (("exponent", False), ("exponent_dirty", True)):
        points = [one_size(size, is_dirty) for size in SIZES if size <= options.most]
        figures[key] = round(slope([(parts, spent) for spent, parts, _, _ in points]), 3)
        figures["peak_mb"] = round(max(figures.get("peak_mb", 0.0), *(peak for *_, peak in points)), 1)
        for spent, parts, findings, peak in points:
            print(f"{key}: {parts:.0f} parts and lines, {findings:.0f} findings: {spent:.2f} s of one core, {peak:.0f} MB",
                  flush=True)
    start = measured(9)
    print(json.dumps({**figures, **{name: start[name] for name in ("check_ratio", "help_ratio", "unchanged_ratio")}}))


def repository(number: int) -> dict[str, float]:
    """The designs, in multiples of one check; medians of three rounds, the cold run once."""
    with tempfile.TemporaryDirectory() as folder:
        make(Path(folder) / "designs", number)
        unit = statistics.median(seconds(folder, "check", str(TRUCK), "--no-cache") for _ in range(5))
        cold = seconds(folder, "check", "designs", "--format", "short")
        unchanged = statistics.median(seconds(folder, "check", "designs", "--format", "short") for _ in range(3))
        changed = []
        for turn in range(3):
            with (Path(folder) / "designs" / "a" / "truck-6x4-000.air").open("a", encoding="utf-8") as file:
                file.write(f"# changed {turn}\n")
            changed.append(seconds(folder, "check", "designs", "--format", "short"))
    print(f"one check {unit:.3f} s; of {number}: cold {cold:.1f} s, unchanged {unchanged:.2f} s, one changed "
          f"{statistics.median(changed):.2f} s", flush=True)
    return {"unchanged_300": round(unchanged / unit, 2), "changed_300": round(statistics.median(changed) / unit, 2),
            "cold_300": round(cold / unit, 1)}


def seconds(folder: str, *words: str) -> float:
    """Of one whole process, with a cache of its own; it may find something, and may not break."""
    environment = {**os.environ, "XDG_CACHE_HOME": str(Path(folder) / "cache")}
    begin = time.perf_counter()
    done = subprocess.run([*command(), *words], cwd=folder, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    if done.returncode not in (0, 1, 2):
        raise SystemExit(f"airwright {' '.join(words)} ended with {done.returncode}")
    return time.perf_counter() - begin


def one_size(size: int, is_dirty: bool) -> tuple[float, float, float, float]:
    """Processor seconds, parts, findings and MB of a design of its own process; the least of three for a small one."""
    rows = design(size).split("\n")
    text = "\n".join(row for row in rows if not (is_dirty and row.startswith("drain drain-") and _number(row) % 5 == 0))
    found = []
    for _ in range(3 if size < 3000 else 1):
        done = subprocess.run([sys.executable, "-c", _JUDGE], input=text, capture_output=True, text=True, check=True,
                              cwd=Path(__file__).resolve().parents[2])
        found.append(tuple(map(float, done.stdout.split())))
    spent, parts, findings, peak = min(found)
    if is_dirty and findings < size / 200:
        raise SystemExit("the spoilt design has too few findings, so this measures something else")
    return spent, parts, findings, peak


def _number(row: str) -> int:
    return int(row.split(":")[0].rpartition("-")[2])


def slope(points: list[tuple[float, float]]) -> float:
    """The exponent of the second against the first."""
    xs, ys = [math.log(x) for x, _ in points], [math.log(y) for _, y in points]
    mx, my = statistics.fmean(xs), statistics.fmean(ys)
    return sum((x - mx) * (y - my) for x, y in zip(xs, ys, strict=True)) / sum((x - mx) ** 2 for x in xs)


if __name__ == "__main__":
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    main()
