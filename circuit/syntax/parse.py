"""Text to tree. Every mistake of a text is reported in one run; a broken statement still gives its name."""

import gc
import re
from collections.abc import Iterable, Iterator

from circuit.mistake import Mistake
from circuit.source import TURNING, Source, Span
from circuit.syntax import recut
from circuit.syntax.build import build, salvage
from circuit.syntax.cut import Piece, cut, without_comment
from circuit.syntax.grammar import parser
from circuit.syntax.statements import And, Statement, Value
from circuit.syntax.vocabulary import Known, Lookup, Vocabulary

TYPE_CHECKING = False
if TYPE_CHECKING:
    import lark

    Tree = lark.Tree[lark.Token]

__all__ = ["LARGEST", "MOST_MISTAKES", "Vocabulary", "parse", "parser"]

LARGEST = 4_000_000
"""Characters; a design of ten thousand parts is about one million."""

MOST_ROWS = 250_000

MOST_MISTAKES = 200
"""That are shown of one text."""

HOPELESS = 5_000
"""Statements that do not parse, after which reading stops."""


def too_large(name: str, size: int, rows: int = 0) -> Mistake | None:
    """What to say of a text that is no design by its size alone, or None."""
    at = Span(Source(name, ""), 1, 1)
    if size > LARGEST:
        return Mistake(at, f"this file is too large for a design: more than {LARGEST // 1_000_000} million letters",
                       "check that it is the file you mean, or part it into several and join them with use")
    if rows > MOST_ROWS:
        return Mistake(at, f"this file is too long for a design: {rows} rows, and {MOST_ROWS} is the most",
                       "check that it is the file you mean, or part it into several and join them with use")
    return None


_UNSEEN = re.compile(rf"\r(?!\Z)|[{TURNING}]")


def unseen(source: Source, told: set[int]) -> list[Mistake]:
    """A mistake for each row with a lone carriage return or a sign that turns the direction of writing, in remarks too.

    Not every reader is shown them, and one would sign what another does not see. told: rows that have a mistake already.
    """
    if source.text.isascii() and "\r" not in source.text:
        return []
    found = []
    for number, row in enumerate(source.rows, 1):
        sign = _UNSEEN.search(row)
        if sign and number not in told:
            what = ("a lone carriage return stands here: some programs begin a new row at it, others do not" if sign[0] == "\r"
                    else f"a sign stands here that turns the direction of writing (U+{ord(sign[0]):04X})")
            found.append(Mistake(Span(source, number, sign.start() + 1), what, "remove it" if sign[0] != "\r" else
                                 "save the file with line feeds as line ends"))
    return found[:MOST_MISTAKES]


def parse(source: Source, known: Known = None) -> tuple[tuple[Statement, ...], tuple[Mistake, ...]]:
    """The statements of a design and what is wrong with its text, in the order of the text.

    known: the kinds and settings there are, or how to get them; with it the messages are better.
    """
    wrong = too_large(source.name, len(source.text), len(source.rows))
    if wrong:
        return (), (wrong,)
    pieces, mistakes = cut(source)
    reader = _Reader(source, Lookup(known, source.text), mistakes)
    running = gc.isenabled()
    gc.disable()  # the collector walks the growing tree again and again: 2.5 times slower on large texts
    try:
        statements = reader.statements(pieces)
        reader.wrong(unseen(source, {mistake.at.line for mistake in reader.mistakes}))
    finally:
        if running:
            gc.enable()
    return statements, reader.told()


class _Reader:
    """Pieces to statements; keeps the mistakes, and counts those that are too many to be shown."""

    def __init__(self, source: Source, words: Lookup, mistakes: list[Mistake]):
        self.source = source
        self.words = words
        self.mistakes = mistakes
        self.room = max(0, MOST_MISTAKES - len(mistakes))
        self.untold = 0
        self.first_untold: Span | None = None

    def told(self) -> tuple[Mistake, ...]:
        """The mistakes in the order of the text; of a great many the first, and how many more there are."""
        found = sorted(self.mistakes, key=lambda m: (m.at.line, m.at.column))
        more = len(found) - MOST_MISTAKES + self.untold
        if more <= 0:
            return tuple(found)
        found, rest = found[:MOST_MISTAKES], found[MOST_MISTAKES:]
        places = [place for place in (rest[0].at if rest else None, self.first_untold) if place]
        at = max(found[-1].at, min(places, key=_order), key=_order)
        some = "mistake is" if more == 1 else "mistakes are"
        count = f"at least {more}" if self.hopeless else f"{more}"
        return (*found, Mistake(at, f"{count} more {some} not shown", "mend those above first, then check again"))

    @property
    def hopeless(self) -> bool:
        return self.untold >= HOPELESS

    def wrong(self, mistakes: Iterable[Mistake]) -> None:
        for mistake in mistakes:
            if self.room:
                self.mistakes.append(mistake)
                self.room -= 1
            else:
                self.untold += 1
                self.first_untold = self.first_untold or mistake.at

    def statements(self, pieces: list[Piece]) -> tuple[Statement, ...]:
        """The statements of a list of pieces; commas too many and too few at the ends of rows are mended on the way."""
        found: list[Statement] = []
        above: Piece | None = None
        for piece in self.released(pieces):
            if self.hopeless:
                break
            for part, tree, error in self.parts(piece):
                if above is not None and (tree is None or _bare(tree)):
                    kind = found[-1].kind.text
                    if recut.begun(above, part, kind, self.words):  # the colon at the end of the row above is told
                        if part.block is not None:
                            found[-1] = found[-1]._replace(block=self.statements(part.block))
                        continue
                    if not found[-1].broken and recut.belongs(above, kind, part, self.words):
                        part, mistake = recut.join(self.source, above, kind, part)
                        self.wrong([mistake])
                        found.pop()
                        tree, error = _attempt(part)
                statement = self.statement(part, tree, error)
                found.append(statement)
                above = part if statement.settings or part.text.endswith(":") else None
        return tuple(found)

    def released(self, pieces: list[Piece]) -> Iterator[Piece]:
        """The pieces, and behind one whose block is never closed those that were written for the text around it."""
        for piece in pieces:
            after = recut.beyond(piece, self.words) if piece.unclosed else []
            if after and piece.block:
                del piece.block[-len(after):]
            yield piece
            yield from self.released(after)

    def parts(self, piece: Piece) -> "Iterator[tuple[Piece, Tree | None, int | None]]":
        """A piece with its tree, or with the place where parsing stopped; several when it swallowed another."""
        if piece.dangling and not piece.refused and piece.text.rstrip().endswith(","):
            self.dangling(piece)
        tree, error = _attempt(piece)
        if "\n" in piece.text and (tree is None or recut.unindented(piece)):
            starts = recut.swallowed(piece, self.words)
            if starts:
                parts, mistakes = recut.split(self.source, piece, starts)
                self.wrong(mistakes)
                yield from ((part, *_attempt(part)) for part in parts)
                return
        yield piece, tree, error

    def dangling(self, piece: Piece) -> None:
        """Report and remove a comma with nothing behind it."""
        piece.text = piece.text.rstrip()[:-1]
        piece.refused = not piece.text.strip()
        line, column = piece.place(len(piece.text))
        below = next((row for row in self.source.rows[piece.last_line:] if without_comment(row)[0].strip()), "")
        what = "the block ends" if below.strip().startswith("}") else "nothing follows"
        self.wrong([Mistake(Span(self.source, line, column), f"the comma promises one more setting, but {what}",
                            "remove the comma")])

    def statement(self, piece: Piece, tree: "Tree | None", error: int | None) -> Statement:
        """The statement of a piece, broken when it has no tree or cannot be meant as it stands."""
        block = None if piece.block is None else self.statements(piece.block)
        if tree is None:
            if not piece.refused:
                self.wrong(self.explained(piece, error))
            return salvage(self.source, piece, block)
        statement = build(self.source, piece, tree, block)
        if self.words and not all(_usual(setting.values) for setting in statement.settings):
            from circuit.syntax import slips

            doubt = slips.doubt(self.source, piece, self.words)
            if doubt:
                self.wrong([doubt])
                return salvage(self.source, piece, block)
        return statement

    def explained(self, piece: Piece, error: int | None) -> list[Mistake]:
        from circuit.syntax import slips

        if self.room:
            return [slips.explain(self.source, piece, self.words, error)]
        return [Mistake(Span(self.source, piece.line, piece.column), "not shown")]


def _order(place: Span) -> tuple[int, int]:
    return place.line, place.column


_kept: "dict[str, tuple[Tree | None, int | None]] | None" = None
MOST_KEPT = 50_000
"""Statements that a process keeps the trees of."""


def keep_trees() -> None:
    """From now on the tree of a statement is kept by its text: for a process that reads much the same text again and again."""
    global _kept
    _kept = {} if _kept is None else _kept


def _attempt(piece: Piece) -> "tuple[Tree | None, int | None]":
    """The tree of a piece, or None and where parsing stopped; of a text that was parsed before what is kept of it."""
    if piece.refused:
        return None, None
    if _kept is None:
        return _parsed(piece)
    found = _kept.get(piece.text)
    if found is None:
        if len(_kept) >= MOST_KEPT:
            _kept.clear()
        found = _kept[piece.text] = _parsed(piece)
    return found


def _parsed(piece: Piece) -> "tuple[Tree | None, int | None]":
    try:
        return parser().parse(piece.text, start="line"), None
    except Exception as trouble:
        import lark

        if not isinstance(trouble, lark.exceptions.UnexpectedInput):
            raise
        from circuit.syntax import slips

        return None, slips.place_of(trouble, piece)


def _bare(tree: "Tree") -> bool:
    """A kind and names, nothing more: what a setting looks like that stands in a row of its own."""
    _, subject, settings = tree.children
    return settings is None and getattr(subject, "type", "REF") == "REF" and getattr(subject, "data", "") != "joint"


def _usual(values: tuple[Value, ...]) -> bool:
    """Whether values are one, a list joined with `and`, or a bound; a list without `and` may hide a lost comma."""
    if len(values) == 1:
        return True
    if len(values) == 3 and values[0].text == "at" and values[1].text in ("least", "most"):
        return True
    return len(values) % 2 == 1 and all(isinstance(value, And) == bool(place % 2) for place, value in enumerate(values))
