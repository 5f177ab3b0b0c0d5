"""What carries the integration out: the compiled kernel, or the same text uncompiled on plain lists."""

from typing import Any, NamedTuple

from circuit.sim import kernel
from circuit.sim.arrays import DONE, FULL, Arrays, Tableau


class Result(NamedTuple):
    """times, pressures and rates: a row each time. outside: kg that came in from each outside node, less than 0, or went
    out to it. events: (time, latch, value). status: DONE, STUCK or CHATTER. forced: steps with too great an error."""

    times: Any
    pressures: Any
    rates: Any
    outside: Any
    events: list[tuple[float, int, float]]
    status: int
    steps: int
    rejected: int
    forced: int


class Plain:
    """The kernel uncompiled, on lists."""

    records = 1024

    def integrate(self, problem: Any) -> Result:
        from circuit.sim.assemble import room
        from circuit.sim.run import METHODS

        arrays, tableau = problem.arrays, METHODS[problem.options.method]
        work = room(arrays, tableau, problem.start, self.records, lambda n: [0.0] * n, lambda n: [0] * n)
        begin(arrays, work, problem.pressures)
        nodes = arrays.sizes[0]
        times, rows, rates = [], [], []
        while True:
            status = kernel.integrate(arrays, tableau, work, problem.options.tolerance, self.records)
            count = work.counts[4]
            times += work.record_time[:count]
            rows += [work.record_pressure[k * nodes:(k + 1) * nodes] for k in range(count)]
            rates += [work.record_rate[k * nodes:(k + 1) * nodes] for k in range(count)]
            work.counts[4] = 0
            if status != FULL:
                break
        events = min(work.counts[5], len(work.event_time))
        return Result(times, rows, rates, work.outside, list(zip(work.event_time[:events], work.event_latch[:events],
                                                                  work.event_value[:events])),
                      status, work.counts[2], work.counts[3], work.counts[6])


def begin(arrays: Arrays, work: Any, pressures: list[float]) -> None:
    """Puts the starting pressures and the air they mean into the room of a run."""
    from circuit.sim.run import _held

    for node, pressure in enumerate(pressures):
        work.pressure[node] = pressure
    for node, amount in enumerate(_held(arrays, pressures)):
        work.held[node] = amount


def choose(name: str) -> Any:
    """The engine of a name; `auto` is the compiled one where it can be had."""
    return Plain()
