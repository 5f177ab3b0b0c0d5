"""Rows of numbers as the integrator wrote them down, without copying them."""

from array import array
from collections.abc import Iterator, Sequence
from typing import Any


class Grid(Sequence[Any]):
    """Some columns of a table of numbers that lies row after row: a sequence of rows.

    numbers: bytes or a list of numbers. wide: numbers in a whole row. first, many: the columns."""

    def __init__(self, numbers: "bytes | list[float]", wide: int, first: int, many: int):
        raw = numbers if isinstance(numbers, bytes) else array("d", numbers).tobytes()
        self.numbers = memoryview(raw).cast("d")
        self.wide, self.first, self.many = wide, first, many

    def __len__(self) -> int:
        return len(self.numbers) // self.wide

    def __getitem__(self, row: Any) -> Any:
        if isinstance(row, slice):
            return [self[each] for each in range(*row.indices(len(self)))]
        if row < 0:
            row += len(self)
        if not 0 <= row < len(self):
            raise IndexError(row)
        begin = row * self.wide + self.first
        return self.numbers[begin:begin + self.many]

    def column(self, number: int) -> list[float]:
        """One column, from the first row to the last."""
        return list(self.numbers[self.first + number::self.wide])

    def __iter__(self) -> Iterator[Any]:
        numbers, many = self.numbers, self.many
        for begin in range(self.first, len(numbers), self.wide):
            yield numbers[begin:begin + many]

    def __array__(self, dtype: Any = None, copy: Any = None) -> Any:
        import numpy

        whole = numpy.asarray(self.numbers, dtype="f8").reshape(-1, self.wide)
        found = whole[:, self.first:self.first + self.many]
        return found.astype(dtype or "f8") if copy or dtype else found
