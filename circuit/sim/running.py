"""A run that is held still between frames, so that hands can move its inputs and numbers: compiled, or as plain text."""

from typing import Any, Protocol

from circuit.sim import equations, kernel
from circuit.sim.arrays import FULL, Arrays
from circuit.sim.engines import Job, image_of, room_of
from circuit.sim.machine import ARRAYS, ROOM, Home


class Running(Protocol):
    """What a session needs of an engine. Names are those of the fields and rows of `Room`."""

    def number(self, name: str) -> float: ...

    def put_number(self, name: str, value: float) -> None: ...

    def row(self, name: str, count: int) -> list[float]: ...

    def put_row(self, name: str, values: list[float]) -> None: ...

    def renumber(self, arrays: Arrays) -> None:
        """Other numbers in the same rows, or shorter ones."""

    def carry_on(self) -> None: ...

    def refresh(self, until: float) -> None: ...

    def air(self) -> float: ...

    def frame(self, until: float) -> "tuple[int, Any]":
        """Goes on to a time; the status and the record."""


class PlainRunning:
    """Lists, and the kernel as Python."""

    def __init__(self, job: Job):
        self.job, self.room = job, room_of(job)

    def number(self, name: str) -> float:
        found: float = getattr(self.room, name)
        return found

    def put_number(self, name: str, value: float) -> None:
        setattr(self.room, name, value)

    def row(self, name: str, count: int) -> list[float]:
        return list(getattr(self.room, name)[:count])

    def put_row(self, name: str, values: list[float]) -> None:
        getattr(self.room, name)[:len(values)] = values

    def renumber(self, arrays: Arrays) -> None:
        self.job = self.job._replace(arrays=arrays)

    def carry_on(self) -> None:
        kernel.carry_on(self.job.arrays, self.room)

    def refresh(self, until: float) -> None:
        equations.refresh(self.job.arrays, self.room, until)

    def air(self) -> float:
        return equations.air(self.job.arrays, self.room)

    def frame(self, until: float) -> tuple[int, Any]:
        room, wide = self.room, 1 + 2 * self.job.arrays.watching
        found: list[float] = []
        while True:
            status = kernel.frame(self.job.arrays, room, self.job.method, until, self.job.tolerance)
            found += room.record[:room.records * wide]
            room.records = 0
            if status != FULL:
                return status, found


class CompiledRunning:
    """An instance of the machine with a memory of its own."""

    def __init__(self, job: Job):
        self.job, self.image, self.home = job, image_of(job), Home()
        self.home.put(self.image)

    def number(self, name: str) -> float:
        at = self.image.places["room." + name]
        return self.home.whole(at) if ROOM.fields[name].kind == "i32" else self.home.numbers(at, 1)[0]

    def put_number(self, name: str, value: float) -> None:
        at = self.image.places["room." + name]
        if ROOM.fields[name].kind == "i32":
            self.home.set_whole(at, int(value))
        else:
            self.home.set_number(at, value)

    def row(self, name: str, count: int) -> list[float]:
        return self.home.numbers(self.image.places["room." + name], count)

    def put_row(self, name: str, values: list[float]) -> None:
        self.home.put_row(self.image.places["room." + name], ROOM.fields[name].kind, values)

    def renumber(self, arrays: Arrays) -> None:
        for name in Arrays._fields:
            value: Any = getattr(arrays, name)
            if value is not getattr(self.job.arrays, name):
                kind, at = ARRAYS.fields[name].kind, self.image.places["a." + name]
                self.home.put_row(at, kind if kind.endswith("[]") else kind + "[]",
                                  value if kind.endswith("[]") else [value])
        self.job = self.job._replace(arrays=arrays)

    def carry_on(self) -> None:
        self.home.call("carry_on", self.image.arrays, self.image.room)

    def refresh(self, until: float) -> None:
        self.home.call("refresh", self.image.arrays, self.image.room, until)

    def air(self) -> float:
        return float(self.home.call("air", self.image.arrays, self.image.room))

    def frame(self, until: float) -> tuple[int, Any]:
        at, wide, found = self.image, 8 * (1 + 2 * self.job.arrays.watching), b""
        while True:
            status = self.home.call("frame", at.arrays, at.room, at.method, until, self.job.tolerance)
            found += self.home.bytes_at(at.places["room.record"], int(self.number("records")) * wide)
            self.put_number("records", 0)
            if status != FULL:
                return status, found


def opened(job: Job) -> Running:
    """A run at its start, held still: compiled where the job has an image."""
    return PlainRunning(job) if job.image is None else CompiledRunning(job)

