"""What each name in a design means, across files, assemblies and vehicles: where it is written down, where it is used.

A symbol is a name in its file and, inside an assembly, in that; parts, axles, circuits, trials, assemblies and blanks are told
apart. Only what a statement really gives is a symbol: what cannot be resolved is left alone.
"""

import os
import re
from collections.abc import Iterator
from typing import NamedTuple

from circuit import kinds
from circuit.declaring.traits import Trait
from circuit.editor.desk import Desk, Read
from circuit.editor.spots import Edit, Range, units
from circuit.files import folder
from circuit.mistake import Unreadable
from circuit.model.forms import ACTIONS, FORMS, TRIAL_WORDS
from circuit.source import Source, Span
from circuit.syntax.statements import Name, Setting, Statement, Text

THING, AXLE, CIRCUIT, TRIAL, ASSEMBLY, BLANK, VEHICLE = "part", "axle", "circuit", "trial", "assembly", "blank", "vehicle"
_GIVES = {"axle": AXLE, "circuit": CIRCUIT, "trial": TRIAL, "assembly": ASSEMBLY, "vehicle": VEHICLE, "combination": VEHICLE}


class Symbol(NamedTuple):
    """path: the file that gives the name; inside: the assembly in it, or "". sort: what it is."""

    path: str
    inside: str
    sort: str
    name: str


class Use(NamedTuple):
    """A place where a name stands. gives: it is written down here."""

    symbol: Symbol
    path: str
    at: Range
    gives: bool = False


class CannotRename(ValueError):
    """A name that cannot be given; the text says why."""


def use_at(desk: Desk, path: str, line: int, letter: int) -> Use | None:
    """The name at a place, line and letter from 0 as editors count them."""
    return next((use for use in uses_in(desk, path) if use.at.start[0] == line and use.at.start[1] <= letter <= use.at.end[1]),
                None)


def definition(desk: Desk, symbol: Symbol) -> Use | None:
    """Where a symbol is written down."""
    return next((use for use in uses_in(desk, symbol.path) if use.gives and use.symbol == symbol), None)


def uses(desk: Desk, symbol: Symbol, path: str) -> list[Use]:
    """Every place of a symbol in the project that a file is in."""
    files = dict.fromkeys((*desk.beside(path), symbol.path))
    return [use for each in files for use in uses_in(desk, each) if use.symbol == symbol]


def renamed(desk: Desk, path: str, use: Use, new: str) -> list[Edit]:
    """The edits by which a name becomes another everywhere. Raises CannotRename."""
    symbol = use.symbol
    if not re.fullmatch(r"[^\W\d_](?:[^\W_]|-(?=[^\W_]))*", new):
        raise CannotRename(f"`{new}` is no name: letters, figures and single hyphens, a letter first")
    library = str(folder("shared"))
    if os.path.realpath(symbol.path).startswith(os.path.realpath(library) + os.sep):
        raise CannotRename(f"`{symbol.name}` is written in the program's own library, which is not changed")
    taken = (each for each in uses_in(desk, symbol.path) if each.gives and each.symbol.inside == symbol.inside)
    if any(each.symbol.name == new and each.symbol.sort == symbol.sort for each in taken):
        raise CannotRename(f"there is a {symbol.sort} `{new}` already")
    found = uses(desk, symbol, path)
    edits = [Edit(each.path, each.at, new) for each in dict.fromkeys(found)]
    _tried(desk, edits)
    return edits


def _tried(desk: Desk, edits: list[Edit]) -> None:
    """Reads every changed file once with its new text. Raises CannotRename where that brings a mistake."""
    trial = Desk(gated=False)
    for name in desk.open:
        trial.put(name, desk.source(name).text)
    files = dict.fromkeys(edit.path for edit in edits)
    for path in files:
        trial.put(path, applied(desk.source(path), [edit for edit in edits if edit.path == path]))
    for path in files:
        if len(trial.known(path).mistakes) > len(desk.known(path).mistakes):
            one = trial.known(path).mistakes[0]
            raise CannotRename(f"{os.path.basename(path)}, row {one.at.outermost.line}, would not be understood: {one.says}")


def applied(source: Source, edits: list[Edit]) -> str:
    """A text with edits done, each within one row."""
    rows = list(source.rows)
    for edit in sorted(edits, key=lambda each: each.at, reverse=True):
        (line, start), (_, end) = edit.at
        row = rows[line].encode("utf-16-le")
        rows[line] = (row[:2 * start] + edit.new.encode("utf-16-le") + row[2 * end:]).decode("utf-16-le")
    return "\n".join(rows)


# --- all names of a file ---------------------------------------------------------------------------------------------------


def uses_in(desk: Desk, path: str) -> list[Use]:
    """Every name of a file that means something, in the order of the text."""
    try:
        read = desk.read(path)
    except Unreadable:
        return []
    found = list(_File(desk, read).uses())
    return sorted(dict.fromkeys(found), key=lambda use: use.at)


class _File:
    """A file's names, and those that it may use of others. depth: of files that bring in files."""

    def __init__(self, desk: Desk, read: Read, depth: int = 0) -> None:
        self.desk, self.read, self.depth = desk, read, depth
        self.path = read.source.name
        self.assemblies: dict[str, tuple[str, Statement]] = {}
        self.given: dict[tuple[str, str], Symbol] = {}
        self.of: dict[str, Statement] = {}
        self.vehicles: dict[str, str] = {}
        self._gather()

    def _gather(self) -> None:
        for statement in self.read.statements:
            word = statement.kind.text
            if word == "use" and statement.text is not None:
                for name, found in self._other(statement.text.text, True).items():
                    self.assemblies.setdefault(name, found)
            elif word == "assembly" and statement.names:
                self.assemblies[statement.names[0].text] = (self.path, statement)
            base, file = statement.setting("base"), statement.setting("file")
            if word == "vehicle" and base and base.values and (inner := self._file(base.values[0].text)):
                self.given.update({key: symbol for key, symbol in inner.given.items() if key not in self.given})
                self.of.update({name: each for name, each in inner.of.items() if name not in self.of})
                self.assemblies.update({name: each for name, each in inner.assemblies.items() if name not in self.assemblies})
            if word == "vehicle" and file and file.values and statement.names:
                self.vehicles[statement.names[0].text] = self._beside(file.values[0].text)
        for statement in self.read.statements:
            for given, sort in _given(statement, statement.kind.text in self.assemblies):
                self.given[sort, given.text] = Symbol(self.path, "", sort, given.text)
                if sort == THING:
                    self.of[given.text] = statement

    def _beside(self, name: str, library: bool = False) -> str:
        path = os.path.normpath(os.path.join(os.path.dirname(self.path), name))
        kept = os.path.join(str(folder("shared")), "assemblies", name)
        return kept if library and not os.path.exists(path) and os.path.exists(kept) else path

    def _file(self, name: str, library: bool = False) -> "_File | None":
        if self.depth > 8:
            return None
        try:
            return _File(self.desk, self.desk.read(self._beside(name, library)), self.depth + 1)
        except Unreadable:
            return None

    def _other(self, name: str, library: bool) -> dict[str, tuple[str, Statement]]:
        found = self._file(name, library)
        return found.assemblies if found else {}

    # --- uses -------------------------------------------------------------------------------------------------------

    def uses(self) -> Iterator[Use]:
        for statement in self.read.statements:
            if statement.kind.text == "assembly" and statement.names:
                yield from self._assembly(statement)
            else:
                yield from self._statement(statement, "", {})

    def _assembly(self, statement: Statement) -> Iterator[Use]:
        inside = statement.names[0].text
        symbol = Symbol(self.path, "", ASSEMBLY, inside)
        yield self._use(symbol, statement.names[0].span, True)
        blanks = statement.setting("blanks")
        for value in blanks.values if blanks else ():
            if isinstance(value, Name):
                yield self._use(Symbol(self.path, inside, BLANK, value.text), value.span, True)
        own: dict[tuple[str, str], Symbol] = {}
        for each in statement.block or ():
            own.update({(sort, name.text): Symbol(self.path, inside, sort, name.text)
                        for name, sort in (*_given(each, each.kind.text in self.assemblies),
                                           *((name, THING) for name in each.names if each.kind.text == "port"))})
        for each in statement.block or ():
            yield from self._statement(each, inside, own)

    def _statement(self, statement: Statement, inside: str, own: dict[tuple[str, str], Symbol]) -> Iterator[Use]:
        word = statement.kind.text
        placed = self.assemblies.get(word)
        if placed:
            yield self._use(Symbol(placed[0], "", ASSEMBLY, word), statement.kind.span)
        gives = {id(name): sort for name, sort in _given(statement, placed is not None)}
        if word == "port" and inside:
            gives.update({id(name): THING for name in statement.names})
        for given in statement.names:
            sort = gives.get(id(given))
            if sort:
                known = own or self.given
                symbol = known.get((sort, given.text))
                if symbol is not None:
                    yield self._use(symbol, given.span, True)
            elif word != "rules" and word != "waive":
                yield from self._reference(given.text, given.span, own, inside)
        for end in statement.ends or ():
            yield from self._reference(end.text, end.span, own, inside)
        for setting in statement.settings:
            if placed:
                yield self._use(Symbol(placed[0], word, BLANK, setting.name.text), setting.name.span)
            yield from self._setting(statement, setting, own, inside)
        for inner in statement.block or ():
            yield from self._statement(inner, inside, own)

    def _setting(self, statement: Statement, setting: Setting, own: dict[tuple[str, str], Symbol], inside: str) -> Iterator[Use]:
        dimension = _dimension(statement.kind.text, setting.name.text)
        if dimension == "word" and statement.kind.text not in self.assemblies:
            return
        for value in setting.values:
            if isinstance(value, Name):
                if setting.name.text == "name" and dimension == "name":
                    symbol = (own or self.given).get((THING, value.text))
                    if symbol is not None:
                        yield self._use(symbol, value.span, True)
                elif setting.name.text in ("axle", "axles"):
                    yield from self._reference(value.text, value.span, own, inside, (AXLE,))
                else:
                    yield from self._reference(value.text, value.span, own, inside)
            elif isinstance(value, Text) and statement.kind.text == "waive" and setting.name.text == "at":
                for found in re.finditer(r"[^\W\d_][\w-]*(?:\.[\w-]+)*", value.text):
                    span = value.span._replace(column=value.span.column + 1 + found.start(), length=len(found.group()))
                    yield from self._reference(found.group(), span, own, inside)

    def _reference(self, text: str, span: Span, own: dict[tuple[str, str], Symbol], inside: str,
                   sorts: tuple[str, ...] = (THING, AXLE, CIRCUIT, TRIAL, VEHICLE)) -> Iterator[Use]:
        """The uses in a reference, one for each of its parts that is a name."""
        if text in TRIAL_WORDS and (THING, text) not in self.given:
            return
        parts, column = text.split("."), span.column
        here: _File | None = self
        known, asm = own or self.given, ""
        for number, part in enumerate(parts):
            place = span._replace(column=column, length=len(part))
            column += len(part) + 1
            if part.startswith("<") and inside:
                yield self._use(Symbol(self.path, inside, BLANK, part[1:-1]), place._replace(column=place.column + 1,
                                                                                           length=len(part) - 2))
                continue
            symbol = next((known[sort, part] for sort in sorts if (sort, part) in known), None)
            if symbol is None and number == 0 and own:
                symbol = next((self.given[sort, part] for sort in sorts if sort == AXLE and (sort, part) in self.given), None)
            if symbol is None:
                return
            yield self._use(symbol, place)
            known, here, asm = self._within(here, symbol, asm, own)
            sorts = (THING, AXLE)
            if not known:
                return

    def _within(self, here: "_File | None", symbol: Symbol, asm: str, own: dict[tuple[str, str], Symbol]
                ) -> "tuple[dict[tuple[str, str], Symbol], _File | None, str]":
        """The names that may follow a symbol behind a dot."""
        if here is not None and symbol.sort == VEHICLE and symbol.name in here.vehicles:
            inner = here._file(here.vehicles[symbol.name])
            return (inner.given if inner else {}), inner, ""
        statement = here.of.get(symbol.name) if here is not None and symbol.sort == THING and not symbol.inside else None
        if symbol.inside and here is not None:
            body = here.assemblies.get(symbol.inside)
            statement = next((each for each in (body[1].block or () if body else ())
                              if any(name.text == symbol.name for name in each.names)), None)
        placed = here.assemblies.get(statement.kind.text) if here is not None and statement is not None else None
        if placed is None or statement is None:
            return {}, None, ""
        word = statement.kind.text
        names = {name.text for each in placed[1].block or () for name in each.names}
        return {(THING, name): Symbol(placed[0], word, THING, name) for name in names}, here, word

    def _use(self, symbol: Symbol, span: Span, gives: bool = False) -> Use:
        row = span.source.row(span.line)
        start, end = span.column - 1, span.column - 1 + span.length
        return Use(symbol, self.path, Range((span.line - 1, units(row[:start])), (span.line - 1, units(row[:end]))), gives)


def _given(statement: Statement, placed: bool) -> Iterator[tuple[Name, str]]:
    """The names that a statement gives, with what they are."""
    known = statement.read_as or statement
    word = known.kind.text
    if word in _GIVES:
        yield from ((name, _GIVES[word]) for name in known.names)
    elif placed or (word not in FORMS and word not in ACTIONS):
        kind = kinds.find(word)
        if kind is not None and Trait.LINE in kind.traits:
            named = known.setting("name")
            yield from ((value, THING) for value in (named.values if named else ()) if isinstance(value, Name))
        elif kind is not None or placed:
            yield from ((name, THING) for name in known.names)


def _dimension(word: str, setting: str) -> str:
    table = FORMS.get(word) or ACTIONS.get(word)
    kind = None if table else kinds.find(word)
    found = next((each for each in (table or (kind.settings if kind else ())) if each.name == setting), None)
    return found.dimension if found else ""
