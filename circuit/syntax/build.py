"""One statement: the parser's tree to ours, or what can be saved of a text that does not parse."""

import re

from circuit.source import Source, Span
from circuit.syntax.cut import Piece
from circuit.syntax.statements import And, Measure, Name, Setting, Statement, Text, Value

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    from lark import Token

Block = tuple[Statement, ...] | None


def _span(source: Source, piece: Piece, token: "Token") -> Span:
    line, column = token.line or 1, token.column or 1
    return Span(source, piece.line + line - 1, column + (piece.column - 1 if line == 1 else 0), len(token))


def build(source: Source, piece: Piece, tree: "Any", block: Block) -> Statement:
    """The statement of a tree of the rule `line`."""
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


def _value(source: Source, piece: Piece, token: "Token") -> Value:
    span = _span(source, piece, token)
    if token.type == "MEASURE":
        return Measure(str(token), span)
    if token.type == "TEXT":
        return Text(str(token)[1:-1], span)
    if token.type == "AND":
        return And(span)
    return Name(str(token), span)


_KIND = re.compile(r"[^\W\d_][\w-]*")
_NAME = re.compile(r"(?<![^\s,&+])\w[\w-]*(?![\w.>-])")
_JOINS = re.compile(r"[-=]*>|<|\sto\s")
_LONGEST_HEAD = 200


def salvage(source: Source, piece: Piece, block: Block) -> Statement:
    """What can be known of a broken statement: its kind and the names it was to give."""
    row = piece.text.partition("\n")[0][:_LONGEST_HEAD]
    found = _KIND.match(row)
    word = found.group() if found else ""
    kind = Name(word, Span(source, piece.line, piece.column, max(1, len(word))))
    first = re.match(r"\S+[ \t]+", row)
    names: list[Name] = []
    head, colon, _ = row.partition(":")
    if first and '"' not in head and not _JOINS.search(head):
        for name in _NAME.finditer(head, first.end()):
            if name.group() != "and":
                column = piece.column + name.start()
                names.append(Name(name.group(), Span(source, piece.line, column, len(name.group()))))
            if not colon and not re.match(r"[ \t]+and\b|[ \t]*[,&+]", head[name.end():]) and name.group() != "and":
                break  # without a colon the settings follow: only what a list joins can be a name
    meant = [name._replace(text=name.text.replace("_", "-")) for name in names if "_" in name.text]
    if colon and len(names) > 1 and not re.search(r"\band\b|[,&+]", head):
        meant.append(names[0]._replace(text="-".join(name.text for name in names)))
    return Statement(kind, (*names, *meant), block=block, broken=True)
