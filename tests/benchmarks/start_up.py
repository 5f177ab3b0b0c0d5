"""How long the command takes to start, in multiples of a bare interpreter: `python tests/benchmarks/start_up.py`.

Whole processes are run in turn, one of each sort a round, with every cache warm; each figure is the median over the
rounds of a process's time divided by that of `python -c pass` in the same round, so that a slow moment of the machine
strikes both. Bytecode is written and read, as on any machine, also where PYTHONDONTWRITEBYTECODE is set. The last line
printed is a JSON object.
"""

import json
import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
EXAMPLE = Path("examples") / "truck-6x4" / "design.air"
ROUNDS = 21
WARM = 2

_MAIN = "import sys; from circuit.cli import main; sys.exit(main())"
_LIBRARIES = "import lark, networkx, pint"


def command() -> list[str]:
    """The installed command beside this interpreter, or what it does where the checkout is not installed."""
    script = Path(sys.executable).parent / "airwright"
    return [str(script)] if script.is_file() else [sys.executable, "-c", _MAIN]


def seconds(process: list[str]) -> float:
    """The time of one whole process, which must end well."""
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    start = time.perf_counter()
    subprocess.run(process, cwd=ROOT, env=environment, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def measured(rounds: int = ROUNDS) -> dict[str, float | int | str]:
    """The figures: medians of ratios, and the bare interpreter's own time in milliseconds."""
    processes = {
        "bare": [sys.executable, "-c", "pass"],
        "help": [*command(), "--help"],
        "check": [*command(), "check", str(EXAMPLE), "--no-cache"],
        "unchanged": [*command(), "check", str(EXAMPLE)],
        "floor": [sys.executable, "-c", _LIBRARIES],
    }
    times: dict[str, list[float]] = {name: [] for name in processes}
    for turn in range(WARM + rounds):
        for name, process in processes.items():
            taken = seconds(process)
            if turn >= WARM:
                times[name].append(taken)
    figures: dict[str, float | int | str] = {
        f"{name}_ratio": round(statistics.median(taken / bare for taken, bare in zip(times[name], times["bare"])), 2)
        for name in processes if name != "bare"
    }
    figures["bare_ms"] = round(statistics.median(times["bare"]) * 1e3, 1)
    figures["rounds"] = rounds
    figures["command"] = Path(command()[0]).name
    return figures


if __name__ == "__main__":
    print(f"{ROUNDS} rounds of whole processes, {sys.executable}", flush=True)
    print(json.dumps(measured()))
