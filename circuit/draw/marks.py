"""What is given to be shown on a drawing, and what comes of painting it."""

import re
from dataclasses import dataclass

from circuit.draw.pressure import Reading
from circuit.model.circuit import Circuit


@dataclass(frozen=True, slots=True)
class Mark:
    """A finding to be shown. device_name: of a device or a line. label: a number or a few letters; of a combination's
    vehicle its name and a number.

    severity: error, warning or note; fault for a part that is taken to have failed.
    """

    device_name: str
    label: str
    severity: str = "error"

    @property
    def flag(self) -> str:
        """What stands on the flag: of a vehicle's finding its first letter and the number."""
        of, _, number = self.label.rpartition(" ")
        return of[:1] + number


@dataclass(slots=True)
class Painted:
    """symbols, rows: SVG text. colours: by circuit number. marks: those that are shown. reading: pressures shown."""

    symbols: list[str]
    rows: list[str]
    colours: dict[int, str]
    marks: tuple[Mark, ...]
    reading: Reading | None = None


class Names:
    """Ids for groups: made of a name's letters and digits, unique on the sheet."""

    def __init__(self) -> None:
        self.used: set[str] = set()

    def give(self, before: str, name: str) -> str:
        base = f"{before}-" + (re.sub(r"[^A-Za-z0-9_-]+", "-", name).strip("-") or "x")
        own, number = base, 2
        while own in self.used:
            own, number = f"{base}-{number}", number + 1
        self.used.add(own)
        return own


def known_marks(circuit: Circuit, marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    """The marks whose device or line is in the circuit."""
    return tuple(mark for mark in marks if mark.device_name in circuit.by_name)
