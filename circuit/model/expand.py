"""Bring in other files' assemblies, and write out each place where an assembly is used.

After this a design is a flat list of statements; a thing `can` of an assembly placed as `d1-left` is `d1-left.can`.
"""

import os
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from circuit.mistake import Mistake
from circuit.model.forms import FORMS
from circuit.model.settings import read
from circuit.near import did_you_mean
from circuit.source import Source, Span
from circuit.syntax.tree import Name, Setting, Statement, Value

DEEPEST = 8
MOST_STATEMENTS = 200_000

Reader = Callable[[str], tuple[Source, tuple[Statement, ...], tuple[Mistake, ...]]]
"""Path to a parsed file; raises OSError or mistake.Unreadable."""


@dataclass(frozen=True, slots=True)
class Assembly:
    """blanks: words to fill in. body: its statements. ports: its own port names to the references they stand for."""

    name: Name
    blanks: tuple[str, ...]
    body: tuple[Statement, ...]
    ports: dict[str, Name]
    locals: frozenset[str]


@dataclass(slots=True)
class Flat:
    """The written-out design. aliases: `d1-left.service` to `d1-left.can.11`. files: every text that was read."""

    statements: list[Statement] = field(default_factory=list)
    aliases: dict[str, str] = field(default_factory=dict)
    files: list[Source] = field(default_factory=list)
    places: dict[str, Span] = field(default_factory=dict)


def expand(source: Source, statements: tuple[Statement, ...], reader: Reader, mistakes: list[Mistake]) -> Flat:
    """All statements of a design with its assemblies written out. Mistakes go to `mistakes`."""
    flat = Flat(files=[source])
    assemblies: dict[str, Assembly] = {}
    rest = _gather(source, statements, reader, assemblies, flat, mistakes, (os.path.abspath(source.name),), True)
    for statement in rest:
        _write_out(statement, assemblies, flat, mistakes, "", 0)
    return flat


def _gather(source, statements, reader, assemblies, flat, mistakes, trail, top) -> list[Statement]:  # type: ignore[no-untyped-def]
    """Take `use` and `assembly` out of a file's statements; returns the others."""
    rest = []
    for statement in statements:
        word = statement.kind.text
        if word == "use" and not statement.broken:
            _use(source, statement, reader, assemblies, flat, mistakes, trail)
        elif word == "assembly" and not statement.broken:
            _assembly(statement, assemblies, mistakes)
        elif top:
            rest.append(statement)
        elif not statement.broken:
            mistakes.append(Mistake(statement.span, f"a used file holds assemblies only, and this is `{word}`",
                                    "move it into the design, or into an assembly"))
    return rest


def _use(source, statement, reader, assemblies, flat, mistakes, trail) -> None:  # type: ignore[no-untyped-def]
    if statement.text is None:
        mistakes.append(Mistake(statement.span, "`use` needs a file name between quotes", 'write use "axles.air"'))
        return
    path = os.path.join(os.path.dirname(source.name), statement.text.text)
    full = os.path.abspath(path)
    if full in trail:
        chain = " uses ".join(os.path.basename(step) for step in (*trail[trail.index(full):], full))
        mistakes.append(Mistake(statement.text.span, f"this file uses itself: {chain}", "remove one `use` of the ring"))
        return
    if any(os.path.abspath(seen.name) == full for seen in flat.files):
        return
    from circuit.mistake import Unreadable

    try:
        inner, parsed, wrong = reader(path)
    except Unreadable as trouble:
        first = trouble.mistakes[0]
        mistakes.append(Mistake(statement.text.span, f"`{statement.text.text}` cannot be read: {first.says}",
                                first.expected or "check the name; it is looked for beside this design"))
        return
    flat.files.append(inner)
    mistakes.extend(wrong)
    _gather(inner, parsed, reader, assemblies, flat, mistakes, (*trail, full), False)


def _assembly(statement: Statement, assemblies: dict[str, Assembly], mistakes: list[Mistake]) -> None:
    if len(statement.names) != 1 or statement.block is None:
        mistakes.append(Mistake(statement.span, "an assembly has one name and a block of statements",
                                "write assembly wheel-end: blanks axle and side { ... }"))
        return
    name = statement.names[0]
    if name.text in assemblies:
        mistakes.append(Mistake(name.span, f"there is already an assembly `{name.text}`", "give one of them another name",
                                (assemblies[name.text].name.span, "the first one")))
        return
    values, _ = read(statement, FORMS["assembly"], "assembly", mistakes)
    blanks = tuple(blank.text for blank in values["blanks"] or ())
    ports: dict[str, Name] = {}
    body = []
    for inner in statement.block:
        if inner.kind.text == "port" and not inner.broken:
            settings, _ = read(inner, FORMS["port"], "port", mistakes)
            if len(inner.names) == 1 and settings["is"] is not None:
                ports[inner.names[0].text] = settings["is"]
            else:
                mistakes.append(Mistake(inner.span, "a port of an assembly has one name and says what it is",
                                        "write port service: is can.11"))
        else:
            body.append(inner)
    used = {blank for inner in body for blank in _blanks(inner)}
    for blank in sorted(used - set(blanks)):
        mistakes.append(Mistake(name.span, f"`<{blank}>` is used inside, and `{blank}` is no blank of this assembly",
                                f"add it: blanks {' and '.join((*blanks, blank))}"))
    locals_ = frozenset(n.text for inner in body for n in inner.names)
    assemblies[name.text] = Assembly(name, blanks, tuple(body), ports, locals_)


def _blanks(statement: Statement) -> set[str]:
    words = [value.text for setting in statement.settings for value in setting.values if isinstance(value, Name)]
    words += [n.text for n in (*statement.names, *(statement.ends or ()))]
    return {part[1:-1] for word in words for part in word.split(".") if part.startswith("<")}


def _write_out(statement, assemblies, flat, mistakes, prefix, depth) -> None:  # type: ignore[no-untyped-def]
    if len(flat.statements) > MOST_STATEMENTS:
        return
    assembly = assemblies.get(statement.kind.text)
    if assembly is None or statement.broken:
        flat.statements.append(statement)
        return
    if depth >= DEEPEST:
        mistakes.append(Mistake(statement.span, f"assemblies stand inside assemblies more than {DEEPEST} deep here",
                                "an assembly may not hold itself"))
        return
    if not statement.names:
        mistakes.append(Mistake(statement.span, f"`{assembly.name.text}` is an assembly: placing it needs a name",
                                f"write {assembly.name.text} NAME: ..."))
        return
    fillings: dict[str, tuple[Value, ...]] = {}
    for setting in statement.settings:
        word = setting.name.text
        if word not in assembly.blanks:
            offer = did_you_mean(word, assembly.blanks) or "its blanks are " + (", ".join(assembly.blanks) or "none")
            mistakes.append(Mistake(setting.name.span, f"the assembly {assembly.name.text} has no blank `{word}`", offer,
                                    (assembly.name.span, "the assembly")))
        elif not setting.values:
            mistakes.append(Mistake(setting.name.span, f"`{word}` has no value", "write one after it"))
        fillings[word] = setting.values
    missing = [blank for blank in assembly.blanks if blank not in fillings]
    if missing:
        mistakes.append(Mistake(statement.span, f"{assembly.name.text} needs {' and '.join(missing)}",
                                "fill in: " + ", ".join(f"{blank} ..." for blank in missing),
                                (assembly.name.span, "the assembly")))
        for name in statement.names:
            flat.places[name.text] = name.span
        return
    for name in statement.names:
        place = name.text
        flat.places[place] = name.span
        for port, reference in assembly.ports.items():
            flat.aliases[f"{place}.{port}"] = f"{place}.{reference.text}"
        for inner in assembly.body:
            placed = _placed(inner, assembly, place, fillings, name.span)
            _write_out(placed, assemblies, flat, mistakes, place, depth + 1)


def _placed(inner, assembly, place, fillings, span) -> Statement:  # type: ignore[no-untyped-def]
    """A statement of an assembly as it stands at one place of use."""

    def filled(text: str) -> str:
        for blank, values in fillings.items():
            if values:
                text = text.replace(f"<{blank}>", values[0].text)
        return text

    def local(name: Name) -> Name:
        text = filled(name.text)
        if name.text.split(".")[0] in assembly.locals:
            text = f"{place}.{text}"
        return Name(text, name.span.used_at(span))

    def value(one: Value) -> tuple[Value, ...]:
        if isinstance(one, Name):
            if one.text.startswith("<") and one.text.count(".") == 0 and one.text[1:-1] in fillings:
                return fillings[one.text[1:-1]]
            return (local(one),)
        return (replace(one, span=one.span.used_at(span)),)

    settings = tuple(
        Setting(Name(s.name.text, s.name.span.used_at(span)), tuple(v for one in s.values for v in value(one)))
        for s in inner.settings
    )
    return Statement(
        Name(inner.kind.text, inner.kind.span.used_at(span)),
        tuple(Name(f"{place}.{filled(n.text)}", n.span.used_at(span)) for n in inner.names),
        tuple(local(end) for end in inner.ends) if inner.ends else None,
        inner.text, settings, inner.block, inner.broken,
    )
