"""What carries the integration out: the kernel compiled, or the same text as plain Python on lists.

The compiled one is for everybody, the plain one is what it is held to.
"""

import os
from functools import cache
from typing import Any, NamedTuple

from circuit.sim import equations, kernel, machine
from circuit.sim.arrays import FULL, RODAS3, RODAS4, Arrays, Room, Tableau
from circuit.sim.assemble import air_held
from circuit.sim.grid import Grid
from circuit.sim.machine import MOST_EVENTS

METHODS = {"rodas3": RODAS3, "rodas4": RODAS4}
PLAIN_RECORDS = 256


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
    """What an engine is given; made once, run as often as wanted. start: inputs. pressures, held: of the nodes."""

    arrays: Arrays
    method: Tableau
    tolerance: float
    start: list[float]
    pressures: list[float]
    held: list[float]
    image: machine.Image | None


def begin(a: Arrays, start: list[float], pressures: list[float], held: list[float]) -> dict[str, list[float]]:
    """The rows of a room that are not empty at the start."""
    return {"input": start, "pressure": pressures, "held": held, "slope": a.nd_slope, "rise": a.at_weight,
            "turned": [-1e9] * a.latches}


def room_of(job: Job, records: int = PLAIN_RECORDS) -> Room:
    """A room of plain lists at the start of a run."""
    room = Room(job.arrays, job.method, records, MOST_EVENTS)
    for name, values in begin(job.arrays, job.start, job.pressures, job.held).items():
        getattr(room, name)[:len(values)] = values
    return room


def image_of(job: Job) -> machine.Image:
    """The memory of a run at its start."""
    assert job.image is not None
    for name, values in begin(job.arrays, job.start, job.pressures, job.held).items():
        machine.written(job.image.data, job.image.places["room." + name], "f64[]", values)
    return job.image


class Plain:
    """The kernel as Python."""

    name = "plain"

    def job(self, arrays: Arrays, start: list[float], pressures: list[float], method: str, tolerance: float) -> Job:
        return Job(arrays, METHODS[method], tolerance, start, pressures, air_held(arrays, pressures), None)

    def varied(self, job: Job, arrays: Arrays, start: list[float], pressures: list[float]) -> Job:
        """The job of arrays that differ from the job's only in numbers, or have shorter rows."""
        return job._replace(arrays=arrays, start=start, pressures=pressures, held=air_held(arrays, pressures))

    def integrate(self, job: Job) -> Result:
        a, room = job.arrays, room_of(job)
        wide = 1 + 2 * a.watching
        found: list[float] = []
        while True:
            status = kernel.integrate(a, room, job.method, job.tolerance)
            found += room.record[:room.records * wide]
            room.records = 0
            if status != FULL:
                happened = room.events[:3 * min(room.happened, MOST_EVENTS)]
                return result_of(job, found, room.gone, happened, status, (room.taken, room.refused, room.forced),
                               equations.air(a, room))

    def integrate_many(self, jobs: list[Job]) -> list[Result]:
        return [self.integrate(job) for job in jobs]


class Compiled:
    """The kernel as machine code."""

    name = "compiled"

    def job(self, arrays: Arrays, start: list[float], pressures: list[float], method: str, tolerance: float) -> Job:
        held = air_held(arrays, pressures)
        return Job(arrays, METHODS[method], tolerance, start, pressures, held, machine.image(arrays, METHODS[method]))

    def varied(self, job: Job, arrays: Arrays, start: list[float], pressures: list[float]) -> Job:
        """The job of arrays that differ from the job's only in numbers, or have shorter rows."""
        assert job.image is not None
        alike = arrays.pc_held is job.arrays.pc_held and pressures is job.pressures
        return job._replace(arrays=arrays, start=start, pressures=pressures,
                            held=job.held if alike else air_held(arrays, pressures),
                            image=machine.varied(job.image, job.arrays, arrays))

    def integrate(self, job: Job) -> Result:
        at, home = image_of(job), machine.home()
        home.put(at)
        places, wide = at.places, 8 * (1 + 2 * job.arrays.watching)
        found = []
        while True:
            status = home.call("integrate", at.arrays, at.room, at.method, job.tolerance)
            found.append(home.bytes_at(places["room.record"], home.whole(places["room.records"]) * wide))
            home.set_whole(places["room.records"], 0)
            if status != FULL:
                head = machine.head_of(home.bytes_at(at.room, machine.ROOM_HEAD))
                happened = min(head["happened"], MOST_EVENTS)
                counts = [head[name] for name in ("taken", "refused", "forced")]
                return result_of(job, b"".join(found), home.numbers(places["room.gone"], job.arrays.outside),
                               home.numbers(places["room.events"], 3 * happened), status, counts,
                               home.call("air", at.arrays, at.room))

    def integrate_many(self, jobs: list[Job]) -> list[Result]:
        """On as many threads as there are cores; results do not depend on their number."""
        workers = min(len(jobs), os.cpu_count() or 1)
        if workers < 2:
            return [self.integrate(job) for job in jobs]
        from concurrent.futures import ThreadPoolExecutor

        with ThreadPoolExecutor(workers) as pool:
            return list(pool.map(self.integrate, jobs))


def result_of(job: Job, record: Any, gone: list[float], happened: list[float], status: int, counts: Any,
              air: float) -> Result:
    """What a run came to. record: bytes or numbers. counts: steps taken, refused and forced."""
    watching = job.arrays.watching
    wide = 1 + 2 * watching
    pressures, rates = (Grid(record, wide, first, watching) for first in (1, 1 + watching))
    events = [(happened[k], int(happened[k + 1]), happened[k + 2]) for k in range(0, len(happened), 3)]
    taken, refused, forced = counts
    return Result(pressures.numbers[::wide].tolist(), pressures, rates, gone, events, status, taken, refused, forced,
                  (sum(job.held), air))


@cache
def choose(name: str) -> "Plain | Compiled":
    """The engine of a name: `compiled`, or `plain`."""
    if name not in ("compiled", "plain"):
        raise ValueError(f"there is no engine `{name}`: compiled or plain")
    return Plain() if name == "plain" else Compiled()
