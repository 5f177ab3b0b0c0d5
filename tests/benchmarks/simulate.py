"""How fast the simulation is, in units of a general solver on the same equations, and how exact.

The unit is one run of scipy's LSODA (rtol 1e-4, atol 20 Pa) on a right side written with numpy, for 4 s of a truck's
brakes: applied in 0.1 s, released at 2 s. Processor time of all threads is counted; runs are interleaved and the best
of some is taken, so that another program on the machine disturbs less. A table comes first; the last line is one JSON
object:

event_ratio           that event by the compiled kernel, ready equations to result, over the unit; event_whole_ratio with
                      everything from the circuit to the trace
event_error_kpa       its greatest error at reservoirs and chambers at ends of steps, against Radau at rtol 1e-9;
                      anywhere_error_kpa at any space
batch_ratio           200 variants with one leak each, from the circuit to traces, over the unit
charge_ratio          240 s of charging from empty, over LSODA on the same; charge_error_kpa at reservoirs at the end
plain_event_ratio     the event by the kernel's text as plain Python, over the unit
lsoda_, bdf_, radau_ratio   that solver's event at a tolerance where it is as exact as ours, over ours
singles_ratio         the 200 variants one by one over the batch, both from the circuit to traces
growth                time for a step and space of a chain of 5,000 spaces over that of 50
start_..._s           wall time of a process that simulates the event once: `first` with an empty cache, `later`

Run: python tests/benchmarks/simulate.py [--quick]
"""

import json
import os
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory
from time import process_time

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import numpy as np

from circuit.sim import Engine, Options, Script, Variant, engines, press, release, simulate, simulate_many
from circuit.sim.run import job_of, prepare
from tests.sim import reference
from tests.sim.designs import built, example, gauge

EVENT = Script((press("foot", 1.0, 0.0), release("foot", 2.0)), pressures={"reservoirs": gauge(100)})
PLACES = (
    "pri",
    "sec",
    "front-left",
    "front-right",
    "rear-relay.2",
    "foot.21",
    "foot.22",
    "wet",
    "modulator.2",
    "park.1",
    "d1-left.service",
    "d2-left.service",
    "d1-left.spring",
    "d2-right.spring",
    "front-release.1",
    "rear-relay.4",
    "foot.11",
    "foot.12",
    "pri-check.1",
    "park.2",
)
LEAKS = tuple(
    Variant(f"{place} {mm:.1f} mm", leaks={place: mm * 1e-3}) for place in PLACES for mm in np.linspace(0.3, 4.0, 10)
)
SLOW_ENGINE = Engine(True, 0.7 * 1250 / 60)
"""So slow that the governor's cut-out is not reached in 240 s: LSODA's run has no events."""


def seconds(work, times):
    """The least of some runs."""
    best = float("inf")
    for _ in range(times):
        begin = process_time()
        work()
        best = min(best, process_time() - begin)
    return best


def interleaved(works, times):
    """The least time of each of some works, taken in turn."""
    best = [float("inf")] * len(works)
    for _ in range(times):
        for number, work in enumerate(works):
            best[number] = min(best[number], seconds(work, 1))
    return best


def chain(spaces):
    """Time of the kernel for a step and space on a chain of reservoirs that even out."""
    rows = "".join(f"reservoir r{n}: volume {2 + n % 3} L, rated 10 bar, role service\n" for n in range(spaces))
    rows += "".join(f"tube r{n} -> r{n + 1}: size 1/2 in, length 1 m\n" for n in range(spaces - 1))
    pressures = {f"r{n}": gauge(60 + 50 * ((n * 7919) % 13) / 13) for n in range(spaces)}
    problem = prepare(built(rows), Script(pressures=pressures), 0.4, options=Options(first_step=1e-3))
    engine = engines.choose("compiled")
    job = job_of(problem, engine)
    result = engine.integrate(job)
    best = seconds(lambda: engine.integrate(job), 5 if spaces > 500 else 200)
    return best / (result.steps + result.rejected) / spaces


def solvers(event, at, working, ours, times):
    """For each of scipy's stiff solvers the time and the error of its coarsest run that is no worse than `ours`, Pa."""
    found = {}
    for method in ("LSODA", "BDF", "Radau"):
        for rtol in (1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 3e-6, 1e-6, 3e-7, 1e-7):
            ends, rows, _ = reference.solve(event, method, rtol, 2e5 * rtol)
            error = max(np.abs(row - at(min(t, 4.0)))[working].max() for t, row in zip(ends, rows))
            if error <= ours:
                break
        found[method] = rtol, seconds(lambda: reference.solve(event, method, rtol, 2e5 * rtol), times), float(error)
    return found


RUN = """
import time
begin = time.perf_counter()
from circuit.sim import Options, simulate
from tests.benchmarks.simulate import EVENT, example
simulate(example("truck-6x4"), EVENT, 4.0)
print(time.perf_counter() - begin)
"""


def start_up():
    """Wall seconds of a process that simulates the event once: as it comes on a fresh machine, and later."""
    with TemporaryDirectory() as fresh:

        def process():
            done = subprocess.run([sys.executable, "-c", RUN], capture_output=True, text=True, check=True, cwd=ROOT,
                                  env={**os.environ, "XDG_CACHE_HOME": fresh})
            return float(done.stdout)

        return {"first": process(), "later": min(process() for _ in range(3))}


def main(quick):
    times = 2 if quick else 4
    truck = example("truck-6x4")
    compiled, plain = engines.choose("compiled"), engines.choose("plain")
    event = prepare(truck, EVENT, 4.0)
    job, slow = job_of(event, compiled), job_of(event, plain)
    result = compiled.integrate(job)
    simulate_many(truck, EVENT, LEAKS[:4], 4.0)
    unit, ours, whole, batch, as_text = interleaved(
        [
            lambda: reference.solve(event, "LSODA", 1e-4, 20.0),
            lambda: seconds(lambda: compiled.integrate(job), 1),
            lambda: simulate(truck, EVENT, 4.0),
            lambda: simulate_many(truck, EVENT, LEAKS, 4.0),
            lambda: plain.integrate(slow),
        ],
        times,
    )
    ours = min(ours, seconds(lambda: compiled.integrate(job), 60))
    singles = seconds(lambda: [simulate_many(truck, EVENT, [leak], 4.0) for leak in LEAKS[::10]], times) * 10

    _, _, at = reference.solve(event, "Radau", 1e-7 if quick else 1e-9, 1e-1 if quick else 1e-3, dense=True)
    apart = np.array([np.abs(row - at(min(t, 4.0))) for t, row in zip(result.times, result.pressures)])
    working = [node for node, works in enumerate(event.network.working) if works]
    error = float(apart[:, working].max())
    others = {} if quick else solvers(event, at, working, error, 2)

    charge = prepare(truck, Script(situation="parked"), 240.0, start="empty", engine=SLOW_ENGINE)
    charge_job = job_of(charge, compiled)
    charged = compiled.integrate(charge_job)
    charge_unit, charge_ours = interleaved(
        [lambda: reference.solve(charge, "LSODA", 1e-4, 20.0), lambda: compiled.integrate(charge_job)], times
    )
    charge_ours = min(charge_ours, seconds(lambda: compiled.integrate(charge_job), 40))
    _, exact, _ = reference.solve(charge, "Radau", 1e-7, 1.0)
    tanks = [event.network.nodes[truck.store(tank)] for tank in truck.reservoirs]
    costs = {spaces: chain(spaces) for spaces in ((50, 5000) if quick else (50, 158, 500, 1581, 5000))}
    begun = start_up()

    rows = [
        ("LSODA, rtol 1e-4: the unit", unit, ""),
        *((f"{method}, rtol {rtol:g}: {'as exact as ours' if wrong <= error else 'NOT AS EXACT'}", time,
           f"{wrong / 1e3:.3f} kPa off")
          for method, (rtol, time, wrong) in others.items()),
        ("ours, compiled", ours, f"{error / 1e3:.3f} kPa off, {result.steps} steps, {result.rejected} refused"),
        ("ours, from the circuit to the trace", whole, ""),
        ("ours, its text as plain Python", as_text, ""),
        ("200 variants, one after another", singles, ""),
        ("200 variants in one batch", batch, ""),
        ("a 240 s charge: LSODA, rtol 1e-4", charge_unit, ""),
        ("a 240 s charge: ours", charge_ours, f"{charge_unit / charge_ours:.0f} times quicker, {charged.steps} steps"),
    ]
    print("| a 4 s event of the truck, where nothing else is said | ms | in units | |\n|---|---|---|---|")
    for what, time, more in rows:
        ratio = f"1/{unit / time:.0f}" if 20 * time < unit else f"{time / unit:.2f}"
        print(f"| {what} | {time * 1e3:.4g} | {ratio} | {more} |")
    for spaces, cost in costs.items():
        print(f"| a step, for each of {spaces} spaces | {cost * 1e3:.2g} | | {cost / costs[50]:.2f} of that of 50 |")
    for when, time in begun.items():
        print(f"| a process that simulates the event: {when} | {time * 1e3:.3g} | | wall time |")
    print(
        json.dumps(
            {
                "event_ratio": ours / unit,
                "event_whole_ratio": whole / unit,
                "event_error_kpa": error / 1e3,
                "anywhere_error_kpa": float(apart.max()) / 1e3,
                **{f"{method.lower()}_ratio": time / ours for method, (_, time, _) in others.items()},
                "batch_ratio": batch / unit,
                "singles_ratio": singles / batch,
                "charge_ratio": charge_ours / charge_unit,
                "charge_error_kpa": float(np.abs(np.array(charged.pressures[-1]) - exact[-1])[tanks].max()) / 1e3,
                "plain_event_ratio": as_text / unit,
                "growth": costs[5000] / costs[50],
                **{f"start_{when}_s": time for when, time in begun.items()},
            }
        )
    )


if __name__ == "__main__":
    main("--quick" in sys.argv)
