"""Text to tree. Every mistake of a text is reported in one run; a statement that does not parse still gives its name."""

import gc
import re

from circuit.mistake import Mistake
from circuit.source import Source, Span
from circuit.syntax.cut import Piece, cut
from circuit.syntax.tree import And, Measure, Name, Setting, Statement, Text, Value

LARGEST = 4_000_000
"""Bytes; a design of ten thousand parts is about one million."""

_parser = None


def parser():  # type: ignore[no-untyped-def]
    """The Lark parser of grammar/air.lark, made once; its tables are kept in the user's cache folder."""
    global _parser
    if _parser is None:
        import lark

        from circuit.files import cache_folder, folder

        text = (folder("grammar") / "air.lark").read_text(encoding="utf-8")
        cache = cache_folder()
        options = {"parser": "lalr", "lexer": "contextual", "start": ["start", "line"], "maybe_placeholders": True}
        if cache is not None:
            options["cache"] = str(cache / f"grammar-{lark.__version__}.lark-cache")
        _parser = lark.Lark(text, **options)
    return _parser


def parse(source: Source) -> tuple[tuple[Statement, ...], tuple[Mistake, ...]]:
    """The statements of a design and what is wrong with its text, in the order of the text."""
    pieces, mistakes = cut(source)
    running = gc.isenabled()
    gc.disable()  # the collector walks the growing tree again and again: 2.5 times slower on large texts
    try:
        statements = tuple(_statement(source, piece, mistakes) for piece in pieces)
    finally:
        if running:
            gc.enable()
    return statements, tuple(sorted(mistakes, key=lambda m: (m.at.line, m.at.column)))


def _statement(source: Source, piece: Piece, mistakes: list[Mistake]) -> Statement:
    from circuit.syntax import slips

    block = None
    if piece.block is not None:
        block = tuple(_statement(source, inner, mistakes) for inner in piece.block)
    try:
        if piece.dangling:
            raise ValueError
        tree = parser().parse(piece.text, start="line")
    except Exception as trouble:
        import lark

        if not isinstance(trouble, (ValueError, lark.exceptions.UnexpectedInput)):
            raise
        mistakes.append(slips.explain(source, piece))
        return _salvage(source, piece, block)
    return _build(source, piece, tree, block)


def _span(source: Source, piece: Piece, token) -> Span:  # type: ignore[no-untyped-def]
    first = token.line == 1
    return Span(source, piece.line + token.line - 1, token.column + (piece.column - 1 if first else 0), len(token))


def _build(source: Source, piece: Piece, tree, block) -> Statement:  # type: ignore[no-untyped-def]
    kind, subject, settings = tree.children
    names: tuple[Name, ...] = ()
    ends = text = None
    if subject is not None:
        if getattr(subject, "data", None) == "names":
            names = tuple(Name(str(t), _span(source, piece, t)) for t in subject.children if t.type == "REF")
        elif getattr(subject, "data", None) == "joint":
            a, b = (Name(str(t), _span(source, piece, t)) for t in subject.children)
            ends = (a, b)
        elif subject.type == "TEXT":
            text = Text(str(subject)[1:-1], _span(source, piece, subject))
        else:
            names = (Name(str(subject), _span(source, piece, subject)),)
    read = []
    for setting in settings.children if settings is not None else ():
        word, *values = setting.children
        read.append(Setting(Name(str(word), _span(source, piece, word)),
                            tuple(_value(source, piece, value) for value in values)))
    return Statement(Name(str(kind), _span(source, piece, kind)), names, ends, text, tuple(read), block)


def _value(source: Source, piece: Piece, token) -> Value:  # type: ignore[no-untyped-def]
    span = _span(source, piece, token)
    if token.type == "MEASURE":
        return Measure(str(token), span)
    if token.type == "TEXT":
        return Text(str(token)[1:-1], span)
    if token.type == "AND":
        return And(span)
    return Name(str(token), span)


_START = re.compile(r"([^\W\d_][\w-]*)(?:[ \t]+([^\W\d_][\w-]*(?:[ \t]+and[ \t]+[^\W\d_][\w-]*)*))?")


def _salvage(source: Source, piece: Piece, block) -> Statement:  # type: ignore[no-untyped-def]
    """What can be known of a broken statement: its kind and the names it was to give."""
    found = _START.match(piece.text)
    if not found:
        return Statement(Name("", Span(source, piece.line, piece.column)), block=block, broken=True)
    kind = Name(found.group(1), Span(source, piece.line, piece.column, len(found.group(1))))
    names = []
    if found.group(2):
        for word in re.finditer(r"[^\s]+", found.group(2)):
            if word.group() != "and":
                column = piece.column + found.start(2) + word.start()
                names.append(Name(word.group(), Span(source, piece.line, column, len(word.group()))))
    return Statement(kind, tuple(names), block=block, broken=True)
