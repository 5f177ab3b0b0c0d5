"""Statements as short text, to be compared by eye and by test."""

from collections.abc import Iterator

from circuit.syntax.statements import And, Measure, Statement, Text, Value


def shown(statements: tuple[Statement, ...], depth: int = 0) -> str:
    """One row a statement and one a setting; figures between bars, texts in quotes, names bare."""
    return "\n".join(row for statement in statements for row in _rows(statement, depth))


def _rows(statement: Statement, depth: int) -> Iterator[str]:
    lead = "  " * depth
    subject = ""
    if statement.ends:
        subject = " -> ".join(end.text for end in statement.ends)
    elif statement.text:
        subject = f'"{statement.text.text}"'
    elif statement.names:
        subject = f"[{', '.join(name.text for name in statement.names)}]"
    yield f"{lead}{'BROKEN ' if statement.broken else ''}{statement.kind.text} {subject}".rstrip()
    for setting in statement.settings:
        yield f"{lead}  {setting.name.text}: {' '.join(_value(value) for value in setting.values)}"
    if statement.block is not None:
        yield f"{lead}  block"
        yield shown(statement.block, depth + 2)


def _value(value: Value) -> str:
    if isinstance(value, Measure):
        return f"|{value.text}|"
    if isinstance(value, Text):
        return f'"{value.text}"'
    return "+" if isinstance(value, And) else value.text


def every(statements: tuple[Statement, ...]) -> Iterator[Statement]:
    """The statements and those in their blocks."""
    for statement in statements:
        yield statement
        yield from every(statement.block or ())
