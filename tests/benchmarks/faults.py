"""The fault study in figures: `python tests/benchmarks/faults.py [--quick]`, in any install with the test packages.

For the truck and for tractor and semi-trailer every single fault is played as the study plays it (driving, braking, let
go, parked, released), all in batches and, for comparison, one by one by the same engine; a sample is played by X
BDF on equations written in numpy, with a look for latches. Processor time is counted and the ways are timed in turn.
The last line is a JSON object:

faults           single faults of all examples; worked_out: those that are not the same as another at rest
batch_ratio      one by one over batches, of the truck; batch_ratio_combination of tractor and semi-trailer
batch            batches over one by one, of the truck; aim 0.3
table            a later `airwright faults` of the truck over a later `check`, whole processes in turn; aim 12
scipy_ratio      scipy over batches, for a fault of the truck; scipy_ratio_combination
disagreements    faults of all examples where graph and run do not go together
growth           exponent of the static study's time in the number of parts, over all examples; aim 1.3
load             of the machine, processes waiting, when it began
"""

import json
import math
import os
import statistics
import sys
import tempfile
from pathlib import Path
from time import process_time

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from circuit.faults.agree import disagreements
from circuit.faults.play import BURST, STEP, Situation, play, script_of
from circuit.faults.sorts import is_sudden
from circuit.faults.study import likeness, study
from circuit.pipeline import load
from circuit.sim import Variant
from tests.designs import EXAMPLES, example_names
from tests.benchmarks.waiting import COMMANDS, TRUCK, seconds
from tests.faults.resimulated import problem_of, resimulate

TIMED = {"truck-6x4": "", "combination-semi": "_combination"}
SAMPLE = 6
"""Faults that scipy plays: so slow that a sample has to do."""


def timed(work):
    began = process_time()
    result = work()
    return process_time() - began, result


def one_by_one(found, faults):
    """The same faults without a batch: one for all that are alike, as the study takes them."""
    seen = set()
    for effect in faults:
        like = likeness(found.whole, effect.fault), is_sudden(found.circuit, effect.fault)
        if like not in seen:
            seen.add(like)
            play(found, [effect])


def by_scipy(circuit, faults):
    """Seconds for a fault by scipy, those it gives up left out, and how many it played."""
    took, played = 0.0, 0
    script, until = script_of(circuit, BURST, Situation()), BURST + 4 * STEP
    for effect in faults:
        problem = problem_of(circuit, script, Variant(effect.fault.name, effect.fault.parts), until)
        try:
            took += timed(lambda: resimulate(problem, (BURST,), "BDF", 1e-4, 20.0))[0]
            played += 1
        except (ArithmeticError, ValueError) as why:
            print(f"  scipy gave up {effect.fault.name}: {why}")
    return took / played if played else None, played


def slope(points):
    """The exponent of a power law through points."""
    logs = [(math.log(x), math.log(y)) for x, y in points]
    mean = [sum(column) / len(logs) for column in zip(*logs)]
    return (sum((x - mean[0]) * (y - mean[1]) for x, y in logs) / sum((x - mean[0]) ** 2 for x, _ in logs))


def table_over_check(rounds):
    """The median over the rounds of the fault table's time over that of `check` in the same round."""
    with tempfile.TemporaryDirectory() as cache:
        def took(words):
            return seconds(words, TRUCK, cache, cache)

        took(COMMANDS["faults"])
        took(COMMANDS["check"])
        return round(statistics.median(took(COMMANDS["faults"]) / took(COMMANDS["check"]) for _ in range(rounds)), 1)


def main(quick):
    told = {"faults": 0, "worked_out": 0, "disagreements": 0, "load": round(os.getloadavg()[0], 1)}
    points = []
    for name in example_names():
        circuit = load(str(EXAMPLES / name / "design.air"))
        took, found = timed(lambda: study(circuit))
        points.append((len(circuit.devices), took))
        told["faults"] += len(found.effects)
        told["worked_out"] += found.worked_out
        if quick and name not in TIMED:
            continue
        play(found, found.effects[:1])  # what is compiled once is no part of any way
        batch, runs = timed(lambda: play(found, found.effects))
        wrong = sum(bool(disagreements(found, each)) for each in runs)
        told["disagreements"] += wrong
        print(f"{name}: {len(circuit.devices)} parts, {len(found.effects)} faults, {found.worked_out} worked out in "
              f"{took:.2f} s, {len({id(each.trace) for each in runs})} runs in {batch:.2f} s, {wrong} disagree")
        if name in TIMED:
            single, _ = timed(lambda: one_by_one(found, found.effects))
            batch = min(batch, timed(lambda: play(found, found.effects))[0])
            told[f"batch_ratio{TIMED[name]}"] = round(single / batch, 1)
            told.setdefault("batch", round(batch / single, 2))
            bursts = [e for e in found.effects
                      if e.fault.parts and is_sudden(circuit, e.fault) and e.fault.name.endswith("burst")]
            each, played = by_scipy(circuit, bursts[:: max(1, len(bursts) // SAMPLE)][:SAMPLE])
            whole = len({id(run.trace) for run in runs})
            told[f"scipy_ratio{TIMED[name]}"] = round(each * whole / batch) if each else None
            print(f"  one by one {single:.2f} s; scipy {each or 0:.2f} s a fault, {played} played")
    told["growth"] = round(slope(points), 2)
    told["table"] = table_over_check(1 if quick else 5)
    print(json.dumps(told))


if __name__ == "__main__":
    main("--quick" in sys.argv)
