"""How the time of a check grows with the size of the design.

Run from the root: `python tests/benchmarks/growth.py`. Generated road trains of 200 to 2,000 parts and lines are checked in
one process, interleaved, and the exponent of time against size is fitted by least squares in logarithms: 1 is linear, and
n log n from 200 to 2,000 is an exponent of 1.16. The last line is one JSON object: exponent, sizes, seconds (medians).
"""

import json
import math
import statistics
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from circuit.pipeline import judged, load_source  # noqa: E402
from circuit.source import Source  # noqa: E402

SIZES = (200, 400, 800, 1400, 2000)
ROUNDS = 5


def design(parts: int) -> str:
    """A sound trailer with as many spring-braked axles as give about `parts` parts and lines."""
    axles = max(1, round((parts - 12) / 17))
    rows = ['vehicle train: class full-trailer, title "Generated"', "rules us-federal",
            "coupling-head supply-head: line supply", "coupling-head control-head: line control",
            f"trailer-spring-brake-valve springs: deliveries {axles}",
            f"manifold signals: holes {axles + 1}", f"manifold parks: holes {axles + 1}",
            "tube supply-head -> springs.1: size 1/2 in, length 5 m",
            "tube control-head -> signals: size 1/2 in, length 5 m",
            "tube springs.22 -> parks: size 1/2 in, length 1 m"]
    for n in range(1, axles + 1):
        rows += [
            f"axle a{n}: position {n}",
            f"reservoir tank-{n}: volume 30 L, rated 150 psi, role service",
            f"drain drain-{n}: on tank-{n}, placed lowest",
            f"tube springs.21 -> tank-{n}: size 1/2 in, length 1 m",
            f"relay-valve relay-{n}: deliveries 3",
            f"tube tank-{n} -> relay-{n}.1: size 5/8 in, length 1 m",
            f"tube signals -> relay-{n}.4: size 3/8 in, length 1 m",
            f"anti-compound-release release-{n}: deliveries 2",
            f"tube parks -> release-{n}.1: size 3/8 in, length 1 m",
            f"tube relay-{n}.2 -> release-{n}.4: size 3/8 in, length 0.5 m",
        ]
        for side in ("left", "right"):
            rows += [
                f"spring-chamber {side}-{n}: type 30/30, stroke 2.5 in, axle a{n}, side {side}",
                f"hose relay-{n}.2 -> {side}-{n}.11: bore 3/8 in, length 1 m, ends moving",
                f"hose release-{n}.2 -> {side}-{n}.12: bore 3/8 in, length 1 m, ends moving",
            ]
    return "\n".join(rows) + "\n"


def seconds(text: str) -> tuple[float, int, bool]:
    """Seconds of one load and check, the number of devices, and whether it was clean."""
    start = time.perf_counter()
    verdict = judged(load_source(Source("generated.air", text)))
    return time.perf_counter() - start, len(verdict.circuit.devices), verdict.is_clean


def main() -> None:
    texts = [design(size) for size in SIZES]
    seconds(texts[0])
    found: list[list[float]] = [[] for _ in texts]
    counts = [0] * len(texts)
    for _ in range(ROUNDS):
        for place, text in enumerate(texts):
            spent, counts[place], clean = seconds(text)
            if not clean:
                raise SystemExit("the generated design is not clean, so this measures something else")
            found[place].append(spent)
    medians = [statistics.median(values) for values in found]
    xs, ys = [math.log(n) for n in counts], [math.log(s) for s in medians]
    mx, my = statistics.fmean(xs), statistics.fmean(ys)
    exponent = sum((x - mx) * (y - my) for x, y in zip(xs, ys)) / sum((x - mx) ** 2 for x in xs)
    print(json.dumps({"exponent": round(exponent, 3), "sizes": counts, "seconds": [round(m, 3) for m in medians]}))


if __name__ == "__main__":
    main()
