"""How long a person waits for each command, in multiples of `check` of the same design: `python tests/benchmarks/waiting.py
[--quick]`, from the root, in any install.

Whole processes are run in turn, each command once a round, `check` without its kept results; each figure is the median
over the rounds of a process's time divided by that of `check` in the same round. The programs' cache is a folder of
this run's own: full, or new for each process (`first`). Bytecode is written and read, as on any machine. The last line
printed is a JSON object:

respond ... draw  the truck's commands, later runs
first             the same with an empty cache folder, still in multiples of a later check
combination       the same of a tractor and its semi-trailer, later runs
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
TRUCK, COMBINATION = (f"examples/{name}/design.air" for name in ("truck-6x4", "combination-semi"))
ROUNDS = 5
_MAIN = "import sys; from circuit.cli import main; sys.exit(main())"
BASE = "check"
COMMANDS = {
    BASE: ("check", "--no-cache", "{design}"),
    "respond": ("respond", "{design}"),
    "charge": ("charge", "{design}"),
    "check_simulate": ("check", "--simulate", "{design}"),
    "faults": ("faults", "{design}"),
    "report": ("report", "{design}", "-o", "{folder}/page.html", "--force"),
    "papers": ("papers", "{design}", "-o", "{folder}/papers", "--force"),
    "draw": ("draw", "{design}", "-o", "{folder}/drawing.svg", "--force"),
}


def program() -> list[str]:
    """The installed command beside this interpreter, or what it does where the checkout is not installed."""
    script = Path(sys.executable).parent / "airwright"
    return [str(script)] if script.is_file() else [sys.executable, "-c", _MAIN]


def seconds(words: tuple[str, ...], design: str, folder: str, cache: str) -> float:
    """The time of one whole process, which must end with or without findings."""
    environment = {name: value for name, value in os.environ.items()
                   if name != "PYTHONDONTWRITEBYTECODE" and not name.startswith("AIRWRIGHT")}
    environment |= {"XDG_CACHE_HOME": cache, "PYTHONPATH": str(ROOT)}
    process = [*program(), *(word.format(design=design, folder=folder) for word in words)]
    start = time.perf_counter()
    ended = subprocess.run(process, cwd=ROOT, env=environment, capture_output=True, text=True)
    taken = time.perf_counter() - start
    if ended.returncode not in (0, 1):
        raise SystemExit(f"{' '.join(process)} ended with {ended.returncode}:\n{ended.stderr}")
    return taken


def ratios(design: str, rounds: int, cache: str, first: bool = False) -> dict[str, float]:
    """Each command over a later `check` of the design. first: gives every command an empty cache folder."""
    found: dict[str, list[float]] = {name: [] for name in COMMANDS if name != BASE}
    with tempfile.TemporaryDirectory() as folder:
        if not first:
            for words in COMMANDS.values():
                seconds(words, design, folder, cache)
        seconds(COMMANDS[BASE], design, folder, cache)
        for _ in range(rounds):
            base = seconds(COMMANDS[BASE], design, folder, cache)
            for name in found:
                if first:
                    with tempfile.TemporaryDirectory() as empty:
                        taken = seconds(COMMANDS[name], design, folder, empty)
                else:
                    taken = seconds(COMMANDS[name], design, folder, cache)
                found[name].append(taken / base)
    return {name: round(statistics.median(each), 1) for name, each in found.items()}


def main(quick: bool) -> None:
    rounds = 1 if quick else ROUNDS
    print(f"{rounds} rounds of whole processes, {sys.executable}", flush=True)
    with tempfile.TemporaryDirectory() as cache:
        told: dict[str, object] = dict(ratios(TRUCK, rounds, cache))
        print(f"truck, later runs: {told}", flush=True)
        told["first"] = ratios(TRUCK, rounds if quick else 3, cache, first=True)
        print(f"truck, with an empty cache: {told['first']}", flush=True)
        told["combination"] = ratios(COMBINATION, rounds if quick else 3, cache)
    print(json.dumps(told))


if __name__ == "__main__":
    main("--quick" in sys.argv)
