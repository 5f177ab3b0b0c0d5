"""Designs in documents: a lexer for Pygments, which colours each word as the language server does."""

from collections.abc import Iterator
from typing import Any

from pygments.lexer import Lexer
from pygments.token import Comment, Keyword, Name, Number, Operator, String, Text

from circuit.editor.outlining import words
from circuit.source import Source

_SORTS: dict[str, Any] = {"keyword": Keyword, "type": Name.Class, "variable": Name.Variable, "property": Name.Attribute,
                          "number": Number, "string": String, "comment": Comment, "enumMember": Name.Constant,
                          "operator": Operator}


class AirLexer(Lexer):
    """Lexer of the design language."""

    name, aliases, filenames = "Airwright", ["airwright", "air"], ["*.air"]
    url = ""

    def get_tokens_unprocessed(self, text: str) -> Iterator[tuple[int, Any, str]]:
        """Offset, sort and text of every piece, blanks included."""
        source = Source("", text)
        starts, total = [], 0
        for row in source.rows:
            starts.append(total)
            total += len(row) + 1
        done = 0
        for token in words(source):
            start = starts[token.line] + _letters(source.rows[token.line], token.letter)
            stop = starts[token.line] + _letters(source.rows[token.line], token.letter + token.length)
            if start > done:
                yield done, Text, text[done:start]
            yield start, _SORTS[token.sort], text[start:stop]
            done = stop
        if done < len(text):
            yield done, Text, text[done:]


def _letters(row: str, units: int) -> int:
    """How many letters of a row so many units of UTF-16 are."""
    return units if row.isascii() else len(row.encode("utf-16-le")[:2 * units].decode("utf-16-le"))
