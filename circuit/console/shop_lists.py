"""Lists of the shop's own, as CSV of two columns: what things cost, which thread a port has."""

import csv
import io

from circuit.mistake import Mistake, Unreadable
from circuit.source import Span
from circuit.syntax.read import read


def prices(path: str) -> dict[str, float]:
    """Item to price, of a piece or a metre. Raises Unreadable."""
    rows, wrong = _rows(path, "item", "price", "write a name and a bare number, as tube 1/2 in,2.40")
    found: dict[str, float] = {}
    for span, name, text in rows:
        try:
            found[name] = float(text)
        except ValueError:
            wrong.append(Mistake(span, "this row has no price", "write a name and a bare number, as tube 1/2 in,2.40"))
    if wrong:
        raise Unreadable(tuple(wrong))
    return found


def threads(path: str) -> dict[str, str]:
    """A port, or a size of line, to its thread. Raises Unreadable."""
    rows, wrong = _rows(path, "at", "thread", "write a port or a size and a thread, as rear-relay.4,M16x1.5")
    if wrong:
        raise Unreadable(tuple(wrong))
    return {name: text for _, name, text in rows}


def _rows(path: str, first: str, second: str, expected: str) -> tuple[list[tuple[Span, str, str]], list[Mistake]]:
    source = read(path)
    table = list(csv.reader(io.StringIO(source.text)))
    if not table or [cell.strip() for cell in table[0]][:2] != [first, second]:
        raise Unreadable((Mistake(Span(source, 1, 1), f"this list begins with the columns {first} and {second}",
                                  f"write {first},{second} in the first row"),))
    found: list[tuple[Span, str, str]] = []
    wrong: list[Mistake] = []
    for line, row in enumerate(table[1:], 2):
        cells = [cell.strip() for cell in row]
        if len(cells) >= 2 and cells[0] and cells[1]:
            found.append((Span(source, line, 1, len(source.row(line)) or 1), cells[0], cells[1]))
        elif any(cells):
            wrong.append(Mistake(Span(source, line, 1), f"this row has no {second if cells[0] else first}", expected))
    return found, wrong
