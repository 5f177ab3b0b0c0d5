"""Bring in other files, and write out each place where an assembly is used.

After this a design is a flat list of statements; a thing `can` of an assembly placed as `d1-left` is `d1-left.can`, and
in a combination a thing `foot` of the vehicle `tractor` is `tractor.foot`.
"""

import os
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from circuit.files import folder
from circuit.mistake import Mistake, Unreadable, give_up
from circuit.model.assemblies import DEEPEST, MOST_PARTS, Assembly, Sizes, blanks_of, measured, no_room, placed
from circuit.model.changing import change
from circuit.model.forms import FORMS
from circuit.model.settings import read
from circuit.near import did_you_mean
from circuit.source import Source, Span
from circuit.syntax.statements import Name, Statement, Text, Value

Reader = Callable[[str], tuple[Source, tuple[Statement, ...], tuple[Mistake, ...]]]
"""Path to a parsed file; raises mistake.Unreadable."""

_OF_ITS_OWN = ("rules", "waive", "trial", "vehicle", "combination", "couple")
"""Statements of a vehicle's file that are judged with that vehicle and not with a combination."""


@dataclass(slots=True)
class Flat:
    """The written-out design.

    aliases: `d1-left.service` to `d1-left.can.11`. places: where assemblies are used. files: every text that was read.
    vehicles: for a combination, vehicle name to the path of its file. taken: names and lines that a row took away, with the row.
    """

    statements: list[Statement] = field(default_factory=list)
    aliases: dict[str, str] = field(default_factory=dict)
    files: list[Source] = field(default_factory=list)
    places: dict[str, Span] = field(default_factory=dict)
    vehicles: dict[str, str] = field(default_factory=dict)
    taken: dict[str, Span] = field(default_factory=dict)


def expand(source: Source, statements: tuple[Statement, ...], reader: Reader, mistakes: list[Mistake], flat: Flat) -> None:
    """All statements of a design with everything it brings in written out into `flat`. Mistakes go to `mistakes`."""
    _Expander(reader, mistakes, flat, len(mistakes)).design(source, statements)


@dataclass(slots=True)
class _Expander:
    reader: Reader
    mistakes: list[Mistake]
    flat: Flat
    already: int = 0
    sizes: Sizes = field(default_factory=dict)
    known: list[dict[str, Assembly]] = field(default_factory=list)
    gathered: set[tuple[int, str]] = field(default_factory=set)
    read_files: dict[str, tuple[Source, tuple[Statement, ...]] | None] = field(default_factory=dict)

    def _wrong(self, at: Span, says: str, expected: str = "", other: tuple[Span, str] | None = None) -> None:
        self.mistakes.append(Mistake(at, says, expected, other))

    def design(self, source: Source, statements: tuple[Statement, ...]) -> None:
        full = os.path.abspath(source.name)
        self.flat.files.append(source)
        if any(s.kind.text == "combination" for s in statements):
            self._combination(source, statements, full)
        else:
            rest, assemblies = self._one_vehicle(source, statements, (full,))
            self._write_all(rest, assemblies)
        change(self.flat, self.mistakes)

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
            if not self._has_room(text, trail):
                return None
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

    def _has_room(self, text: Text, trail: tuple[str, ...]) -> bool:
        """Whether one more file may be brought in; said once where it may not."""
        over = no_room(len(self.read_files), len(trail), sum(len(each.text) for each in self.flat.files))
        if over and all(each.says != over for each in self.mistakes):
            self._wrong(text.span, over, "write into fewer files what belongs together")
        return not over

    def _one_vehicle(
        self, source: Source, statements: tuple[Statement, ...], trail: tuple[str, ...]
    ) -> tuple[list[Statement], dict[str, Assembly]]:
        """A vehicle's own statements with those of its base before them, and the assemblies they may use."""
        assemblies: dict[str, Assembly] = {}
        self.known.append(assemblies)
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
                if found is not None and (id(assemblies), found[2][-1]) not in self.gathered:
                    inner, parsed, inner_trail = found
                    self.gathered.add((id(assemblies), inner_trail[-1]))
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
            body = tuple(s for s in rest if s.kind.text not in _OF_ITS_OWN)
            whole = Assembly(name, (), body, {}, frozenset(n.text for s in body for n in s.names))
            self._write_all((placed(one, whole, name.text, {}, None) for one in body), assemblies)

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
        used = {blank for inner in body for blank in blanks_of(inner)}
        for blank in sorted(used - set(blanks)):
            self._wrong(name.span, f"`<{blank}>` is used inside, and `{blank}` is no blank of this assembly",
                        f"add it: blanks {' and '.join((*blanks, blank))}")
        locals_ = frozenset(n.text for inner in body for n in inner.names)
        assemblies[name.text] = Assembly(name, blanks, tuple(body), ports, locals_)

    def _write_all(self, statements: Iterable[Statement], assemblies: dict[str, Assembly]) -> None:
        """Writes out statements, each counted before: one that would not fit is a mistake, and not begun."""
        total = len(self.flat.statements)
        for statement in statements:
            word, times = statement.kind.text, max(1, len(statement.names))
            size, depth = measured(word, assemblies, self.sizes) if word in assemblies and not statement.broken else (1, 0)
            total += times * size
            if depth > DEEPEST:
                self._wrong(statement.span, f"assemblies stand inside assemblies more than {DEEPEST} deep here",
                            "an assembly may not hold itself")
            elif total > MOST_PARTS:
                self._wrong(statement.span, f"written out, this design has {total:,} things and lines with this statement, "
                            f"and {MOST_PARTS:,} is the most", "part it into several designs")
                return
            else:
                self._write_out(statement, assemblies)

    def _write_out(self, statement: Statement, assemblies: dict[str, Assembly]) -> None:
        give_up(self.mistakes, self.already)
        assembly = assemblies.get(statement.kind.text)
        if assembly is None or statement.broken:
            self.flat.statements.append(statement)
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
                self._write_out(placed(inner, assembly, place, fillings, name.span), assemblies)

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
