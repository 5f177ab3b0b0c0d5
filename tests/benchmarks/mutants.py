"""How many random mutants of a room its own tests kill: `python tests/benchmarks/mutants.py`.

A mutant is one small change of the code of a room, `circuit/ROOM`: a constant, a sign of arithmetic or a comparison
changed, `and` for `or`, a condition negated, a call dropped, a value returned changed. Sites are drawn by seed, each as
likely as another, wherever code stands; docstrings, annotations, prose and the coordinates of symbols are left out.
Each mutant is put into a copy of the checkout, never into the checkout itself, and the room's own tests, `tests/ROOM`,
run on it until one fails. Mutants that change nothing anybody could see are not sorted out: they count as survivors.

    python tests/benchmarks/mutants.py --room gas --room model --count 200 --seed 7

prints each survivor with its place. A run that takes far more time than on the sound room is a mutant that hangs, and
killed. The last line is one JSON object: mutants, killed, and for each room mutants, killed, hung, and the seconds of
processor time that its tests take when the room is sound.
"""

import argparse
import ast
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("model", "draw", "gas", "kinds")
COPIED = ("circuit", "grammar", "shared", "tests", "examples", "pyproject.toml", "README.md", "DEVELOPERS.md")
SYMBOLS = {"Symbol", "Stroke", "Ring", "Curve", "line", "pilot", "thick", "plate", "solid", "diamond", "arrow", "spring",
           "upright_spring"}
"""Calls whose arguments are coordinates of a symbol."""
COMPARED = {ast.Lt: ">=", ast.GtE: "<", ast.Gt: "<=", ast.LtE: ">", ast.Eq: "!=", ast.NotEq: "==", ast.Is: "is not",
            ast.IsNot: "is", ast.In: "not in", ast.NotIn: "in"}
SIGNS = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*"}
OPPOSITE = {"min": "max", "max": "min", "any": "all", "all": "any"}
TRIES = 3
PATIENCE = 4
"""How many times the sound run's processor time a mutant may take before it counts as hanging."""


class Mutant(NamedTuple):
    """A change of a file. path: from the root. start, end: bytes of the text that is replaced, `was`. says: the sort of it."""

    path: str
    line: int
    start: int
    end: int
    text: str
    says: str
    was: str


class Lines:
    """A file's text by line and byte column, as the syntax tree counts."""

    def __init__(self, text: bytes):
        self.text = text
        self.begins = [0]
        for row in text.splitlines(keepends=True):
            self.begins.append(self.begins[-1] + len(row))

    def span(self, node: ast.expr | ast.stmt) -> tuple[int, int]:
        """First and last byte of a node."""
        assert node.end_lineno is not None and node.end_col_offset is not None
        return (self.begins[node.lineno - 1] + node.col_offset, self.begins[node.end_lineno - 1] + node.end_col_offset)

    def of(self, node: ast.expr | ast.stmt) -> str:
        start, end = self.span(node)
        return self.text[start:end].decode()


def other_constant(value: object) -> str | None:
    """How a constant is written when it is another; None for words and prose."""
    if isinstance(value, bool):
        return str(not value)
    if isinstance(value, int):
        return str(value + 1)
    if isinstance(value, float):
        return repr(value * 2 if value else 1.0)
    if isinstance(value, str):
        number = ""
        while value[len(number):][:1].isdigit() or number and value[len(number):][:1] == ".":
            number += value[len(number)]
        rest = value[len(number):]
        if number and (not rest or rest[0] in " /x"):  # a port's number, or a quantity with its unit
            other = str(int(number) + 1) if number.isdigit() else repr(float(number) * 2)
            return repr(other + rest)
    return None


def left_out(tree: ast.Module) -> set[int]:
    """Nodes that no mutant touches: docstrings, annotations, f-strings, arguments of symbols."""
    found: list[ast.AST] = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            found.append(node)
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SYMBOLS:
            found += [*node.args, *(word.value for word in node.keywords)]
        elif isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            found += [node.returns] if node.returns else []
            found += node.decorator_list
        elif isinstance(node, ast.arg) and node.annotation:
            found.append(node.annotation)
        elif isinstance(node, ast.AnnAssign):
            found.append(node.annotation)
        elif isinstance(node, ast.JoinedStr):
            found.append(node)
        elif isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test):
            found.append(node)
    return {id(inner) for node in found for inner in ast.walk(node)}


def mutants_of(path: str, text: bytes) -> Iterator[Mutant]:
    """Every mutant of a file."""
    tree, lines = ast.parse(text), Lines(text)
    skipped = left_out(tree)

    def mutant(node: ast.expr | ast.stmt, written: str, says: str, span: tuple[int, int] | None = None) -> Mutant:
        start, end = span or lines.span(node)
        return Mutant(path, node.lineno, start, end, written, says, text[start:end].decode())

    def between(one: ast.expr, other: ast.expr) -> tuple[int, int]:
        return lines.span(one)[1], lines.span(other)[0]

    def swapped(one: ast.expr, other: ast.expr, old: str, new: str) -> str:
        """What stands between two operands, a word or sign of it exchanged."""
        start, end = between(one, other)
        return lines.text[start:end].decode().replace(old, new, 1)

    for node in ast.walk(tree):
        if id(node) in skipped:
            continue
        if isinstance(node, ast.Constant):
            written = other_constant(node.value)
            if written is not None:
                yield mutant(node, written, "constant")
        elif isinstance(node, ast.Compare) and len(node.ops) == 1:
            one, other = node.left, node.comparators[0]
            if lines.text[slice(*between(one, other))].decode().strip(" \n") in _SPELT:
                yield mutant(node, f" {COMPARED[type(node.ops[0])]} ", "comparison", between(one, other))
        elif isinstance(node, ast.BoolOp):
            word, new = (" and ", " or ") if isinstance(node.op, ast.And) else (" or ", " and ")
            one, other = node.values[0], node.values[1]
            old = word.strip()
            if old in lines.text[slice(*between(one, other))].decode():
                yield mutant(node, swapped(one, other, old, new.strip()), "and/or", between(one, other))
        elif isinstance(node, ast.BinOp) and type(node.op) in SIGNS:
            sign = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}[type(node.op)]
            yield mutant(node, swapped(node.left, node.right, sign, SIGNS[type(node.op)]), "arithmetic",
                         between(node.left, node.right))
        elif isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in OPPOSITE:
            yield mutant(node.func, OPPOSITE[node.func.id], "call exchanged")
        elif isinstance(node, ast.Expr) and isinstance(node.value, ast.Call):
            yield mutant(node, "pass", "call dropped")
        elif isinstance(node, ast.Return) and node.value is not None:
            written = returned(node.value, lines)
            if written is not None:
                yield mutant(node.value, written, "return value")
        tests = [node.test] if isinstance(node, (ast.If, ast.While, ast.IfExp)) else \
            list(node.ifs) if isinstance(node, ast.comprehension) else []
        for test in tests:
            yield mutant(test, f"(not ({lines.of(test)}))", "condition")


_SPELT = {"<", ">=", ">", "<=", "==", "!=", "is not", "is", "not in", "in"}


def returned(value: ast.expr, lines: Lines) -> str | None:
    """Another value than the one returned."""
    if isinstance(value, ast.Constant) and value.value is None:
        return "0"
    if isinstance(value, ast.Constant) and other_constant(value.value) is not None:
        return None  # a constant changed already
    if isinstance(value, (ast.Compare, ast.BoolOp)) or isinstance(value, ast.UnaryOp) and isinstance(value.op, ast.Not):
        return f"(not ({lines.of(value)}))"
    return "None"


def drawn(room: str, count: int, seed: int) -> list[Mutant]:
    """Mutants of a room, the same for the same seed and text; all of them where there are no more."""
    every: list[Mutant] = []
    for path in sorted((ROOT / "circuit" / room).rglob("*.py")):
        every += mutants_of(str(path.relative_to(ROOT)), path.read_bytes())
    found = random.Random(f"{room} {seed}").sample(every, min(count, len(every)))
    return sorted(found, key=lambda mutant: (mutant.path, mutant.start, mutant.end))


_SERVER = """
import gc, os, resource, sys
from importlib import import_module
import pytest
for line in sys.stdin:
    what, *words = line.split()
    if what == "import":
        for name in words:
            try:
                import_module(name)
            except Exception:
                pass
        gc.freeze()
        continue
    room, seconds, names = words[0], int(words[1]), words[2]
    child = os.fork()
    if child == 0:
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
        silent = os.open(os.devnull, os.O_WRONLY)
        answers = os.dup(1)
        os.dup2(silent, 1)
        os.dup2(silent, 2)
        end = pytest.main(["-x", "-q", "-p", "no:cacheprovider", "tests/" + room])
        if names == "names":
            others = [n for n in sys.modules if n.split(".")[0] not in ("circuit", "tests", "__main__") and "test_" not in n]
            os.write(answers, " ".join(others).encode() + b"\\n")
        os._exit(int(end))
    _, status, usage = os.wait4(child, 0)
    print(os.waitstatus_to_exitcode(status), usage.ru_utime + usage.ru_stime, flush=True)
"""
"""Runs a room's tests in a fork of itself, as often as it is told to: only the first has to wait for libraries."""


class Bench:
    """A copy of the checkout in which one mutant after the other is tried."""

    def __init__(self, folder: Path):
        self.folder = folder
        folder.mkdir()
        for name in COPIED:
            here = ROOT / name
            if here.is_dir():
                shutil.copytree(here, folder / name, ignore=shutil.ignore_patterns("__pycache__", "benchmarks", "outside"))
            elif here.is_file():
                shutil.copy(here, folder / name)
        self.libraries = ""
        self.server = self.started()

    def started(self) -> "subprocess.Popen[str]":
        """A process that runs tests, with the libraries imported that are known to be wanted."""
        environment = {**os.environ, "PYTHONPATH": str(self.folder), "PYTHONDONTWRITEBYTECODE": "1"}
        server = subprocess.Popen([sys.executable, "-c", _SERVER], cwd=self.folder, env=environment, text=True,
                                  stdin=subprocess.PIPE, stdout=subprocess.PIPE)
        assert server.stdin is not None
        print("import", self.libraries, file=server.stdin, flush=True)
        return server

    def run(self, room: str, seconds: int, names: bool = False) -> tuple[int, float]:
        """Exit status of a room's tests and the processor time they took, s. seconds: after which they are stopped.

        names: note the libraries that they import, so that they are there for all runs to come.
        """
        for _ in range(TRIES):
            assert self.server.stdin is not None and self.server.stdout is not None
            try:
                print("run", room, seconds, "names" if names else "-", file=self.server.stdin, flush=True)
                libraries = self.server.stdout.readline() if names else ""
                status, taken = self.server.stdout.readline().split()
            except (OSError, ValueError):
                status = ""
            if status not in ("", str(-signal.SIGKILL)):
                if names:
                    self.libraries = libraries.strip()
                    self.close()
                    self.server = self.started()
                return int(status), float(taken)
            self.server.kill()  # somebody ended the run, or the process that runs it
            self.server = self.started()
        sys.exit("the tests were ended from outside, time and again")

    def tried(self, room: str, mutant: Mutant, seconds: int) -> int:
        """Exit status of a room's tests with a mutant in place."""
        path = self.folder / mutant.path
        sound = path.read_bytes()
        path.write_bytes(sound[:mutant.start] + mutant.text.encode() + sound[mutant.end:])
        try:
            return self.run(room, seconds)[0]
        finally:
            path.write_bytes(sound)

    def close(self) -> None:
        """Ends the process."""
        self.server.communicate()


def short(text: str) -> str:
    """A piece of code in one row."""
    row = " ".join(text.split())
    return row if len(row) <= 60 else row[:57] + "..."


def held(room: str, benches: list[Bench], count: int, seed: int) -> dict[str, float]:
    """Tries the mutants of a room and prints the survivors."""
    sound = 0.0
    for bench in benches:
        status, sound = bench.run(room, 600, names=True)
        if status:
            sys.exit(f"tests/{room} fail before anything is changed (pytest ends with {status}): mend that first")
    patience = max(15, round(PATIENCE * sound))
    free: Queue[Bench] = Queue()
    for bench in benches:
        free.put(bench)

    def one(mutant: Mutant) -> int:
        bench = free.get()
        try:
            return bench.tried(room, mutant, patience)
        finally:
            free.put(bench)

    mutants = drawn(room, count, seed)
    with ThreadPoolExecutor(len(benches)) as pool:
        ends = list(pool.map(one, mutants))
    for mutant, end in zip(mutants, ends):
        if end == 0:
            print(f"  lives  {mutant.path}:{mutant.line}  {mutant.says}: {short(mutant.was)} -> {short(mutant.text)}")
    killed, hung = sum(end != 0 for end in ends), sum(end < 0 for end in ends)
    print(f"{room}: {killed} of {len(mutants)} killed, {hung} of them hung; its tests take {sound:.1f} s", flush=True)
    return {"mutants": len(mutants), "killed": killed, "hung": hung, "seconds": round(sound, 1)}


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--room", action="append", help=f"circuit/ROOM and tests/ROOM; {', '.join(ROOMS)} where left out")
    parser.add_argument("--count", type=int, default=30, help="mutants a room")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--jobs", type=int, default=2, help="how many run at once")
    options = parser.parse_args()
    rooms = options.room or ROOMS
    for room in rooms:
        if not (ROOT / "circuit" / room).is_dir() or not (ROOT / "tests" / room).is_dir():
            parser.error(f"there is no circuit/{room} with tests/{room}")
    with tempfile.TemporaryDirectory(prefix="mutants-") as folder:
        benches = [Bench(Path(folder) / str(number)) for number in range(options.jobs)]
        found = {room: held(room, benches, options.count, options.seed) for room in rooms}
        for bench in benches:
            bench.close()
    total = {word: sum(int(figures[word]) for figures in found.values()) for word in ("mutants", "killed")}
    print(json.dumps({**total, "seed": options.seed, "rooms": found}))


if __name__ == "__main__":
    main()
