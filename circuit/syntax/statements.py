"""What was written, before anything is looked up: statements, names and values, each with its place."""

from typing import NamedTuple

from circuit.source import Span


class Name(NamedTuple):
    """A word of the design: a kind, a setting, or a reference such as `rear-relay.2`.

    scoped: what a reference means outside the assembly or vehicle it was written in, "" where that is the same.
    """

    text: str
    span: Span
    scoped: str = ""

    @property
    def reference(self) -> str:
        """The text, read as a reference to a thing."""
        return self.scoped or self.text

    @property
    def parts(self) -> tuple[str, ...]:
        return tuple(self.text.split("."))


class Measure(NamedTuple):
    """A number with or without a unit, as written."""

    text: str
    span: Span


class Text(NamedTuple):
    """A text between quotes, without them."""

    text: str
    span: Span


class And(NamedTuple):
    """The word that joins a list."""

    span: Span
    text: str = "and"


Value = Name | Measure | Text | And


class Setting(NamedTuple):
    """`volume 20 L`: a word and what follows it up to the comma."""

    name: Name
    values: tuple[Value, ...]

    @property
    def span(self) -> Span:
        return self.name.span.to(self.values[-1].span) if self.values else self.name.span


class Statement(NamedTuple):
    """`KIND NAME: SETTINGS` (names filled) or `KIND FROM -> TO: SETTINGS` (ends filled).

    text: a quoted subject, as in `use "axles.air"`, or None. block: the statements between braces, or None.
    span: from the kind to the end of the subject. broken: the statement did not parse; only kind and names are known.
    changed: further rows that say what it is, in their order, and what each of them is. confirmed: settings whose values somebody
    has confirmed, and who, when and what from.
    read_as: of a broken one, what can be read of it: its true names or ends, and the settings that parse by themselves.
    words: of a broken one, everything in it that could be a name.
    """

    kind: Name
    names: tuple[Name, ...] = ()
    ends: tuple[Name, Name] | None = None
    text: Text | None = None
    settings: tuple[Setting, ...] = ()
    block: "tuple[Statement, ...] | None" = None
    broken: bool = False
    changed: tuple[tuple[Span, str], ...] = ()
    confirmed: tuple[tuple[str, str], ...] = ()
    read_as: "Statement | None" = None
    words: tuple[Name, ...] = ()

    @property
    def span(self) -> Span:
        last = self.ends[1] if self.ends else self.names[-1] if self.names else self.text or self.kind
        return self.kind.span.to(last.span)

    def setting(self, name: str) -> Setting | None:
        """The setting of that name, or None."""
        return next((s for s in self.settings if s.name.text == name), None)
