"""Single edits of a design's text, made from the rows, ports and settings alone: nothing here knows a rule or a duty.

An edit is a mistake that somebody could make with the file, or on the vehicle: one end of a line at another port, a part or a
line left out, doubled, turned round, two like lines exchanged, a setting at a wrong neighbour of the trade. Ports that are left
open are plugged, as a tidy hand would; an edit whose text does not parse any more is none.
"""

import re
from collections.abc import Iterable, Iterator, Set
from random import Random
from typing import NamedTuple

from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.pipeline import load_source
from circuit.source import Source

_LINE = re.compile(r"^([\w-]+) (\S+) -> ([^\s:]+)(.*)$")
_PART = re.compile(r"^([\w-]+) ([\w-]+(?: and [\w-]+)*)(:.*)?$")
_FIGURE = re.compile(r"(\d+(?:\.\d+)?) (bar|psi|L|mm)\b")
_NEIGHBOURS = (0.5, 0.7, 1.4, 2.0)
_COUNT = re.compile(r"\b(deliveries|holes|supplies) (\d+)")


class Edit(NamedTuple):
    """sort: what was done. rows: numbers, from 1, of the rows of the new text that it wrote, or for what was left out those of
    what it joined. text: the whole new design."""

    sort: str
    says: str
    rows: frozenset[int]
    text: str


class Design:
    """A design's rows, and what stands in them."""

    def __init__(self, path: str, text: str) -> None:
        self.path, self.text = path, re.sub(r"^trial .*?^}\n", "", text, flags=re.M | re.S)
        self.rows = self.text.split("\n")
        self.circuit = self.load(self.text)
        assert self.circuit is not None
        kinds = {device.kind.name for device in self.circuit.devices if device.is_line}
        aliases = {alias for device in self.circuit.devices if device.is_line for alias in device.kind.aliases}
        self.lines = [(n, m) for n, row in enumerate(self.rows) if (m := _LINE.match(row)) and m[1] in kinds | aliases]
        names = {device.name for device in self.circuit.devices}
        self.parts = [(n, m) for n, row in enumerate(self.rows) if (m := _PART.match(row)) and m[2] in names]
        self.ends = sorted({m[side] for _, m in self.lines for side in (2, 3)})

    def load(self, text: str) -> Circuit | None:
        """The circuit of a text; None of one that does not parse."""
        try:
            return load_source(Source(self.path, text))
        except Unreadable:
            return None

    def row_of(self, name: str) -> int | None:
        """The row that writes a part of this name down."""
        for n, row in enumerate(self.rows):
            head = row.split(":")[0]
            if re.search(rf"(^|\s){re.escape(name)}(\s|$)", head) and not _LINE.match(row) and not head.startswith("plug"):
                return n
        return None

    # --- the sorts of edits ------------------------------------------------------------------------------------------

    def moves(self, chance: Random) -> Iterator[Edit]:
        """One end of a line at another port."""
        for n, m in self.lines:
            for side in (2, 3):
                for target in chance.sample(self.ends, min(6, len(self.ends))):
                    if target != m[side]:
                        row = f"{m[1]} {target} -> {m[3]}{m[4]}" if side == 2 else f"{m[1]} {m[2]} -> {target}{m[4]}"
                        yield from self._made("move", f"{m[0]}: to {target}", {n: row}, [m[side]], [target])

    def lines_out(self, chance: Random) -> Iterator[Edit]:
        for n, m in self.lines:
            yield from self._made("line out", m[0], {n: None}, [m[2], m[3]])

    def parts_out(self, chance: Random) -> Iterator[Edit]:
        """A part with its lines; what hangs on it goes too."""
        for n, m in self.parts:
            names = m[2].split(" and ")
            own = {name for name in names}
            gone: dict[int, str | None] = {n: None}
            open_: list[str] = []
            for k, row in enumerate(self.rows):
                line = _LINE.match(row)
                if line:
                    ends = [line[2], line[3]]
                    if any(end.split(".")[0] in own for end in ends):
                        gone[k] = None
                        open_ += [end for end in ends if end.split(".")[0] not in own]
                elif any(re.search(rf"\bon {re.escape(name)}(\.|,|$)", row) or re.match(rf"plug {re.escape(name)}\.", row)
                         for name in own):
                    gone[k] = None
            for k, row in enumerate(self.rows):
                if row.startswith("circuit ") and any(re.search(rf"\b{re.escape(name)}\b", row) for name in own):
                    gone[k] = None
            yield from self._made("part out", m[0], gone, open_)

    def bridged(self, chance: Random) -> Iterator[Edit]:
        """A part with two lines out, and its lines joined."""
        for n, m in self.parts:
            mine = [(k, line) for k, line in self.lines if m[2] in (line[2].split(".")[0], line[3].split(".")[0])]
            if len(mine) != 2 or " and " in m[2]:
                continue
            far = [line[3] if line[2].split(".")[0] == m[2] else line[2] for _, line in mine]
            (k, one), (other, _) = mine
            yield from self._made("part bridged", m[0], {n: None, other: None, k: f"{one[1]} {far[0]} -> {far[1]}{one[4]}"}, [])

    def turned(self, chance: Random) -> Iterator[Edit]:
        """A part with what stands at two of its ports exchanged."""
        for n, m in self.parts:
            device = self._device(m[2])
            if device is None:
                continue
            used = sorted({end for _, line in self.lines for end in (line[2], line[3]) if end.split(".")[0] == m[2]})
            for place, one in enumerate(used):
                for other in used[place + 1:]:
                    changed: dict[int, str | None] = {}
                    for k, line in self.lines:
                        swap = {one: other, other: one}
                        ends = [swap.get(line[2], line[2]), swap.get(line[3], line[3])]
                        if ends != [line[2], line[3]]:
                            changed[k] = f"{line[1]} {ends[0]} -> {ends[1]}{line[4]}"
                    yield from self._made("cross ports", f"{one} and {other}", changed, [], [one, other], {n})

    def crossed(self, chance: Random) -> Iterator[Edit]:
        """The far ends of two like lines exchanged."""
        pairs = [(a, b) for place, a in enumerate(self.lines) for b in self.lines[place + 1:] if a[1][1] == b[1][1]]
        for (n, a), (k, b) in chance.sample(pairs, min(60, len(pairs))):
            yield from self._made("cross lines", f"{a[0]} and {b[0]}", {
                n: f"{a[1]} {a[2]} -> {b[3]}{a[4]}", k: f"{b[1]} {b[2]} -> {a[3]}{b[4]}"}, [])

    def doubled(self, chance: Random) -> Iterator[Edit]:
        """A part with one line in and one out, twice in series."""
        for n, m in self.parts:
            if " and " in m[2]:
                continue
            mine = [(k, line) for k, line in self.lines if m[2] == line[2].split(".")[0] and "." in line[2]]
            if len(mine) != 1:
                continue
            k, out = mine[0]
            port = out[2].split(".", 1)[1]
            inlet = next((line[3].split(".", 1)[1] for _, line in self.lines
                          if line[3].split(".")[0] == m[2] and "." in line[3]), "1")
            second = f"{m[2]}-too"
            yield from self._made("double", m[0], {
                n: f"{self.rows[n]}\n{m[1]} {second}{m[3] or ''}",
                k: f"{out[1]} {out[2]} -> {second}.{inlet}{out[4]}\n{out[1]} {second}.{port} -> {out[3]}{out[4]}"}, [])

    def figures(self, chance: Random) -> Iterator[Edit]:
        """A figure of a part at a wrong neighbour."""
        for n, m in self.parts:
            for found in _FIGURE.finditer(self.rows[n]):
                value = float(found[1]) * chance.choice(_NEIGHBOURS)
                row = f"{self.rows[n][:found.start(1)]}{value:.4g}{self.rows[n][found.end(1):]}"
                yield from self._made("figure", f"{m[0]}: {value:.4g} {found[2]}", {n: row}, [])

    def sorts(self) -> tuple[str, ...]:
        return ("moves", "lines_out", "parts_out", "bridged", "turned", "crossed", "doubled", "figures")

    # --- how -----------------------------------------------------------------------------------------------------------

    def _device(self, name: str) -> Device | None:
        return self.circuit.by_name.get(name) if self.circuit else None

    def _made(self, sort: str, says: str, changed: dict[int, str | None], opened: list[str], filled: Iterable[str] = (),
              more: Set[int] = frozenset()) -> Iterator[Edit]:
        """The edit, with counts of holes as they have to be, and what is left open plugged."""
        rows: dict[int, str | None] = dict(enumerate(self.rows))
        rows |= changed
        for end, by in [*((end, -1) for end in opened), *((end, 1) for end in filled if opened)]:
            self._count(rows, end, by)
        for end in opened:
            still = any(row and (m := _LINE.match(row)) and end in (m[2], m[3]) for row in rows.values())
            if not still and self._needs_plug(rows, end):
                rows[max(rows) + 1] = f"plug {end}"
        for end in filled:
            for k, row in rows.items():
                if row == f"plug {end}":
                    rows[k] = None
        text, written, counted, number = [], set(), set(), 0
        wrote = set(changed) | set(more)
        for k in sorted(rows):
            row = rows[k]
            if row is not None:
                for part in row.split("\n"):
                    number += 1
                    text.append(part)
                    if k in wrote and k in changed or k in more:
                        written.add(number)
                    elif k < len(self.rows) and row != self.rows[k]:
                        counted.add(number)
        if not written:
            hosts = (re.search(r"\bon ([\w-]+)", self.rows[k]) for k in changed)
            joined = {*(end.split(".")[0] for end in opened), *(host[1] for host in hosts if host)}
            written = {number + 1 for number, row in enumerate(text) if any(
                re.search(rf"(^|\s){re.escape(name)}(\.\S+|\s|:|$)", row) for name in joined)}
        new = "\n".join(text)
        if new != self.text:
            yield Edit(sort, says, frozenset(written | counted), new)

    def _count(self, rows: dict[int, str | None], end: str, by: int) -> None:
        name = end.split(".")[0]
        device = self._device(name)
        port = device.kind.port(end.partition(".")[2]) if device and "." in end else None
        at = self.row_of(name)
        if device is None or at is None or rows[at] is None or port is None or not port.holes_from:
            return
        found = re.search(rf"\b{port.holes_from} (\d+)", str(rows[at]))
        if found and int(found[1]) + by >= 1:
            rows[at] = f"{str(rows[at])[:found.start(1)]}{int(found[1]) + by}{str(rows[at])[found.end(1):]}"
        elif not found and by > 0:
            joint = ", " if ":" in str(rows[at]) else ": "
            rows[at] = f"{rows[at]}{joint}{port.holes_from} {1 + by}"

    def _needs_plug(self, rows: dict[int, str | None], end: str) -> bool:
        name, _, word = end.partition(".")
        device = self._device(name)
        at = self.row_of(name)
        if device is None or at is None or rows.get(at) is None or not word:
            return False
        return device.kind.port(word) is not None


def edits(design: Design, chance: Random) -> list[Edit]:
    """All edits of a design whose text still parses, in an order by chance."""
    found = [edit for sort in design.sorts() for edit in getattr(design, sort)(chance)]
    chance.shuffle(found)
    return found
