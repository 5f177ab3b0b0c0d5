"""The designs on the desk: texts as they stand in an editor, and what is known of them, kept warm between keystrokes.

Trees of statements are kept by their text, files by their content, verdicts by what the circuit is. Positions are the program's
own here, lines and columns from 1; `spots` knows those of editors.
"""

import os
from collections.abc import Iterable
from typing import NamedTuple

from circuit import pipeline
from circuit.console.gating import misruled
from circuit.gate.gate import Gate
from circuit.mistake import Mistake, Unreadable
from circuit.model.circuit import Circuit
from circuit.model.known_words import VOCABULARY
from circuit.model.resolve import Understood
from circuit.source import Source
from circuit.syntax.fence import fence_of
from circuit.syntax.parse import keep_trees, parse
from circuit.syntax.read import read
from circuit.syntax.statements import Statement
from circuit.verdict.judge import Verdict

ENDING = ".air"
MOST_KEPT = 64
"""Verdicts that are kept."""
MOST_BESIDE = 300
"""Files of a project that are looked through for those that bring in another."""
MOST_FOLDERS = 3000
"""Folders that are looked into for them."""


class Read(NamedTuple):
    """A text, cut and parsed. mistakes: of the text alone."""

    source: Source
    statements: tuple[Statement, ...]
    mistakes: tuple[Mistake, ...]


class Desk:
    """Open texts by their absolute paths, and what was worked out of them."""

    def __init__(self, gated: bool = True) -> None:
        keep_trees()
        self.gated = gated
        self._open: dict[str, Source] = {}
        self._files: dict[str, tuple[tuple[int, int], Source]] = {}
        self._read: dict[str, Read] = {}
        self._known: dict[str, tuple[tuple[tuple[str, int], ...], Understood]] = {}
        self._verdicts: dict[object, Verdict | None] = {}

    # --- texts ------------------------------------------------------------------------------------------------------

    def put(self, path: str, text: str) -> None:
        """A text as it stands in an editor now."""
        full = os.path.abspath(path)
        text = text.replace("\r\n", "\n")
        if full not in self._open or self._open[full].text != text:
            self._open[full] = Source(full, text)

    def take(self, path: str) -> None:
        """Closes a text: what is on disk counts again."""
        self._open.pop(os.path.abspath(path), None)

    @property
    def open(self) -> tuple[str, ...]:
        return tuple(self._open)

    def source(self, path: str) -> Source:
        """The text of a file as it is seen now. Raises Unreadable."""
        full = os.path.abspath(path)
        if full in self._open:
            return self._open[full]
        try:
            stat = os.stat(full)
            mark = stat.st_mtime_ns, stat.st_size
        except OSError:
            mark = 0, 0
        if full not in self._files or self._files[full][0] != mark:
            self._files[full] = mark, read(full)
        return self._files[full][1]

    def read(self, path: str) -> Read:
        """The statements of a file. Raises Unreadable."""
        source = self.source(path)
        found = self._read.get(source.name)
        if found is None or found.source is not source:
            statements, mistakes = parse(source, VOCABULARY)
            found = self._read[source.name] = Read(source, statements, mistakes)
        return found

    def beside(self, path: str) -> tuple[str, ...]:
        """The designs of the project that a file is in, itself first; none that lies outside of its root."""
        full = os.path.abspath(path)
        root = fence_of(full, "").root
        found = {full: None, **dict.fromkeys(self._open)}
        for number, (folder, folders, names) in enumerate(os.walk(root)):
            folders[:] = sorted(each for each in folders if not each.startswith(".") and each not in ("node_modules",))
            found.update((os.path.join(folder, name), None) for name in sorted(names) if name.endswith(ENDING))
            if len(found) > MOST_BESIDE or number > MOST_FOLDERS:
                break
        return tuple(found)

    # --- what is known ------------------------------------------------------------------------------------------------

    def known(self, path: str) -> Understood:
        """What is understood of a design, from its text as it stands now. Raises Unreadable where there is no text."""
        source = self.source(path)
        kept = self._known.get(source.name)
        if kept is not None and all(self._same(name, mark) for name, mark in kept[0]):
            return kept[1]
        found = pipeline.as_far(source, reading=self.source)
        files = found.files or (source,)
        self._known[source.name] = tuple((os.path.abspath(each.name), id(each)) for each in files), found
        return found

    def _same(self, name: str, mark: int) -> bool:
        try:
            return id(self.source(name)) == mark
        except Unreadable:
            return False

    def verdict(self, path: str) -> Verdict | None:
        """The verdict on a design, with mistakes as far as it is understood; None where nothing can be said."""
        known = self.known(path)
        if known.circuit is None:
            return None
        gate = self._gate(path)
        own = tuple((name, self._of_vehicle(each)) for name, each in known.circuit.vehicles.items())
        rows = tuple(each.at.outermost.line for each in known.mistakes)
        key = mark(known.circuit), repr(known.unknown), rows, repr(gate.policy), tuple(id(each) for _, each in own)
        if key not in self._verdicts:
            if len(self._verdicts) >= MOST_KEPT:
                self._verdicts.pop(next(iter(self._verdicts)))
            of = self._of_vehicle
            self._verdicts[key] = pipeline.standing(known, gate=gate, own=of) if known.mistakes else pipeline.judged(
                known.circuit, gate=gate, of=of)
        return self._verdicts[key]

    def _of_vehicle(self, path: str) -> Verdict | None:
        try:
            return self.verdict(path)
        except Unreadable:
            return None

    def _gate(self, path: str) -> Gate:
        """The gate of a design's project; the open one where its policy is not understood, which `check` tells."""
        from circuit.gate import gate, policy
        from circuit.gate.place import find

        if not self.gated:
            return Gate()
        try:
            found = find(os.path.dirname(os.path.abspath(path)))
            return gate.opened(policy.read(found)) if found else Gate()
        except misruled():
            return Gate()


def mark(circuit: Circuit) -> int:
    """What a circuit is, with the places of its rows, as one number: alike for two that every rule says the same of."""
    return hash(repr((
        circuit.vehicle._replace(span=_spot(circuit.vehicle.span)),  # type: ignore[arg-type]
        circuit.rule_sets, [_device(one) for one in circuit.devices], tuple(circuit.space.items()),
        [(key, _spot(at)) for key, at in circuit.plugged.items()], tuple(circuit.used.items()), _spots(circuit.axles),
        _spots(circuit.intents), _spots(circuit.waivers), _spots(circuit.couplings), _spots(circuit.trials),
        circuit.source.name, tuple(each.name for each in circuit.files))))


def _device(one) -> object:  # type: ignore[no-untyped-def]
    return (one.name, one.kind.name, {name: value if not isinstance(value, tuple) else str(value) for name, value in
                                      one.settings.items() if not hasattr(value, "span")},
            [(name, given.text, given.source, _spot(given.span)) for name, given in one.given.items()], _spot(one.span), one.ends,
            one.host)


def _spot(span) -> object:  # type: ignore[no-untyped-def]
    return None if span is None else (span.source.name, span.line, span.column, span.length, _spot(span.via))


def _spots(records: Iterable) -> list[object]:  # type: ignore[type-arg]
    return [tuple(_spot(value) if hasattr(value, "outermost") else _steps(value) for value in record) for record in records]


def _steps(value: object) -> object:
    """A field of a record; the steps of a trial without their texts."""
    if isinstance(value, tuple) and value and hasattr(value[0], "action"):
        return [(step.action, step.names, repr(step.settings), _spot(step.span)) for step in value]
    return value
