"""The fault study in figures: `python tests/benchmarks/faults.py [EXAMPLE]`.

How many single faults all examples have, how many times faster a batch is than its runs one by one, and where graph and
simulation disagree. Both ways of running take the same engine and are timed in turn. The last line is a JSON object.
"""

import json
import sys
import time
from pathlib import Path

from circuit.pipeline import load
from circuit.sim import Options
from circuit.studies.fault_times import is_slow, timelines, worth_timing
from circuit.studies.faults import study

EXAMPLES = Path(__file__).resolve().parent.parent.parent / "examples"
TIMED = ("truck-6x4",)
UNTIL = 30.0


def main(names: tuple[str, ...]) -> None:
    faults, disagreements, simulated, batch, single = 0, 0, 0, 0.0, 0.0
    for design in sorted(EXAMPLES.glob("*/design.air")):
        began = time.perf_counter()
        found = study(load(str(design)))
        took = time.perf_counter() - began
        faults += len(found.effects)
        print(f"{design.parent.name}: {len(found.effects)} faults, {found.worked_out} worked out, {took:.2f} s")
        if design.parent.name not in names:
            continue
        chosen = [effect for effect in worth_timing(found) if not is_slow(found.circuit, effect)]
        options = Options(most_steps=50_000)
        timelines(found, chosen[:1], until=1.0, options=options)  # what is compiled once is no part of either way
        began = time.perf_counter()
        lines = timelines(found, chosen, until=UNTIL, options=options)
        batch += time.perf_counter() - began
        began = time.perf_counter()
        for effect in chosen:
            timelines(found, [effect], until=UNTIL, options=options)
        single += time.perf_counter() - began
        simulated += len(lines)
        disagreements += sum(bool(line.disagrees) for line in lines)
        for line in lines:
            if line.disagrees:
                print(f"  {line.name}: {'; '.join(line.disagrees)}")
    print(json.dumps({
        "faults": faults, "simulated": simulated, "batch_ratio": round(single / batch, 2) if batch else None,
        "scipy_ratio": None, "disagreements": disagreements,
    }))


if __name__ == "__main__":
    main(tuple(sys.argv[1:]) or TIMED)
