"""Figures over the range of what is not known: does the interval cover, does the ranking hold, what does it cost, and how far
is the engine from a line in one dimension.

Run as `python tests/benchmarks/spread.py`; the last line is one JSON object:
coverage: share of 400 other vehicles of the teaching board between the 5 and 95 % points of 200 (aim 0.90, 0.03 either way).
rank_error: the most by which a cause's swing differs from what it moves alone, as a share (aim 0.10), of those above 5 %.
runs_ratio: `respond` of the truck with 200 vehicles over the same with one (aim 5). application_error, release_error: the
engine over the reference of tests/outside/along.py, less 1, the farthest of 0.5, 3 and 10 m (aim 0.03).
"""

import json
import sys
import time
from dataclasses import replace
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from circuit.model.draws import Draws
from circuit.pipeline import load
from circuit.sim import Options, Script, press, release, simulate
from circuit.sim.drawn import simulate_drawn
from circuit.studies import application
from circuit.studies.respond import respond
from circuit.studies.spread import causes_of, in_words
from tests.designs import EXAMPLES, loaded
from tests.outside import along
from tests.outside.test_along import DESIGN, PSI, bench, both

LENGTHS = (0.5, 3.0, 10.0)


def opened(name: str, runs: int, seed: int = 1):
    return replace(load(str(EXAMPLES / name / "design.air")), draws=Draws(runs, seed))


def coverage() -> float:
    found = respond(opened("teaching-board", 200)).applied[0].time
    others = respond(opened("teaching-board", 400, 7)).applied[0].time.samples
    return sum(found.quick <= each <= found.slow for each in others) / len(others)


def rank_error() -> float:
    circuit = opened("teaching-board", 200)
    found = respond(circuit).applied[0]
    causes = causes_of(circuit, application.EXPONENT)
    how = application.procedure_of(circuit, found.clause.procedure)
    script = application._script(circuit, how, (), None)
    space = circuit.service_space(circuit.by_name[found.name])
    worst = 0.0
    for weight in (each for each in found.time.causes if each.share > 0.05):
        number = next(n for n, cause in enumerate(causes) if in_words(cause) == weight.what)
        ends = [[0.5] * len(causes) for _ in range(2)]
        ends[0][number], ends[1][number] = 0.05, 0.95
        low, high = (trace.first_time(space, how.level) for trace in
                     simulate_drawn(circuit, script, causes, ends, application.HOLDS, options=application.EXPONENT))
        print(f"{weight.what}: {1e3 * weight.swing:+.0f} ms, alone {1e3 * (high - low):+.0f} ms")
        worst = max(worst, abs(weight.swing / (high - low) - 1.0))
    return worst


def runs_ratio() -> float:
    times = []
    for runs in (1, 200):
        best = float("inf")
        for _ in range(3):
            circuit = opened("truck-6x4", runs)
            began = time.perf_counter()
            respond(circuit)
            best = min(best, time.perf_counter() - began)
        times.append(best)
    return times[1] / times[0]


def released(length: float) -> float:
    """The engine's release from 95 to 5 psi over the reference's, less 1."""
    circuit, share = loaded(DESIGN.format(length=length)), 95 * PSI / 1e6
    trace = simulate(circuit, Script((press("foot", share, 0.0), release("foot", 3.0)), pressures={"tank": along.AIR + 8e5}),
                     7.0, options=Options(exponent=1.2))
    level = along.AIR + 5 * PSI
    theirs = along.times(bench(circuit, length)._replace(start=along.AIR + 8e5),
                         lambda t: along.AIR + 1e6 * share * max(0.0, 1.0 - t / 0.1), 4.0, level, False,
                         trace.pressure("can", 3.0))
    return (trace.first_time("can", level, False, 3.0) - 3.0) / theirs - 1.0


def main() -> None:
    applied = {length: (lambda pair: pair[1] / pair[0] - 1.0)(both(length)) for length in LENGTHS}
    back = {length: released(length) for length in LENGTHS}
    for length in LENGTHS:
        print(f"{length:g} m: application {100 * applied[length]:+.1f} %, release {100 * back[length]:+.1f} %")
    print(json.dumps({
        "coverage": round(coverage(), 3), "rank_error": round(rank_error(), 3), "runs_ratio": round(runs_ratio(), 2),
        "application_error": round(max(applied.values(), key=abs), 3), "release_error": round(max(back.values(), key=abs), 3)}))


if __name__ == "__main__":
    main()
