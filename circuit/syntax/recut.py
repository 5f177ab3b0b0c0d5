"""Pieces cut wrongly because a comma at the end of a row is there or is not.

A comma too many lets a statement swallow the next; one too few turns a setting into a statement of its own.
"""

import re

from circuit.mistake import Mistake
from circuit.source import Source, Span
from circuit.syntax.cut import Piece
from circuit.syntax.vocabulary import Lookup

MOST_JOINED = 20
"""Rows that are put back to the statement above."""

_WORD = re.compile(r"[^\W\d_][\w-]*")
_TEXTS = re.compile(r'"[^"\n]*"')


def _words(row: str) -> tuple[list[str], bool]:
    """The words of a row up to its colon, a text as one word, and whether there is a colon; no words: no statement."""
    head, colon, _ = _TEXTS.sub('""', row).partition(":")
    head = head.rstrip().removesuffix("{")
    if not colon:
        head = head.rstrip().removesuffix(",")
    words = head.split(maxsplit=9)
    if "," in head or not words or not _WORD.fullmatch(words[0]):
        return [], False
    return words, bool(colon)


def unindented(piece: Piece) -> bool:
    """Whether a row after the first stands as far left as the first: not how a statement is usually carried on."""
    return any(row.strip() and len(row) - len(row.lstrip()) < piece.column for row in piece.text.split("\n")[1:])


def swallowed(piece: Piece, words: Lookup) -> list[int]:
    """The rows of a piece, counted from 0, that are the beginning of another statement."""
    rows = piece.text.split("\n")
    kind = _words(rows[0])[0][:1]
    holder = kind[0] if kind else ""
    last = max(place for place, row in enumerate(rows) if row.strip() or not place)
    found = []
    for place, row in enumerate(rows[1:], 1):
        head, colon = _words(row)
        if not head:
            continue
        word = head[0]
        if words and not words.is_kind(word) and words.is_setting(word, holder):
            begins = False
        elif words and len(head) > 1 and words.is_setting("-".join(head), holder):
            begins = False  # `cut in: 7 bar`
        elif len(head) > 1 and (colon or "->" in head):
            begins = True
        elif words and words.is_kind(word) and not words.is_setting(word, holder):
            begins = colon or len(head) <= 2 or "and" in head
        else:
            begins = place == last and piece.opens and len(head) == 2 and unindented(piece)
        if begins:
            found.append(place)
            holder = word
    return found


def beyond(piece: Piece, words: Lookup) -> list[Piece]:
    """What a block that is never closed has swallowed: all behind the last blank of an assembly, or behind the first steps."""
    block = piece.block or []
    if not words:
        return []
    heads = [found.group() if (found := _WORD.match(inner.text)) else "" for inner in block]
    if piece.text.split(maxsplit=1)[:1] == ["assembly"]:
        held = [place for place, inner in enumerate(block) if "<" in inner.text or heads[place] == "port"]
        first = held[-1] + 1 if held else 0
    else:
        first = next((place for place, word in enumerate(heads) if words.is_kind(word) and not words.is_step(word)), len(block))
        while first and not words.is_step(heads[first - 1]):
            first -= 1  # placings of assemblies that another file holds
    return block[first:]


def split(source: Source, piece: Piece, starts: list[int]) -> tuple[list[Piece], list[Mistake]]:
    """The statements of a piece of several, and a mistake for each comma that joined two of them."""
    rows = piece.text.split("\n")
    parts: list[Piece] = []
    mistakes = []
    taken = 0
    for start, stop in zip([0, *starts], [*starts, len(rows)], strict=True):
        first = rows[start]
        indent = len(first) - len(first.lstrip())
        part = Piece("\n".join([first.lstrip(), *rows[start + 1:stop]]), piece.line + start,
                     indent + 1 if start else piece.column)
        if stop < len(rows):
            part.text = part.text.rstrip()
            if part.text.endswith(","):
                line, column = part.place(len(part.text) - 1)
                begins = " ".join(_words(rows[stop])[0][:1])
                where = "the next row" if piece.line + stop == line + 1 else f"row {piece.line + stop}"
                mistakes.append(Mistake(Span(source, line, column),
                                        f"the comma promises one more setting, but {where} begins a new {begins}",
                                        "remove the comma"))
                part.text = part.text[:-1].rstrip()
                if part.text.rpartition("\n")[2].count('"') % 2:
                    mistakes.pop()  # it stands in a text that is not closed, and that is told
                part.refused = not part.text
        else:
            part.opens, part.block, part.brace = piece.opens, piece.block, piece.brace
            part.dangling, part.refused = piece.dangling, piece.refused
        until = piece.line + stop if stop < len(rows) else piece.last_line + 1
        while taken < len(piece.comments) and piece.comments[taken][0] < until:
            part.comments.append(piece.comments[taken])
            taken += 1
        parts.append(part)
    return parts, mistakes


def begun(above: Piece, below: Piece, kind: str, words: Lookup) -> bool:
    """Whether a piece holds the settings for which the one above ended in a colon."""
    return above.text.endswith(":") and (above.column < below.column or belongs(above, kind, below, words))


def belongs(above: Piece, kind: str, below: Piece, words: Lookup) -> bool:
    """Whether a piece is no statement but a setting of the one above, which should have ended in a comma."""
    if not words or above.opens or below.line - above.line > MOST_JOINED:
        return False
    found = _WORD.match(below.text)
    if not found:
        return False
    rest = below.text[found.end():].lstrip()
    if words.is_kind(found.group()) and (":" in rest or "," not in rest):
        return False  # asked first, because all it takes is to know that one kind
    return words.is_setting(found.group(), kind)


def join(source: Source, above: Piece, kind: str, below: Piece) -> tuple[Piece, Mistake]:
    """The two as one statement, and the mistake between them."""
    line, column = above.place(len(above.text.rstrip()))
    word = _WORD.match(below.text)
    rows = below.line - above.last_line
    where = "on the next row" if rows == 1 else f"on row {below.line}"
    mistake = Mistake(Span(source, line, column),
                      f"`{word.group() if word else below.text}` {where} is a setting of {kind}",
                      "end this row with a comma")
    gap = "," + "\n" * rows + " " * (below.column - 1)
    return Piece(above.text.rstrip() + gap + below.text, above.line, above.column, below.opens,
                 [*above.comments, *below.comments], below.block, below.dangling, below.brace, below.refused), mistake
