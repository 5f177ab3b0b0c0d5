"""A fault searched by asking: lines of questions in, answers with their prices out, and at the end a grade.

A line asks for a reading by its step and place (`apply pri-gauge`), to `listen PART`, to `swap PART`, or names the fault
(`it is PART: FAILURE`), which ends it.
"""

import re
import textwrap
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from circuit.near import did_you_mean
from circuit.plant.workshop import BUDGET, LISTEN, SWAP, Case, cures, is_heard, mechanic, numbered, price, proven, worded

DIAGNOSIS, THRIFT, ASKED = 6, 2, 2
"""Marks for the fault, for what was spent, and for what was asked; common practice, no source."""


class Marked(NamedTuple):
    """named: what was said to be wrong. right: it is, and what was asked shows it. spent: of BUDGET. telling: share of the
    readings that a good mechanic would take too. marks: of ten."""

    named: str
    right: bool
    spent: int
    telling: float

    @property
    def marks(self) -> int:
        if not self.right:
            return 0
        return DIAGNOSIS + (THRIFT if self.spent <= BUDGET else 0) + round(ASKED * self.telling)


class Interview:
    """One search. spent: so far. asked: readings by number. shown: whether an ear or a new part has shown the place."""

    def __init__(self, one: Case) -> None:
        self.case, self.spent, self.shown = one, 0, False
        self.asked: dict[int, float | None] = {}
        self.marked: Marked | None = None

    def answers(self, lines: Iterable[str]) -> Iterator[str]:
        """The answer to each line, until the fault is named."""
        for line in lines:
            line = " ".join(line.split("#")[0].split())
            if line:
                yield self._answer(line)
            if self.marked is not None:
                return

    def _answer(self, line: str) -> str:
        if found := re.fullmatch(r"it is (.+)", line, re.I):
            return self._named(found[1])
        if found := re.fullmatch(r"(listen|swap) (?:at |to )?(.+)", line, re.I):
            return self._at_part(found[1].lower(), found[2])
        known = numbered(self.case)
        if line not in known:
            return f"? {line}: {did_you_mean(line, known) or 'write a step and a place, listen PART, swap PART or it is ...'}"
        number = known[line]
        reading = self.case.library.commission.readings[number]
        self.spent += price(reading) if number not in self.asked else 0
        self.asked[number] = self.case.values[number]
        return f"{line}: {worded(reading, self.case.values[number])}  (spent {self.spent})"

    def _at_part(self, word: str, part: str) -> str:
        names = parts(self.case)
        if part not in names:
            return f"? no part is called `{part}`: {did_you_mean(part, names) or 'write it as the design does'}"
        self.spent += LISTEN if word == "listen" else SWAP
        yes = is_heard(self.case, part) if word == "listen" else cures(self.case, part)
        self.shown |= yes
        says = {("listen", True): "air is heard", ("listen", False): "nothing is heard", ("swap", True): "the complaint is gone",
                ("swap", False): "all is as before"}[word, yes]
        return f"{word} {part}: {says}  (spent {self.spent})"

    def _named(self, name: str) -> str:
        named = _as_known(self.case, name)
        if not named:
            return f"? {name}: write a part and how it fails, as in `it is {self.case.library.entries[1].members[0]}`"
        good = set(mechanic(self.case).taken)
        telling = len(good & set(self.asked)) / len(self.asked) if self.asked else 0.0
        self.marked = Marked(named, proven(self.case, named, self.asked, self.shown), self.spent, telling)
        return f"named: {named}"


def _as_known(one: Case, name: str) -> str:
    """A fault as it was written, in the library's words, or ""."""
    wanted = re.sub(r"[^a-z0-9>]+", " ", name.lower()).split()
    return next((known for known in faults(one) if re.sub(r"[^a-z0-9>]+", " ", known.lower()).split() == wanted), "")


def faults(one: Case) -> list[str]:
    """Every fault that can be named."""
    return list(dict.fromkeys(name for entry in one.library.entries if entry.sort in ("fault", "leak")
                              for name in (entry.name, *entry.members) if ": " in name))


def parts(one: Case) -> list[str]:
    """Every part that can be listened at or swapped."""
    return list(dict.fromkeys(name.rpartition(": ")[0] for name in faults(one)))


def opening(one: Case) -> str:
    """What a student is told first: the complaint, what can be asked, and what it costs."""
    lines = [f"The driver says: {'; '.join(one.complaint)}.", "",
             "One fault is hidden. Ask for one thing a line; each has its price.",
             f"You may spend {BUDGET}. End with `it is PART: FAILURE`, as `airwright faults` names them.", ""]
    rows: dict[tuple[str, int], list[str]] = {}
    readings = one.library.commission.readings
    for reading in readings:
        rows.setdefault((reading.step, price(reading)), []).append(reading.place)
    steps: dict[tuple[tuple[str, ...], int], list[str]] = {}
    for (step, cost), places in rows.items():
        steps.setdefault((tuple(places), cost), []).append(step)
    lines.append(f"A reading is a step and a place, as in `{readings[0].name}`:")
    for (named, cost), several in sorted(steps.items(), key=lambda row: row[0][1]):
        each = f"{cost} each" if len(named) * len(several) > 1 else f"{cost}"
        lines += textwrap.wrap(f"{', '.join(several)} at {', '.join(named)} ({each})", 104, initial_indent="  ",
                               subsequent_indent="      ", break_on_hyphens=False)
    lines += ["Or without a gauge:", f"  listen PART ({LISTEN})", f"  swap PART for a new one ({SWAP})", "",
              "Nothing here is a repair instruction. On a vehicle: level ground, wheels chocked, no air before a line is opened."]
    return "\n".join(lines) + "\n"


def closing(one: Case, marked: Marked | None, spent: int) -> str:
    """The grade, and what a good mechanic would have done."""
    if marked is None:
        return f"\nNo fault was named. Spent {spent} of {BUDGET}; nothing is given away.\n"
    good = mechanic(one)
    readings = one.library.commission.readings
    verdict = ("right, and shown by what was asked" if marked.right else
               "not shown by what was asked, or not what is wrong")
    lines = ["", f"{marked.named}: {verdict}.",
             f"Marks: {marked.marks} of {DIAGNOSIS + THRIFT + ASKED}. Spent {marked.spent} of {BUDGET}."]
    if marked.right or marked.spent >= BUDGET:
        lines += [f"The hidden fault: {one.hidden.name}.", f"A good mechanic would have spent {good.cost}, on:",
                  *(f"  {readings[number].name}: {worded(readings[number], one.values[number])}" for number in good.taken),
                  *(f"  listen {part}" for part in good.listened)]
    return "\n".join(lines) + "\n"
