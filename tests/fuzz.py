"""Designs nobody would write, for every command: rows of the examples edited by their grammar, and letters that slip.

`python -m tests.fuzz --count N --seed S` runs N commands on as many designs and prints what came of them; the last line is one
JSON object. `--deep` takes commands that play or draw in place of `check`. Case K alone again: `--only K`.
"""

import argparse
import io
import json
import re
import resource
import shlex
import signal
import sys
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout
from pathlib import Path
from random import Random
from typing import NamedTuple

from circuit import cli
from tests.designs import EXAMPLES, example_names, example_text

LONGEST, LONGEST_DEEP = 5, 60
"""s of processor time that a command on one design may take; beyond that it counts as hung. A study of all faults of a sound
large vehicle plays each of them, and takes longer than a check may."""
CHECKS = ("check --short", "check --only-findings --format json", "check --clauses --assumed", "check --format sarif",
          "check --rules us-federal --rules un-r13 --format markdown")
DEEP = ("run", "faults", "respond", "charge", "reserve", "leak-down", "sizes", "duties", "force", "water", "format --show",
        "draw -o {out}.svg --force", "check --simulate --short", "compare {old}", "faults --situations",
        "report -o {out}.html --force")
SLIPS = tuple("abx 0123.,:;-_#\"'{}()<>=/\n\t%&@½“\r\0\u200b\u202e")
LOOSE = ("tube ", "hose ", "plug ", "drain ", "gauge ", "safety-valve ", "circuit ", "rules ", "waive ")
TIMES = (0, 0.1, 0.5, 0.9, 0.95, 1.05, 1.1, 2, 10, 100)
FIGURES = ("0", "1", "-1", "0.001", "1e9", "99999999999", "9" * 400, "1/0", "1/3", "0.5", "12x1.5")
_LINE = re.compile(r"([a-z-]+) (\S+) -> ([^\s:]+)(.*)")
_SETTING = re.compile(r"(?<=[:,] )([a-z-]+) ([^,{}\n]+)")
_FIGURE = re.compile(r"\d+(?:[./]\d+)?")


class Case(NamedTuple):
    """text: a design. base: the example it came from. words: the command."""

    text: str
    base: str
    words: str


class Came(NamedTuple):
    """status: of the exit, None where it hung. trouble: what must not be, or "". """

    status: int | None
    trouble: str


class Grammar:
    """What the examples are made of. texts: those that are edited; rows: of all; values: of each setting, anywhere."""

    def __init__(self, names: tuple[str, ...] = ()) -> None:
        every = {name: example_text(name) for name in example_names()}
        self.texts = {name: every[name] for name in names or every}
        self.rows = [row for text in every.values() for row in text.split("\n") if row.strip()]
        self.values: dict[str, list[str]] = defaultdict(list)
        for row in self.rows:
            for setting, value in _SETTING.findall(row):
                self.values[setting].append(value)
        self.kinds = sorted({row.split(" ")[0] for row in self.rows if re.match(r"[a-z-]+ [a-z]", row)})
        self.edits: tuple[tuple[Callable[[list[str], Random], None], int], ...] = (
            (self.out, 4), (self.twice, 1), (self.moved, 2), (self.foreign, 1), (self.other_value, 5), (self.other_figure, 3),
            (self.wild_figure, 1), (self.other_end, 4), (self.setting_out, 2), (self.other_kind, 1), (self.slip, 1))

    def case(self, chance: Random, commands: tuple[str, ...]) -> Case:
        """An example with one to four edits, and a command for it."""
        base = chance.choice(list(self.texts))
        rows = self.texts[base].split("\n")
        for _ in range(chance.choice((1, 1, 1, 2, 2, 4))):
            edit, = chance.choices([each for each, _ in self.edits], [weight for _, weight in self.edits])
            edit(rows, chance)
        return Case("\n".join(rows), base, chance.choice(commands))

    def out(self, rows: list[str], chance: Random) -> None:
        """A row gone; three times in four one that nothing else needs."""
        loose = [at for at, row in enumerate(rows) if row.startswith(LOOSE)] if chance.random() < 0.75 else []
        if len(rows) > 1:
            del rows[chance.choice(loose or range(len(rows)))]

    def twice(self, rows: list[str], chance: Random) -> None:
        rows.insert(chance.randrange(len(rows)), chance.choice(rows))

    def moved(self, rows: list[str], chance: Random) -> None:
        row = rows.pop(chance.randrange(len(rows)))
        rows.insert(chance.randrange(len(rows) + 1), row)

    def foreign(self, rows: list[str], chance: Random) -> None:
        """A row of any example."""
        rows.insert(chance.randrange(len(rows)), chance.choice(self.rows))

    def other_value(self, rows: list[str], chance: Random) -> None:
        """A setting as it is somewhere else."""
        self._settings(rows, chance, lambda setting, value: f"{setting} {chance.choice(self.values[setting])}")

    def setting_out(self, rows: list[str], chance: Random) -> None:
        at = self._row(rows, chance, _SETTING)
        found = chance.choice(list(_SETTING.finditer(rows[at]))) if at is not None else None
        if at is not None and found:
            left, right = rows[at][:found.start()], rows[at][found.end():].removeprefix(", ")
            rows[at] = (left + right).rstrip(" ,:") if not right else left + right

    def other_figure(self, rows: list[str], chance: Random) -> None:
        """A figure some times as large or small."""
        self._figure(rows, chance, lambda text: f"{float(text) * chance.choice(TIMES):.4g}" if "/" not in text
                     else chance.choice(("1/8", "1/4", "3/8", "1/2", "3/4")))

    def wild_figure(self, rows: list[str], chance: Random) -> None:
        self._figure(rows, chance, lambda text: chance.choice(FIGURES))

    def other_end(self, rows: list[str], chance: Random) -> None:
        """Ends of two lines exchanged, which most often still parses; or an end where another line has one."""
        lines = [(at, found) for at, row in enumerate(rows) if (found := _LINE.fullmatch(row))]
        if len(lines) < 2:
            return
        (at, one), (place, other) = chance.sample(lines, 2)
        rows[at] = f"{one[1]} {one[2]} -> {other[3]}{one[4]}"
        if chance.random() < 0.8:
            rows[place] = f"{other[1]} {other[2]} -> {one[3]}{other[4]}"

    def other_kind(self, rows: list[str], chance: Random) -> None:
        at = chance.randrange(len(rows))
        first, space, rest = rows[at].partition(" ")
        rows[at] = f"{chance.choice(self.kinds)}{space}{rest}" if first in self.kinds else rows[at]

    def slip(self, rows: list[str], chance: Random) -> None:
        """A letter too many, too few, or another."""
        at = chance.randrange(len(rows))
        place = chance.randrange(len(rows[at]) + 1)
        rows[at] = rows[at][:place] + chance.choice(("", *SLIPS)) + rows[at][place + chance.choice((0, 1)):]

    def _row(self, rows: list[str], chance: Random, having: re.Pattern[str]) -> int | None:
        fitting = [at for at, row in enumerate(rows) if having.search(row)]
        return chance.choice(fitting) if fitting else None

    def _settings(self, rows: list[str], chance: Random, to: Callable[[str, str], str]) -> None:
        at = self._row(rows, chance, _SETTING)
        if at is not None:
            found = chance.choice(list(_SETTING.finditer(rows[at])))
            new = to(found[1], found[2]) if found[1] in self.values else found[0]
            rows[at] = rows[at][:found.start()] + new + rows[at][found.end():]

    def _figure(self, rows: list[str], chance: Random, to: Callable[[str], str]) -> None:
        at = self._row(rows, chance, _FIGURE)
        if at is not None:
            found = chance.choice(list(_FIGURE.finditer(rows[at])))
            rows[at] = rows[at][:found.start()] + to(found[0]) + rows[at][found.end():]


class Hung(BaseException):
    """A command took longer than it may."""


class Runner:
    """Runs cases as commands, in a copy of the examples under `folder`."""

    def __init__(self, folder: Path, longest: float = LONGEST) -> None:
        self.folder, self.longest = folder, longest
        for name in example_names():
            (folder / name).mkdir()
            for path in (EXAMPLES / name).glob("*.air"):
                (folder / name / path.name).write_bytes(path.read_bytes())

    def run(self, case: Case) -> Came:
        path = self.folder / case.base / "case.air"
        path.write_bytes(case.text.encode("utf-8", "surrogatepass"))
        old = self.folder / case.base / "design.air"
        command, *words = shlex.split(case.words.format(out=self.folder / "out", old=old))
        more = ["--root", str(self.folder), "--no-cache"] if command == "check" else []
        told, errors = io.StringIO(), io.StringIO()
        try:
            with redirect_stdout(told), redirect_stderr(errors), _at_most(self.longest):
                status = cli.main([command, *words, str(path), *more])
        except Hung:
            return Came(None, f"more than {self.longest} s of processor time")
        except BaseException as trouble:
            return Came(None, f"{type(trouble).__name__}: {trouble}")
        said = errors.getvalue()
        if status not in (0, 1, 2):
            return Came(status, said.strip().split("\n")[0] or f"status {status}")
        if "Traceback" in said + told.getvalue():
            return Came(status, "a traceback is printed")
        return Came(status, "" if status != 2 or said + told.getvalue() else "status 2 without a word")


@contextmanager
def _at_most(seconds: float) -> Iterator[None]:
    def stop(number: int, frame: object) -> None:
        raise Hung

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


def main(arguments: list[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.fuzz", description=__doc__)
    parser.add_argument("--count", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--only", type=int, metavar="K", help="this case alone, and its design on the output")
    parser.add_argument("--seconds", type=float, default=float("inf"), help="begin no case after so many")
    parser.add_argument("--deep", action="store_true", help="commands that play or draw")
    options = parser.parse_args(arguments)
    grammar, commands = Grammar(), DEEP if options.deep else CHECKS
    came, bad, begun, longest = Counter[int | None](), 0, time.monotonic(), 0.0
    with tempfile.TemporaryDirectory() as folder:
        runner = Runner(Path(folder), LONGEST_DEEP if options.deep else LONGEST)
        for number in range(options.count) if options.only is None else (options.only,):
            if time.monotonic() - begun > options.seconds:
                break
            case = grammar.case(Random(f"{options.seed}-{number}"), commands)
            before = time.process_time()
            found = runner.run(case)
            longest = max(longest, time.process_time() - before)
            came[found.status] += 1
            if options.only is not None:
                print(case.text)
            if found.trouble:
                bad += 1
                print(f"case {number} of seed {options.seed}: {case.words} on {case.base}: {found.trouble}", flush=True)
    total = came.total()
    print(json.dumps({
        "runs": total, "reached": round((came[0] + came[1]) / max(total, 1), 3), "troubles": bad, "longest_s": round(longest, 2),
        "statuses": {str(key): count for key, count in came.items()},
        "peak_mb": round(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)}))
    return int(bad > 0)


if __name__ == "__main__":
    sys.exit(main())
