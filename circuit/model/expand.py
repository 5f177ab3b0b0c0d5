"""Bring in other files, and write out each place where an assembly is used.

After this a design is a flat list of statements; a thing `can` of an assembly placed as `d1-left` is `d1-left.can`, and
in a combination a thing `foot` of the vehicle `tractor` is `tractor.foot`.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import NamedTuple

from circuit.files import folder
from circuit.mistake import Mistake, Unreadable
from circuit.model.forms import FORMS
from circuit.model.settings import read
from circuit.near import did_you_mean
from circuit.source import Source, Span
from circuit.syntax.statements import Name, Setting, Statement, Text, Value

DEEPEST = 8
MOST_STATEMENTS = 200_000

Reader = Callable[[str], tuple[Source, tuple[Statement, ...], tuple[Mistake, ...]]]
"""Path to a parsed file; raises mistake.Unreadable."""

_OF_ITS_OWN = ("rules", "waive", "trial", "vehicle", "combination", "couple")
"""Statements of a vehicle's file that are judged with that vehicle and not with a combination."""


class Assembly(NamedTuple):
    """blanks: words to fill in. body: its statements. ports: its own port names to the references they stand for."""

    name: Name
    blanks: tuple[str, ...]
    body: tuple[Statement, ...]
    ports: dict[str, Name]
    locals: frozenset[str]


@dataclass(slots=True)
class Flat:
    """The written-out design.

    aliases: `d1-left.service` to `d1-left.can.11`. places: where assemblies are used. files: every text that was read.
    vehicles: for a combination, vehicle name to the path of its file.
    """

    statements: list[Statement] = field(default_factory=list)
    aliases: dict[str, str] = field(default_factory=dict)
    files: list[Source] = field(default_factory=list)
    places: dict[str, Span] = field(default_factory=dict)
    vehicles: dict[str, str] = field(default_factory=dict)


def expand(source: Source, statements: tuple[Statement, ...], reader: Reader, mistakes: list[Mistake]) -> Flat:
    """All statements of a design with everything it brings in written out. Mistakes go to `mistakes`."""
    return _Expander(reader, mistakes).design(source, statements)


@dataclass(slots=True)
class _Expander:
    reader: Reader
    mistakes: list[Mistake]
    flat: Flat = field(default_factory=Flat)
    read_files: dict[str, tuple[Source, tuple[Statement, ...]] | None] = field(default_factory=dict)

    def _wrong(self, at: Span, says: str, expected: str = "", other: tuple[Span, str] | None = None) -> None:
        self.mistakes.append(Mistake(at, says, expected, other))

    def design(self, source: Source, statements: tuple[Statement, ...]) -> Flat:
        full = os.path.abspath(source.name)
        self.flat.files.append(source)
        if any(s.kind.text == "combination" for s in statements):
            self._combination(source, statements, full)
        else:
            rest, assemblies = self._one_vehicle(source, statements, (full,))
            for statement in rest:
                self._write_out(statement, assemblies, 0)
        self._change_settings()
        return self.flat

    # --- files --------------------------------------------------------------------------------------------------

    def _file(self, source: Source, text: Text, trail: tuple[str, ...], word: str, library: bool = False):  # type: ignore[no-untyped-def]
        """A file named in a design: its source, statements and trail, or None with a mistake."""
        path = os.path.join(os.path.dirname(source.name), text.text)
        if library and not os.path.exists(path):
            kept = folder("shared") / "assemblies"
            if (kept / text.text).is_file():
                path = str(kept / text.text)
            else:
                own = ", ".join(sorted(p.name for p in kept.glob("*.air")))
                self._wrong(text.span, f"there is no file `{text.text}` beside this design or in the library",
                            f"check the name; the library has {own}")
                return None
        full = os.path.abspath(path)
        if full in trail:
            chain = f" {word}s ".join(os.path.basename(step) for step in (*trail[trail.index(full):], full))
            self._wrong(text.span, f"this file {word}s itself: {chain}", f"remove one `{word}` of the ring")
            return None
        if full not in self.read_files:
            try:
                inner, parsed, wrong = self.reader(path)
            except Unreadable as trouble:
                first = trouble.mistakes[0]
                self._wrong(text.span, f"`{text.text}` cannot be read: {first.says}",
                            first.expected or "check the name; it is looked for beside this design")
                self.read_files[full] = None
                return None
            self.flat.files.append(inner)
            self.mistakes.extend(wrong)
            self.read_files[full] = (inner, parsed)
        found = self.read_files[full]
        return None if found is None else (*found, (*trail, full))

    def _one_vehicle(
        self, source: Source, statements: tuple[Statement, ...], trail: tuple[str, ...]
    ) -> tuple[list[Statement], dict[str, Assembly]]:
        """A vehicle's own statements with those of its base before them, and the assemblies they may use."""
        assemblies: dict[str, Assembly] = {}
        rest = self._gather(source, statements, assemblies, trail, True)
        for vehicle in [s for s in rest if s.kind.text == "vehicle" and not s.broken]:
            base = vehicle.setting("base")
            if base is None or not base.values or not isinstance(base.values[0], Text):
                continue
            found = self._file(source, base.values[0], trail, "base")
            if found is not None:
                inner, parsed, inner_trail = found
                below, inherited = self._one_vehicle(inner, parsed, inner_trail)
                for name, assembly in inherited.items():
                    assemblies.setdefault(name, assembly)
                mine = {s.kind.text for s in rest}
                below = [s for s in below if s.kind.text != "vehicle" and not (s.kind.text == "rules" and "rules" in mine)]
                rest = [*below, *rest]
        return rest, assemblies

    def _gather(self, source, statements, assemblies, trail, top) -> list[Statement]:  # type: ignore[no-untyped-def]
        """Take `use` and `assembly` out of a file's statements; returns the others."""
        rest = []
        for statement in statements:
            word = statement.kind.text
            if word == "use" and not statement.broken:
                if statement.text is None:
                    self._wrong(statement.span, "`use` needs a file name between quotes", 'write use "axles.air"')
                    continue
                found = self._file(source, statement.text, trail, "use", library=True)
                if found is not None:
                    inner, parsed, inner_trail = found
                    self._gather(inner, parsed, assemblies, inner_trail, False)
            elif word == "assembly" and not statement.broken:
                self._assembly(statement, assemblies)
            elif top:
                rest.append(statement)
            elif not statement.broken:
                self._wrong(statement.span, f"a used file holds assemblies only, and this is `{word}`",
                            "move it into the design, or into an assembly")
        return rest

    # --- combinations -------------------------------------------------------------------------------------------

    def _combination(self, source: Source, statements: tuple[Statement, ...], full: str) -> None:
        for statement in statements:
            word = statement.kind.text
            if statement.broken:
                continue
            if word != "vehicle":
                if word in ("combination", "rules", "couple", "set", "waive", "trial", "plug"):
                    self.flat.statements.append(statement)
                else:
                    self._wrong(statement.span, f"a combination has no parts of its own, and this is `{word}`",
                                "write it into the file of the vehicle that carries it")
                continue
            named = statement.setting("file")
            if len(statement.names) != 1 or named is None or not named.values or not isinstance(named.values[0], Text):
                self._wrong(statement.span, "a vehicle of a combination has one name and a file",
                            'write vehicle tractor: file "tractor.air"')
                continue
            found = self._file(source, named.values[0], (full,), "vehicle")
            if found is None:
                continue
            inner, parsed, trail = found
            name = statement.names[0]
            if name.text in self.flat.vehicles:
                self._wrong(name.span, f"there are two vehicles called `{name.text}`", "give one of them another name")
                continue
            self.flat.vehicles[name.text] = inner.name
            rest, assemblies = self._one_vehicle(inner, parsed, trail)
            body = tuple(s for s in rest if s.kind.text not in _OF_ITS_OWN and not s.broken)
            whole = Assembly(name, (), body, {}, frozenset(n.text for s in body for n in s.names))
            for one in body:
                self._write_out(_placed(one, whole, name.text, {}, None), assemblies, 0)

    def _change_settings(self) -> None:
        """Apply each `set NAME: SETTING value` to the statement that declares the name."""
        changes = [s for s in self.flat.statements if s.kind.text == "set" and not s.broken]
        if not changes:
            return
        self.flat.statements = [s for s in self.flat.statements if s.kind.text != "set"]
        for change in changes:
            if not change.names:
                self._wrong(change.span, "`set` needs the name of a part", "write set rear-cock: state shut")
            for name in change.names:
                found = next((i for i, s in enumerate(self.flat.statements)
                              if any(n.text == name.text for n in s.names)), None)
                if found is None:
                    known = [n.text for s in self.flat.statements for n in s.names]
                    self._wrong(name.span, f"nothing is called `{name.text}`",
                                did_you_mean(name.text, known) or "name a part of the design")
                    continue
                old = self.flat.statements[found]
                new = {setting.name.text for setting in change.settings}
                settings = (*(s for s in old.settings if s.name.text not in new), *change.settings)
                others = tuple(n for n in old.names if n.text != name.text)
                mine = old._replace(names=tuple(n for n in old.names if n.text == name.text), settings=settings)
                self.flat.statements[found: found + 1] = [old._replace(names=others), mine] if others else [mine]

    # --- assemblies ---------------------------------------------------------------------------------------------

    def _assembly(self, statement: Statement, assemblies: dict[str, Assembly]) -> None:
        if len(statement.names) != 1 or statement.block is None:
            self._wrong(statement.span, "an assembly has one name and a block of statements",
                        "write assembly wheel-end: blanks axle and side { ... }")
            return
        name = statement.names[0]
        if name.text in assemblies:
            first = assemblies[name.text].name.span
            if first != name.span:
                self._wrong(name.span, f"there is already an assembly `{name.text}`", "give one of them another name",
                            (first, "the first one"))
            return
        values, _ = read(statement, FORMS["assembly"], "assembly", self.mistakes)
        blanks = tuple(blank.text for blank in values["blanks"] or ())
        ports: dict[str, Name] = {}
        body = []
        for inner in statement.block:
            if inner.kind.text == "port" and not inner.broken:
                settings, _ = read(inner, FORMS["port"], "port", self.mistakes)
                if len(inner.names) == 1 and settings["is"] is not None:
                    ports[inner.names[0].text] = settings["is"]
                else:
                    self._wrong(inner.span, "a port of an assembly has one name and says what it is",
                                "write port service: is can.11")
            else:
                body.append(inner)
        used = {blank for inner in body for blank in _blanks(inner)}
        for blank in sorted(used - set(blanks)):
            self._wrong(name.span, f"`<{blank}>` is used inside, and `{blank}` is no blank of this assembly",
                        f"add it: blanks {' and '.join((*blanks, blank))}")
        locals_ = frozenset(n.text for inner in body for n in inner.names)
        assemblies[name.text] = Assembly(name, blanks, tuple(body), ports, locals_)

    def _write_out(self, statement: Statement, assemblies: dict[str, Assembly], depth: int) -> None:
        if len(self.flat.statements) > MOST_STATEMENTS:
            return
        assembly = assemblies.get(statement.kind.text)
        if assembly is None or statement.broken:
            self.flat.statements.append(statement)
            return
        if depth >= DEEPEST:
            self._wrong(statement.span, f"assemblies stand inside assemblies more than {DEEPEST} deep here",
                        "an assembly may not hold itself")
            return
        if not statement.names:
            self._wrong(statement.span, f"`{assembly.name.text}` is an assembly: placing it needs a name",
                        f"write {assembly.name.text} NAME: ...")
            return
        fillings = self._fillings(statement, assembly)
        for name in statement.names:
            place = name.text
            self.flat.places[place] = name.span
            if fillings is None:
                continue
            for port, reference in assembly.ports.items():
                self.flat.aliases[f"{place}.{port}"] = f"{place}.{reference.text}"
            for inner in assembly.body:
                self._write_out(_placed(inner, assembly, place, fillings, name.span), assemblies, depth + 1)

    def _fillings(self, statement: Statement, assembly: Assembly) -> dict[str, tuple[Value, ...]] | None:
        """What a placing fills the blanks with, or None when it leaves one empty."""
        fillings: dict[str, tuple[Value, ...]] = {}
        for setting in statement.settings:
            word = setting.name.text
            if word not in assembly.blanks:
                offer = did_you_mean(word, assembly.blanks) or "its blanks are " + (", ".join(assembly.blanks) or "none")
                self._wrong(setting.name.span, f"the assembly {assembly.name.text} has no blank `{word}`", offer,
                            (assembly.name.span, "the assembly"))
            elif not setting.values:
                self._wrong(setting.name.span, f"`{word}` has no value", "write one after it")
            fillings[word] = setting.values
        missing = [blank for blank in assembly.blanks if blank not in fillings]
        if missing:
            self._wrong(statement.span, f"{assembly.name.text} needs {' and '.join(missing)}",
                        "fill in: " + ", ".join(f"{blank} ..." for blank in missing),
                        (assembly.name.span, "the assembly"))
            return None
        return fillings


def _blanks(statement: Statement) -> set[str]:
    words = [value.text for setting in statement.settings for value in setting.values if isinstance(value, Name)]
    words += [n.text for n in (*statement.names, *(statement.ends or ()))]
    return {part[1:-1] for word in words for part in word.split(".") if part.startswith("<")}


def _placed(
    inner: Statement, assembly: Assembly, place: str, fillings: dict[str, tuple[Value, ...]], at: Span | None
) -> Statement:
    """A statement of an assembly as it stands at one place of use; `at` is that place, None for a whole vehicle."""

    def seen(span: Span) -> Span:
        return span.used_at(at) if at is not None else span

    def filled(text: str) -> str:
        for blank, values in fillings.items():
            if values:
                text = text.replace(f"<{blank}>", values[0].text)
        return text

    def local(name: Name) -> Name:
        text = filled(name.text)
        if name.text.split(".")[0] in assembly.locals:
            text = f"{place}.{text}"
        return Name(text, seen(name.span))

    def value(one: Value) -> tuple[Value, ...]:
        if isinstance(one, Name):
            if one.text.startswith("<") and one.text.count(".") == 0 and one.text[1:-1] in fillings:
                return fillings[one.text[1:-1]]
            meant = local(one)
            return (Name(filled(one.text), meant.span, one.scoped or meant.text),)
        return (one._replace(span=seen(one.span)),)

    settings = tuple(
        Setting(Name(s.name.text, seen(s.name.span)), tuple(v for one in s.values for v in value(one)))
        for s in inner.settings
    )
    return inner._replace(
        kind=Name(inner.kind.text, seen(inner.kind.span)),
        names=tuple(Name(f"{place}.{filled(n.text)}", seen(n.span)) if inner.kind.text != "plug" else local(n)
                    for n in inner.names),
        ends=(local(inner.ends[0]), local(inner.ends[1])) if inner.ends else None,
        settings=settings,
    )
