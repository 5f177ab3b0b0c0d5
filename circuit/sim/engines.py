"""What carries the integration out: the kernel compiled to machine code, or the same text as plain Python on lists."""

import os
import sys
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from hashlib import sha256
from importlib.util import find_spec
from types import FunctionType, ModuleType
from typing import Any, NamedTuple

from circuit.sim import elements, equations, kernel, stepping
from circuit.sim.arrays import FULL, RODAS3, RODAS4, Arrays, Tableau
from circuit.sim.assemble import air_held
from circuit.sim.packing import (
    COUNTS, ELEMENTS, EVENTS, FORCED, N_ELEMENTS, NODES, OUTSIDE, REAL_FIELDS, RECORDS, REFUSED, TAKEN, W_END, W_OUT,
    begin, move_element, pack,
)

METHODS = {"rodas3": RODAS3, "rodas4": RODAS4}
PARTS = (elements, equations, stepping, kernel)
COMPILING: dict[str, Any] = {"cache": True, "error_model": "numpy", "nogil": True, "fastmath": {"contract"}}
"""How functions are compiled; a product and a sum may be one instruction, with one rounding in place of two."""
MOST_EVENTS = 4000
"""More than any sound circuit has; a run with more is stopped."""
LANES = 32
"""Compiled, rows of pressures are this long or a multiple: 4 times what the widest machines do at once."""
FEW = 3
"""Runs for which lockstep does not pay; one numpy step costs about as much as a plain one."""
MANY = 50
"""Runs for which compiled code is made although there was little to do before."""
GROUP = 200
"""Most runs in one lockstep, so that their records fit into memory."""
SHEET = 1_000_000
"""Numbers for which memory is taken at once."""
PLAIN = "AIRWRIGHT_PLAIN"
"""Environment variable that keeps the compiler out when it is set to anything."""
MAKING = 500_000
"""Spaces times steps that the uncompiled kernel does in 7 s, half the time that the compiler takes on a quiet machine.
Counted and not timed, so that the same commands always take the same engine."""


class Result(NamedTuple):
    """times, pressures and rates: a row each time. outside: kg that went out to each outside node, less than 0 where it
    came in. events: (time, latch, value). status: DONE, STUCK or CHATTER. forced: steps with too great an error.
    air: kg in all spaces at the first and the last pressures."""

    times: Any
    pressures: Any
    rates: Any
    outside: Any
    events: list[tuple[float, int, float]]
    status: int
    steps: int
    rejected: int
    forced: int
    air: tuple[float, float]


class Job(NamedTuple):
    """What an engine is given; made once, run as often as wanted. start: inputs. pressures, held: of the nodes. places:
    as of `Packed`."""

    index: Any
    whole: Any
    real: Any
    tableau: Tableau
    start: Any
    pressures: Any
    held: Any
    tolerance: float
    places: dict[str, tuple[int, int]]
    arrays: Arrays


def varied(job: Job, arrays: Arrays, changed: Arrays, start: list[float], first: int) -> Job:
    """The job of arrays that differ from `arrays` only in some fields' numbers.

    first: the element from which on those without flow are left out, so that a run does not pay for other runs' leaks.
    """
    index, whole, real = (row[:] if isinstance(row, list) else row.copy() for row in (job.index, job.whole, job.real))
    for field, old, new in zip(Arrays._fields, arrays, changed):
        if new is not old and field in job.places:
            begin_, wide = job.places[field]
            row = real if field in REAL_FIELDS else whole
            row[begin_:begin_ + wide * (len(new) - 1) + 1:wide] = new
    used = [e for e in range(first, len(changed.el_flow)) if changed.el_flow[e] != 0.0]
    for place, e in enumerate(used, first):
        if place != e:
            move_element(index, whole, real, e, place)
    index[ELEMENTS] = whole[N_ELEMENTS] = first + len(used)
    return job._replace(index=index, whole=whole, real=real, start=start, arrays=changed)


class TooLong(Exception):
    """The uncompiled kernel has done as much as it is to do: the compiled one is quicker."""


class Plain:
    """The kernel uncompiled, on lists. sparing: gives up where compiled code would have been quicker."""

    name = "plain"
    records = 256

    def __init__(self, sparing: bool = False) -> None:
        self.sparing = sparing
        self.work = 0
        """Spaces times steps done so far."""

    def job(self, arrays: Arrays, start: list[float], pressures: list[float], method: str, tolerance: float) -> Job:
        packed = pack(arrays, METHODS[method], len(start))
        return Job(packed.index, packed.whole, packed.real, METHODS[method], start, pressures,
                   air_held(arrays, pressures), tolerance, packed.places,
                   arrays)

    def integrate(self, job: Job) -> Result:
        room, counts = [0.0] * int(job.index[W_END]), [0] * COUNTS
        begin(job.index, job.whole, job.real, room, counts, job.start, job.pressures, job.held)
        nodes = job.index[NODES]
        wide = 1 + 2 * nodes
        record, events = [0.0] * (self.records * wide), [0.0] * (3 * MOST_EVENTS)
        times: list[float] = []
        rows: list[list[float]] = []
        rates: list[list[float]] = []
        while True:
            status = kernel.integrate(job.index, job.whole, job.real, room, counts, record, events, job.tableau,
                                      job.tolerance, self.records)
            for at in range(0, counts[RECORDS] * wide, wide):
                times.append(record[at])
                rows.append(record[at + 1:at + 1 + nodes])
                rates.append(record[at + 1 + nodes:at + wide])
            self.work += nodes * counts[RECORDS]
            counts[RECORDS] = 0
            if status == FULL and self.sparing and self.work >= MAKING:
                raise TooLong
            if status != FULL:
                air = equations.air(job.index, job.whole, job.real, room)
                return _result(times, rows, rates, job, room, counts, events, status, air)

    def integrate_many(self, jobs: list[Job]) -> list[Result]:
        """Groups in lockstep where numpy is installed, else each by itself."""
        if len(jobs) < FEW or find_spec("numpy") is None:
            return [self.integrate(job) for job in jobs]
        from circuit.sim.lockstep import Lockstep

        results: list[Result] = []
        for begins in range(0, len(jobs), GROUP):
            group = jobs[begins:begins + GROUP]
            one = group[0]
            steps = Lockstep([job.arrays for job in group], one.tableau, [job.start for job in group], one.pressures,
                             one.held, one.tolerance)
            first = sum(one.held)
            results += [Result(*found, (first, sum(air_held(one.arrays, found[1][-1])))) for found in steps.run()]
            self.work += one.index[NODES] * max(len(result.times) for result in results)
        return results


class Compiled:
    """The kernel as machine code, on arrays."""

    name = "compiled"

    def __init__(self) -> None:
        import numpy

        self.numpy = numpy
        self.kernel = _module()

    def job(self, arrays: Arrays, start: list[float], pressures: list[float], method: str, tolerance: float) -> Job:
        array = self.numpy.array
        t = METHODS[method]
        packed = pack(arrays, t, len(start), LANES)
        rows: dict[str, Any] = {name: array(getattr(t, name), dtype="f8") for name in ("a", "c", "alpha", "gammas", "m")}
        tableau = t._replace(**rows, fresh=array(t.fresh, dtype="i8"))
        return Job(array(packed.index, dtype="u4"), array(packed.whole, dtype="i8"), array(packed.real), tableau,
                   array(start), array(pressures), array(air_held(arrays, pressures)), tolerance, packed.places,
                   arrays)

    def integrate(self, job: Job, paper: "Paper | None" = None) -> Result:
        """paper: to write on; a sheet of its own when left out."""
        numpy = self.numpy
        nodes = int(job.index[NODES])
        wide = 1 + 2 * nodes
        paper = paper or Paper(numpy, min(1024 * wide, SHEET))
        room, counts = numpy.zeros(int(job.index[W_END])), numpy.zeros(COUNTS, dtype="i8")
        begin(job.index, job.whole, job.real, room, counts, job.start, job.pressures, job.held)
        events = numpy.empty(3 * MOST_EVENTS)
        found = []
        while True:
            record = paper.blank(64 * wide)
            status = self.kernel.integrate(job.index, job.whole, job.real, room, counts, record, events, job.tableau,
                                           job.tolerance, len(record) // wide)
            found.append(paper.torn_off(counts[RECORDS] * wide).reshape(-1, wide))
            counts[RECORDS] = 0
            if status != FULL:
                rows = found[0] if len(found) == 1 else numpy.concatenate(found)
                air = self.kernel.air(job.index, job.whole, job.real, room)
                return _result(rows[:, 0], rows[:, 1:1 + nodes], rows[:, 1 + nodes:], job, room, counts, events, status,
                               air)

    def integrate_many(self, jobs: list[Job]) -> list[Result]:
        """Each by itself, on as many threads as there are cores; results do not depend on their number."""
        workers = min(len(jobs), os.cpu_count() or 1)
        shares = [jobs[first::workers] for first in range(workers)]
        if workers < 2:
            return self._share(jobs)
        with ThreadPoolExecutor(workers) as pool:
            found = list(pool.map(self._share, shares))
        return [found[number % workers][number // workers] for number in range(len(jobs))]

    def _share(self, jobs: list[Job]) -> list[Result]:
        paper = Paper(self.numpy, SHEET)
        return [self.integrate(job, paper) for job in jobs]


class Paper:
    """Memory that runs write their records on, one after another: large sheets cost the machine less than many small
    ones. size: of a sheet, numbers."""

    def __init__(self, numpy: Any, size: int):
        self.numpy, self.size = numpy, size
        self.sheet = numpy.empty(0)

    def blank(self, least: int) -> Any:
        """What is not written on yet, `least` numbers or more."""
        if len(self.sheet) < least:
            self.sheet = self.numpy.empty(max(self.size, least))
        return self.sheet

    def torn_off(self, written: int) -> Any:
        """The part that has been written on."""
        piece, self.sheet = self.sheet[:written], self.sheet[written:]
        return piece


def _result(times: Any, rows: Any, rates: Any, job: Job, room: Any, counts: Any, events: Any, status: int,
            air: float) -> Result:
    count = min(int(counts[EVENTS]), MOST_EVENTS)
    happened = [(float(events[3 * k]), int(events[3 * k + 1]), float(events[3 * k + 2])) for k in range(count)]
    out = int(job.index[W_OUT])
    gone = [float(v) for v in room[out:out + int(job.index[OUTSIDE])]]
    return Result(times, rows, rates, gone, happened, int(status), int(counts[TAKEN]),
                  int(counts[REFUSED]), int(counts[FORCED]), (float(sum(job.held)), float(air)))


def choose(name: str, runs: int = 1) -> "Plain | Compiled":
    """The engine of a name for so many runs at once.

    `auto` is the compiled one where its compiler is installed and not kept out; but where it has yet to compile, small
    jobs are done without. They may raise TooLong; see `by`.
    """
    if name not in ("auto", "compiled", "plain"):
        raise ValueError(f"there is no engine `{name}`: auto, compiled or plain")
    if name == "plain" or name == "auto" and (os.environ.get(PLAIN) or find_spec("numba") is None):
        return Plain()
    if name == "auto" and runs < MANY and _sparing().work < MAKING and not is_made():
        return _sparing()
    return _compiled()


def by(name: str, runs: int, work: Callable[["Plain | Compiled"], Any]) -> Any:
    """What `work` comes to with the engine of a name, begun again with another where the first takes too long."""
    try:
        return work(choose(name, runs))
    except TooLong:
        return work(_compiled())


@cache
def _sparing() -> Plain:
    return Plain(sparing=True)


@cache
def _compiled() -> Compiled:
    if not is_made():
        print("airwright: compiling the simulation, once for this machine: 10 to 60 s; AIRWRIGHT_PLAIN=1 does without",
              file=sys.stderr, flush=True)
    return Compiled()


def is_made() -> bool:
    """Whether compiled code of this text is on disk or in this process."""
    try:
        return bool(_module().integrate._cache._cache_file._load_index()) or bool(_module().integrate.signatures)
    except (AttributeError, OSError):
        return False


@cache
def _module() -> ModuleType:
    """The kernel as a module of functions that are compiled when called, and kept on disk between runs.

    They are copies, because the functions call each other by name: plain ones in their own modules, compiled ones here.
    The disk keeps them under a name with the digest of all that goes into them, as this process has it: a change in any
    changes all.
    """
    import numba

    module = ModuleType("circuit.sim.kernel_compiled")
    sys.modules[module.__name__] = module
    for part in PARTS:
        module.__dict__.update({k: v for k, v in vars(part).items() if not k.startswith("__")})
    numbers = sorted((k, v) for k, v in module.__dict__.items() if isinstance(v, int | float))
    codes = [(f.__name__, f.__code__.co_code, f.__code__.co_consts, f.__code__.co_names)
             for part in PARTS for f in part.FUNCTIONS]
    digest = sha256(repr((numbers, codes, sorted(COMPILING["fastmath"]))).encode()).hexdigest()[:12]
    for part in PARTS:
        for function in part.FUNCTIONS:
            copy = FunctionType(function.__code__, module.__dict__, function.__name__)
            copy.__module__, copy.__qualname__ = module.__name__, f"{function.__name__}_{digest}"
            setattr(module, function.__name__, numba.njit(**COMPILING)(copy))
    return module
