"""How classes of numbers and rows lie in memory, by their annotations.

A record is an address: its fields lie 8 bytes apart, and a row's field holds the row's address.
"""

from typing import Any, NamedTuple, get_type_hints

WORD = 8
"""Bytes from one field of a record to the next."""
class Field(NamedTuple):
    """kind: `f64`, `i32`, `f64[]` or `i32[]`."""

    kind: str
    place: int


class Record(NamedTuple):
    """A class whose fields lie in memory. fixed: whether its numbers stay as they are while a function runs."""

    name: str
    fields: dict[str, Field]
    fixed: bool


KINDS: dict[Any, str] = {float: "f64", int: "i32", bool: "i32", list[float]: "f64[]", list[int]: "i32[]"}


def record_of(kind: type) -> Record:
    """The layout that a class's annotations make."""
    fields = {name: Field(KINDS[hint], WORD * place)
              for place, (name, hint) in enumerate(get_type_hints(kind).items())}
    return Record(kind.__name__, fields, issubclass(kind, tuple))
