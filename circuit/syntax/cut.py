"""Cut a text into statements before parsing any, so that one slip costs one message and every sound statement lives.

Rules of the cut: a comment runs from `#` outside quotes to the end of its row; a row that ends in a comma goes on; a
row that ends in `{` opens a block and a lone `}` closes it; a quote never spans rows. Braces at other places are
reported and still open and close, and where one is missing the indentation says which statements a block holds.
"""

import re
from collections.abc import Callable
from dataclasses import dataclass, field

from circuit.mistake import Mistake
from circuit.source import Source, Span

DEEPEST = 8
"""Blocks in blocks; a design needs two."""

LONGEST = 2000
"""Characters in a row; a long one has about a hundred."""

LONGEST_BLOCK = 100
"""Statements that may be found to belong to a block by their indentation."""


@dataclass(slots=True)
class Piece:
    """One statement as text: comments blanked, rows kept, so that places in it are places in the source.

    text: without the indentation of its first row, which starts at `column`.
    opens: a block follows; brace: (line, column) of its `{`.
    comments: (line, text) of the comments inside and beside it. block: the pieces between its braces, or None.
    dangling: the last row ended in a comma with no setting behind it. refused: its mistake is already reported.
    unclosed: its block runs to the end of the text, and nothing is indented under it: where it ends only words can tell.
    """

    text: str
    line: int
    column: int
    opens: bool = False
    comments: list[tuple[int, str]] = field(default_factory=list)
    block: "list[Piece] | None" = None
    dangling: bool = False
    brace: tuple[int, int] | None = None
    refused: bool = False
    unclosed: bool = False

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column in the source of a place in the text."""
        before = self.text.count("\n", 0, offset)
        start = self.text.rfind("\n", 0, offset) + 1
        return self.line + before, offset - start + (1 if before else self.column)

    @property
    def last_line(self) -> int:
        return self.line + self.text.count("\n")


def without_comment(row: str) -> tuple[str, str]:
    """A row's code and its comment, cut at the first `#` outside quotes."""
    place = row.find("#")
    while place >= 0:
        if row.count('"', 0, place) % 2 == 0:
            return row[:place], row[place:]
        shut = row.find('"', place)
        if shut < 0:
            return row, ""
        place = row.find("#", shut)
    return row, ""


def cut(source: Source) -> tuple[list[Piece], list[Mistake]]:
    """All statements of a text, nested as written, and what is wrong with its braces."""
    cutter = _Cutter(source)
    for number, row in enumerate(source.rows, 1):
        if number == 1 and row.startswith("\ufeff"):
            row = " " + row[1:]  # a byte-order mark
        cutter.row(number, row)
    cutter.end()
    return cutter.top, cutter.mistakes


_BRACES = re.compile(r'"[^"]*"|[{}]')


class _Cutter:
    def __init__(self, source: Source):
        self.source = source
        self.mistakes: list[Mistake] = []
        self.top: list[Piece] = []
        self.open: list[tuple[Piece | None, list[Piece]]] = []  # each open {: its statement, the list that one is in
        self.here = self.top
        self.unheld = 0  # open braces that are too deep to hold a block
        self.too_deep = False
        self.stray = -1  # how many statements there were at the last } that closed nothing: of several, one is told
        self.going: Piece | None = None
        self.rows: list[str] = []

    def wrong(self, line: int, column: int, says: str, expected: str, length: int = 1) -> None:
        self.mistakes.append(Mistake(Span(self.source, line, column, length), says, expected))

    def row(self, number: int, raw: str) -> None:
        code, comment = without_comment(raw)
        bare = code.strip()
        if not bare:
            if self.going is not None:
                self.rows.append("")
                if comment:
                    self.going.comments.append((number, comment))
        elif bare == "}":
            self.close(number, code.index("}") + 1)
        elif bare in ("{", ")", "]") and self.is_meant_to_close(code.index(bare) + 1, bare):
            self.wrong(number, code.index(bare) + 1, f"a block closes with }}, not with {bare}", "write } here")
            self.close(number, code.index(bare) + 1, quietly=True)
        elif "{" in bare or "}" in bare:
            self.braces(number, code, comment)
        else:
            self.code(number, code, comment)

    def code(self, number: int, code: str, comment: str = "", goes_on: bool = True) -> Piece:
        """A row, or a part of one, that holds a statement or goes on with one."""
        body = code.rstrip()
        if self.going is None:
            column = len(body) - len(body.lstrip()) + 1
            self.going = Piece("", number, column)
            self.rows = [body[column - 1:]]
            self.here.append(self.going)
        else:
            self.rows.append(body)
        piece = self.going
        if comment:
            piece.comments.append((number, comment))
        if len(body) > LONGEST:
            self.wrong(number, 1, f"this row has {len(body)} letters", f"break it behind a comma: {LONGEST} at most")
            piece.refused = True
            self.rows[-1] = self.rows[-1][:LONGEST // 10]
        if not (goes_on and body.endswith(",")):
            self.finish()
        return piece

    def finish(self) -> None:
        if self.going is not None:
            self.going.text = "\n".join(self.rows)
            self.going, self.rows = None, []

    def dangle(self) -> None:
        if self.going is not None:
            self.going.dangling = True
            self.finish()

    def opening(self, piece: Piece | None, number: int, column: int) -> None:
        """A `{` behind the text of a piece, or of none: then it opens nothing and waits for its }."""
        if self.unheld or len(self.open) >= DEEPEST:
            if not self.too_deep:
                self.wrong(number, column, f"blocks are more than {DEEPEST} deep here",
                           "close the blocks above with }: a block holds the statements of a trial or an assembly")
            self.too_deep = True
            self.unheld += 1
        else:
            self.open.append((piece, self.here))
            if piece is not None:
                piece.opens, piece.block, piece.brace = True, [], (number, column)
                self.here = piece.block

    def close(self, number: int, column: int, quietly: bool = False) -> None:
        self.dangle()
        if self.unheld:
            self.unheld -= 1
        elif self.open:
            self.here = self.open.pop()[1]
        elif not quietly and self.stray != len(self.top) and not self.gather(column):
            self.wrong(number, column, "this } closes nothing",
                       "remove it, or open a block with { at the end of a row above")
            self.stray = len(self.top)

    def gather(self, column: int) -> bool:
        """Give indented statements above a stray `}` to the one they are indented under, whose `{` is missing."""
        first = len(self.top)
        while first and self.top[first - 1].column > column and len(self.top) - first <= LONGEST_BLOCK:
            first -= 1
        if not 0 < first < len(self.top) or self.top[first - 1].block is not None:
            return False
        head = self.top[first - 1]
        if head.text.endswith(("(", "[", "<")):
            head.text = head.text[:-1].rstrip()
        line, place = head.place(len(head.text))
        self.wrong(line, place, "a { is missing at the end of this row", "write { here: } closes the block below")
        head.opens, head.block, head.brace = True, self.top[first:], (line, place)
        del self.top[first:]
        return True

    def braces(self, number: int, code: str, comment: str) -> None:
        """A row with a brace and something else."""
        body = code.rstrip()
        found = [m.start() for m in _BRACES.finditer(body) if m.group() in "{}"]
        if len(found) > 8:
            self.finish()
            self.wrong(number, found[0] + 1, f"{len(found)} braces stand in this row",
                       "write { at the end of a row and } in a row of its own")
            return
        found = [place for place in found if self.is_brace(body, place)]
        if not found:
            self.code(number, code, comment)
            return
        told = len(self.mistakes)

        def misplaced(column: int, says: str, expected: str) -> None:  # one message a row
            if len(self.mistakes) == told:
                self.wrong(number, column, says, expected)

        start = 0
        head: Piece | None = None
        for place in [*found, len(body)]:
            part = " " * start + body[start:place]
            brace = body[place:place + 1]
            if part.strip():
                inner = part.rstrip()
                if start:
                    column = len(inner) - len(inner.lstrip()) + 1
                    if body[start - 1] == "{":
                        misplaced(column, "a block begins in the row below its {", "move this to a row of its own")
                    else:
                        misplaced(column, "} stands in a row of its own", "move this to the next row")
                elif brace == "}":
                    misplaced(place + 1, "} stands in a row of its own", "move it to the next row")
                head = self.code(number, part if brace == "{" else inner, comment, goes_on=not brace)
                comment = ""
            if brace == "{" and start and body[start - 1] == "{" and not part.strip():
                misplaced(place + 1, "one { is enough to open a block", "remove this one")
            elif brace == "{":
                if head is None:
                    head = self.headless(place + 1, misplaced)
                self.opening(head if head is None or head.block is None else None, number, place + 1)
                head = None
            elif brace == "}":
                if start and not part.strip():
                    misplaced(place + 1, "} stands in a row of its own", "move it to the next row")
                self.close(number, place + 1, quietly=len(self.mistakes) > told)
                head = None
            start = place + 1

    def is_brace(self, body: str, place: int) -> bool:
        """Whether a brace opens or closes; in the middle of a statement it is a slip of a finger."""
        before, after = body[:place], body[place + 1:].strip()
        if body[place] == "{":
            if not before.strip() and after.strip("{}"):
                return self.going is None and bool(self.here) and self.here[-1].block is None
            apart = not before or before[-1] in " \t{"
            bare = "->" not in before and (":" not in before or ":" in after)
            return (apart or bare) if not after or after[0] in "{}" else (apart and bare and body[place + 1] in " \t,")
        inside = bool(self.open) or "{" in before
        if not before.strip(" \t}"):
            return inside or self.going is None or not after
        return inside and not after.strip("}") and before[-1] in " \t}"

    def is_meant_to_close(self, column: int, sign: str) -> bool:
        """Whether a sign alone in its row stands where the } of the open block is due."""
        head = self.open[-1][0] if self.open else None
        return head is not None and (sign != "{" or (column <= head.column and bool(self.here)))

    def headless(self, column: int, misplaced: Callable[[int, str, str], None]) -> Piece | None:
        """The statement above a `{` without text before it."""
        head = self.going or (self.here[-1] if self.here else None)
        self.dangle()
        if head is None or head.block is not None:
            misplaced(column, "this { opens nothing", "write before it what the block belongs to, or remove it")
            return None
        misplaced(column, "this { stands in a row of its own", "move it to the end of the row above")
        return head

    def end(self) -> None:
        self.dangle()
        while self.open:
            piece, outer = self.open.pop()
            if piece is None:
                continue
            if not self.too_deep:
                line, column = piece.brace or (piece.line, piece.column)
                self.wrong(line, column, "this { is never closed", "close the block with } in a row of its own")
                piece.text = piece.text.rstrip(", ")  # a comma before it is not worth a second message
            block = piece.block or []
            inside = 0
            while inside < len(block) and block[inside].column > piece.column:
                inside += 1
            if inside or ":" in piece.text or "->" in piece.text:  # what nothing is indented under opens nothing
                outer.extend(block[inside:])
                del block[inside:]
            else:
                piece.unclosed = True
