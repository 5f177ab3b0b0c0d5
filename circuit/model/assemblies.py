"""Assemblies: their statements as they stand at one place of use, and how much they become, counted before any is written out."""

from typing import NamedTuple

from circuit.source import Span
from circuit.syntax.statements import Name, Setting, Statement, Value

DEEPEST = 8
"""Assemblies that stand in each other."""

MOST_PARTS = 40_000
"""Things and lines of a design with its assemblies written out; a vehicle has some two hundred."""

MOST_FILES, DEEPEST_FILES, MOST_LETTERS = 200, 40, 8_000_000
"""Files that a design brings in, how long a chain of them may be, and how many letters all of them may have."""

Sizes = dict[tuple[int, str], tuple[int, int]]
"""What was counted, by the assemblies that are known at a place and one of their names."""


class Assembly(NamedTuple):
    """blanks: words to fill in. body: its statements. ports: its own port names to the references they stand for."""

    name: Name
    blanks: tuple[str, ...]
    body: tuple[Statement, ...]
    ports: dict[str, Name]
    locals: frozenset[str]


def measured(word: str, assemblies: dict[str, Assembly], sizes: Sizes, level: int = 0) -> tuple[int, int]:
    """How many things and lines an assembly becomes, and how many stand in each other, many where one holds itself."""
    key = id(assemblies), word
    if key in sizes:
        return sizes[key]
    if level > 4 * DEEPEST:
        return 1, DEEPEST + 1
    sizes[key] = 1, DEEPEST + 1  # met again inside itself
    size, depth = 0, 0
    for inner in assemblies[word].body:
        own = (1, 0)
        if inner.kind.text in assemblies and not inner.broken:
            own = measured(inner.kind.text, assemblies, sizes, level + 1)
        size += max(1, len(inner.names)) * own[0]
        depth = max(depth, own[1])
    sizes[key] = size, depth + 1
    return sizes[key]


def no_room(files: int, deep: int, letters: int) -> str:
    """Why one more file may not be brought in, or nothing. files, letters: of those there are; deep: of the chain to it."""
    if files >= MOST_FILES:
        return f"this design brings in more than {MOST_FILES} files"
    if deep >= DEEPEST_FILES:
        return f"files bring in files more than {DEEPEST_FILES} deep here"
    if letters > MOST_LETTERS:
        return f"the files of this design have more than {MOST_LETTERS // 1_000_000} million letters"
    return ""


def blanks_of(statement: Statement) -> set[str]:
    words = [value.text for setting in statement.settings for value in setting.values if isinstance(value, Name)]
    words += [n.text for n in (*statement.names, *(statement.ends or ()))]
    return {part[1:-1] for word in words for part in word.split(".") if part.startswith("<")}


def placed(
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
    def seen_statement(one: Statement | None) -> Statement | None:
        return placed(one, assembly, place, fillings, at) if one is not None else None

    return inner._replace(
        kind=Name(inner.kind.text, seen(inner.kind.span)),
        names=tuple(Name(f"{place}.{filled(n.text)}", seen(n.span)) if inner.kind.text != "plug" else local(n)
                    for n in inner.names),
        ends=(local(inner.ends[0]), local(inner.ends[1])) if inner.ends else None,
        settings=settings,
        read_as=seen_statement(inner.read_as),
        words=tuple(local(word) for word in inner.words),
    )
