"""One statement: the parser's tree to ours, or what can be saved of a text that does not parse."""

import re

from circuit.source import Source, Span
from circuit.syntax.cut import Piece
from circuit.syntax.grammar import parser
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
_ENDS = re.compile(r"[^\W\d_][\w-]*[ \t]+(?P<a>[\w.<>-]*[\w>])[ \t]*->[ \t]*(?P<b>[\w.<>-]*[\w>])")
_WORD = re.compile(r"(?<![\w.<>-])[^\W\d_][\w-]*(?:\.[\w-]+)*(?![\w<>])")
_PART = re.compile(r'(?:"[^"\n]*"|[^,"])+')
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
    known = Statement(kind, tuple(names), _ends(source, piece, row), None, _settings(source, piece), block)
    return Statement(kind, (*names, *meant), block=block, broken=True, read_as=known, words=_words(source, piece))


def _ends(source: Source, piece: Piece, row: str) -> tuple[Name, Name] | None:
    """The two ends that a broken line names, if both can be read."""
    found = _ENDS.match(row)
    if found is None:
        return None
    a, b = (Name(found[side], Span(source, piece.line, piece.column + found.start(side), len(found[side]))) for side in "ab")
    return a, b


def _words(source: Source, piece: Piece) -> tuple[Name, ...]:
    """Every word of a broken statement behind its kind that could be a name; of a very long one the first."""
    found = []
    for word in _WORD.finditer(piece.text[:_LONGEST_HEAD * 4]):
        if word.start():
            line, column = piece.place(word.start())
            found.append(Name(word.group(), Span(source, line, column, len(word.group()))))
    return tuple(found)


_MOST_PARTS = 12
_HEAD = "a b:"


def _settings(source: Source, piece: Piece) -> tuple[Setting, ...]:
    """The settings of a broken statement that parse by themselves, each where it stands."""
    colon = piece.text.find(":")
    if colon < len(_HEAD) - 1 or len(piece.text) > 10 * _LONGEST_HEAD:
        return ()
    found: list[Setting] = []
    for part in list(_PART.finditer(piece.text, colon + 1))[:_MOST_PARTS]:
        before = re.sub(r"[^\n]", " ", piece.text[:part.start()])
        if part.group().strip() and not before[:len(_HEAD)].strip(" "):
            found += _setting(source, piece, f"{_HEAD}{before[len(_HEAD):]}{part.group().rstrip()}")
    return tuple(found)


def _setting(source: Source, piece: Piece, text: str) -> tuple[Setting, ...]:
    import lark

    try:
        tree = parser().parse(text, start="line")
    except lark.exceptions.UnexpectedInput:
        return ()
    return build(source, piece, tree, None).settings
