"""A design in its tidy form: one spacing, one indent, every comment and every number left as it was written.

Works row by row, so nothing is moved and nothing is lost; formatting twice changes nothing. Remarks that a writer has
set in a column beside his statements stay in their column.
"""

import re

from circuit.mistake import Unreadable
from circuit.source import Source
from circuit.syntax.cut import without_comment
from circuit.syntax.parse import parse
from circuit.syntax.statements import Statement

INDENT = "    "
_TEXT = re.compile(r'("[^"\n]*")')
_BLANKS = 2
"""Empty rows in a row that are kept."""


def tidy(source: Source) -> str:
    """The tidy text of a design. Raises Unreadable when the text has mistakes: what is broken is not touched."""
    before, mistakes = parse(source)
    if mistakes:
        raise Unreadable(mistakes)
    text = _rows(source)
    after, wrong = parse(Source(source.name, text))
    if wrong or _plain(after) != _plain(before):
        raise AssertionError("the tidy text does not say the same as the design")
    return text


def _rows(source: Source) -> str:
    out: list[str] = []
    depth = 0
    going = False
    empty = 0
    for raw in source.rows:
        code, comment = without_comment(raw)
        column = len(code) if code.endswith("   ") else 0
        code, comment = _spaced(code), comment.rstrip()
        if not code and not comment:
            empty += 1
            continue
        if out and empty:
            out.extend([""] * min(empty, _BLANKS))
        empty = 0
        if code == "}":
            depth = max(0, depth - 1)
        lead = INDENT * (depth + (1 if going else 0))
        if code and comment:
            out.append(f"{lead}{code}  ".ljust(column) + comment)
        else:
            out.append(f"{lead}{code or comment}")
        if code:
            going = code.endswith(",")
            if code.endswith("{"):
                depth += 1
    return "\n".join(out) + "\n"


def _spaced(code: str) -> str:
    """One row of code with one space between words, after commas and colons, and around an arrow."""
    parts = _TEXT.split(code.strip())
    for place in range(0, len(parts), 2):
        part = parts[place]
        part = re.sub(r"\s+", " ", part.replace("\u00a0", " "))
        part = re.sub(r" ?-> ?", " -> ", part)
        part = re.sub(r" ?([,:]) ?", r"\1 ", part)
        part = re.sub(r" ?\{ ?", " { ", part)
        parts[place] = part
    return "".join(_with_gap(parts)).strip()


def _with_gap(parts: list[str]) -> list[str]:
    """A space before and after each quoted text where a word touches it."""
    out = []
    for place, part in enumerate(parts):
        if place % 2 == 0:
            part = re.sub(r"  +", " ", part)
            if place + 1 < len(parts) and part and not part.endswith(" "):
                part += " "
            if place and part and part[0] not in " ,:":
                part = " " + part
        out.append(part)
    return out


def _plain(statements: tuple[Statement, ...]) -> list[object]:
    """What statements say, without where they stand."""
    return [
        (s.kind.text, [n.text for n in s.names], [e.text for e in s.ends or ()], s.text.text if s.text else None,
         [(x.name.text, [(type(v).__name__, re.sub(r"\s+", " ", v.text)) for v in x.values]) for x in s.settings],
         _plain(s.block) if s.block is not None else None)
        for s in statements
    ]
