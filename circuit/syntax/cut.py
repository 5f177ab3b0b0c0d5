"""Cut a text into statements before parsing any, so that one slip costs one message and every sound statement lives.

Rules of the cut: a comment runs from `#` outside quotes to the end of its row; a row that ends in a comma goes on; a
row that ends in `{` opens a block and a lone `}` closes it; a quote never spans rows.
"""

from dataclasses import dataclass, field

from circuit.mistake import Mistake
from circuit.source import Source, Span

DEEPEST = 8
"""Blocks in blocks; a design needs two."""


@dataclass(slots=True)
class Piece:
    """One statement as text: comments blanked, rows kept, so that places in it are places in the source.

    comments: (line, text) of the comments inside and beside it. block: the pieces between its braces, or None.
    dangling: the last row ended in a comma with no setting behind it.
    """

    text: str
    line: int
    column: int
    opens: bool = False
    comments: list[tuple[int, str]] = field(default_factory=list)
    block: "list[Piece] | None" = None
    dangling: bool = False


def without_comment(row: str) -> tuple[str, str]:
    """A row's code and its comment, cut at the first `#` outside quotes."""
    if "#" not in row:
        return row, ""
    quoted = False
    for place, letter in enumerate(row):
        if letter == '"':
            quoted = not quoted
        elif letter == "#" and not quoted:
            return row[:place], row[place:]
    return row, ""


def cut(source: Source) -> tuple[list[Piece], list[Mistake]]:
    """All statements of a text, nested as written, and what is wrong with its braces."""
    mistakes: list[Mistake] = []
    top: list[Piece] = []
    stack: list[list[Piece]] = [top]
    openers: list[Piece] = []
    going: Piece | None = None
    too_deep = 0

    for number, raw in enumerate(source.rows, 1):
        code, comment = without_comment(raw)
        bare = code.strip()
        if not bare:
            if going is not None:
                going.text += "\n"
                if comment:
                    going.comments.append((number, comment))
            continue
        if bare == "}":
            if going is not None:
                going.dangling, going = True, None
            if too_deep:
                too_deep -= 1
            elif openers:
                openers.pop()
                stack.pop()
            else:
                mistakes.append(Mistake(Span(source, number, code.index("}") + 1), "this } closes nothing",
                                        "remove it, or open a block with { at the end of a row above"))
            continue
        opens = bare.endswith("{")
        body = code.rstrip()[:-1] if opens else code.rstrip()
        if going is None:
            indent = len(body) - len(body.lstrip())
            going = Piece(body.lstrip(), number, indent + 1)
            stack[-1].append(going)
        else:
            going.text += "\n" + body
        if comment:
            going.comments.append((number, comment))
        if opens:
            going.opens, going.block = True, []
            if len(openers) >= DEEPEST or too_deep:
                if not too_deep:
                    mistakes.append(Mistake(Span(source, number, len(code.rstrip())),
                                            f"blocks are more than {DEEPEST} deep here",
                                            "a block holds statements of a trial or an assembly; close it with }"))
                too_deep += 1
            else:
                openers.append(going)
                stack.append(going.block)
            going = None
        elif not bare.endswith(","):
            going = None
    if going is not None:
        going.dangling = True
    if openers:
        last = openers[-1]
        row = last.text.split("\n")[-1]
        line = last.line + last.text.count("\n")
        column = len(row) + (last.column if line == last.line else 1)
        mistakes.append(Mistake(Span(source, line, column), "this { is never closed",
                                "a block ends with } on its own row"))
    return top, mistakes
