"""Assumed values in words."""

from collections.abc import Iterable
from typing import NamedTuple

from circuit.model.circuit import Circuit

Read = tuple[str, str]
"""Device and setting."""


class Assumed(NamedTuple):
    """A typical value that a figure leans on: the part's title, the setting, the value as text and where it is from."""

    part: str
    setting: str
    value: str
    source: str

    def __str__(self) -> str:
        return f"{self.part} {self.setting} {self.value}"


def said(circuit: Circuit, reads: Iterable[Read]) -> tuple[Assumed, ...]:
    """Assumed settings for people, alike ones named once."""
    titles: dict[tuple[str, str, str, str], list[str]] = {}
    for name, setting in sorted(reads):
        device = circuit.by_name[name]
        given = device.given[setting]
        titles.setdefault((device.kind.name, setting, given.text, given.source), []).append(device.title)
    return tuple(Assumed(titles_of(parts), setting, text, source)
                 for (_, setting, text, source), parts in titles.items())


def titles_of(titles: list[str]) -> str:
    """Some titles; many are counted."""
    shown = list(dict.fromkeys(titles))
    return ", ".join(shown[:2]) + (f" and {len(shown) - 2} more" if len(shown) > 2 else "")
