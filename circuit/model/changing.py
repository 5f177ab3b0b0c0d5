"""What a design changes of its chassis: rows that set, remove, cut and replace, done one after another in the order of the text.

They work on the written-out statements, so that what comes after them sees one design, as if it had been written so.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from circuit.mistake import Mistake
from circuit.model.carrying import carried_port, says_where
from circuit.model.confirming import confirmed, other_value
from circuit.model.forms import FORMS
from circuit.model.settings import read
from circuit.near import did_you_mean
from circuit.source import Span
from circuit.syntax.statements import Name, Setting, Statement, Text, Value

TYPE_CHECKING = False
if TYPE_CHECKING:
    from circuit.declaring.kind import Kind
    from circuit.model.expand import Flat

IN_FORCE, WAS_THERE = "changed by this row", "the line as it was"

CHANGES = ("set", "confirm", "remove", "cut", "replace")
"""The words that begin such a row."""

_NOT_SET = ("rules", "plug", "use", "couple", "trial")
"""Statements that read no settings."""

_NOT_GIVEN = ("plug",)
"""Statements whose names are given by another."""

Key = tuple[str, str]


def change(flat: "Flat", mistakes: list[Mistake]) -> None:
    """Does what the rows ask for, and takes them out of the statements. What cannot be done is a mistake."""
    rows = [s for s in flat.statements if s.kind.text in CHANGES and not s.broken]
    if rows:
        flat.statements = [s for s in flat.statements if s.kind.text not in CHANGES]
        _Changer(flat, mistakes).all(rows)


@dataclass(slots=True)
class _Changer:
    flat: "Flat"
    mistakes: list[Mistake]
    kinds: dict[str, str] = field(default_factory=dict)
    keys: dict[str, Key | None] = field(default_factory=dict)

    def all(self, rows: list[Statement]) -> None:
        ways: dict[str, Callable[[Statement], None]] = {
            "set": self._set, "confirm": self._confirm, "remove": self._remove, "cut": self._cut, "replace": self._replace}
        for row in rows:
            self.kinds = {n.text: s.kind.text for s in self.flat.statements if s.kind.text not in _NOT_GIVEN for n in s.names}
            self.keys = {}
            ways[row.kind.text](row)

    def _wrong(self, at: Span, says: str, expected: str = "", other: tuple[Span, str] | None = None) -> None:
        self.mistakes.append(Mistake(at, says, expected, other))

    # --- the four rows ------------------------------------------------------------------------------------------

    def _set(self, row: Statement) -> None:
        if not row.names and not row.ends:
            self._wrong(row.span, "`set` needs the name of a part or the ends of a line", "write set rear-cock: state shut, or "
                        "set foot.21 -> rear-relay.4: length 10 m")
        for place in self._places(row):
            old = self.flat.statements[place]
            if old.kind.text in _NOT_SET:
                self._wrong(row.span, f"a row of `{old.kind.text}` reads no settings, so `set` changes nothing of it",
                            "set what a part, a line, an axle or a circuit reads", (old.span, "the row"))
                continue
            new = {setting.name.text for setting in row.settings}
            settings = (*(s for s in old.settings if s.name.text not in new), *row.settings)
            self.flat.statements[place] = old._replace(
                settings=settings, changed=(*old.changed, (row.span, IN_FORCE)),
                confirmed=tuple(each for each in old.confirmed if each[0] not in new))

    def _confirm(self, row: Statement) -> None:
        """As `set`, of values that somebody answers for; one that the design writes otherwise is not confirmed."""
        found = confirmed(row, self.mistakes)
        if found is None:
            return
        names = {setting.name.text for setting in found.settings}
        for place in self._places(row):
            old = self.flat.statements[place]
            for setting in found.settings:
                was = other_value(old, setting)
                if was is not None:
                    self._wrong(setting.span, f"the design writes another `{setting.name.text}`",
                                "confirm what is written, or change it with `set` first", (was.span, "it"))
            kept = tuple(s for s in old.settings if s.name.text not in names)
            self.flat.statements[place] = old._replace(
                settings=(*kept, *found.settings), confirmed=(*old.confirmed, *((name, found.words) for name in sorted(names))))

    def _remove(self, row: Statement) -> None:
        read(row, FORMS["remove"], "remove", self.mistakes)
        if not row.names and not row.ends:
            self._wrong(row.span, "`remove` needs the name of a part or the ends of a line", "write remove rear-cock, or "
                        "remove foot.21 -> rear-relay.4")
        for place in sorted(self._places(row, whole=True), reverse=True):
            gone = self.flat.statements.pop(place)
            for name in gone.names:
                self._taken(name.text, row)
            self._line_gone(gone, row)

    def _cut(self, row: Statement) -> None:
        values, _ = read(row, FORMS["cut"], "cut", self.mistakes)
        if not row.names and not row.ends:
            self._wrong(row.span, "`cut` needs the ends of a line", "write cut foot.21 -> rear-relay.4: put-in tee-1, first 6 m, "
                        "second 4 m")
        fitted = values["put-in"]
        if not fitted or values["first"] is None or values["second"] is None:
            return
        if len(fitted) > 2:
            self._wrong(fitted[2].span, "a line that is cut has two ends to put a part between, and this is a third",
                        "write put-in tee-1, or put-in filter.1 and filter.2")
            return
        for place in self._places(row):
            old = self.flat.statements[place]
            if old.ends is None:
                self._wrong(row.span, f"a line is cut, and this is a {old.kind.text}", "write the ends of a line",
                            (old.span, "it"))
                continue
            one, other = old.ends
            if row.ends is not None and self._key(row.ends[0].text) != self._key(one.text):
                one, other = other, one
            self.flat.statements[place: place + 1] = [
                self._half(old, row, (one, fitted[0]), "first"), self._half(old, row, (fitted[-1], other), "second")]
            self._line_gone(old, row)

    def _half(self, old: Statement, row: Statement, ends: tuple[Name, Name], word: str) -> Statement:
        """One half of a cut line: as the line was, with its own length, and without the line's own name."""
        long = row.setting(word)
        assert long is not None
        kept = tuple(s for s in old.settings if s.name.text not in ("length", "name"))
        length = Setting(Name("length", long.name.span), long.values)
        ends = (Name(ends[0].text, row.span, ends[0].scoped), Name(ends[1].text, row.span, ends[1].scoped))
        return Statement(Name(old.kind.text, row.kind.span), ends=ends, settings=(*kept, length),
                         changed=((old.span, WAS_THERE), *old.changed))

    def _replace(self, row: Statement) -> None:
        word = self._kind_asked(row)
        if word is None:
            return
        kind, by = word
        rest = tuple(s for s in row.settings if s is not by)
        for place in self._places(row):
            old = self.flat.statements[place]
            was = _kind(old.kind.text)
            if was is None:
                self._wrong(row.span, f"a part or a line is replaced, and this is a row of `{old.kind.text}`",
                            "name a part or a line", (old.span, "the row"))
                continue
            new = {s.name.text for s in rest}
            kept = tuple(s for s in old.settings if s.name.text not in new and says_where(s.name.text, was, kind))
            self.flat.statements[place] = old._replace(kind=Name(kind.name, old.kind.span), settings=(*kept, *rest),
                                                       changed=(*old.changed, (row.span, IN_FORCE)))
            for name in old.names:
                self._carry(name.text, was, kind, row)

    def _kind_asked(self, row: Statement) -> "tuple[Kind, Setting] | None":
        """The kind that a part is to be replaced by, and the setting that says it."""
        from circuit import kinds

        if not row.names and not row.ends:
            self._wrong(row.span, "`replace` needs the name of a part or the ends of a line",
                        "write replace rear-relay: by antilock-relay")
        by = row.setting("by")
        if by is None or not by.values:
            self._wrong(row.span, "replace needs `by`: the kind that comes in its place",
                        "write replace rear-relay: by relay-valve")
            return None
        kind = _kind(by.values[0].text)
        if kind is None:
            self._wrong(by.values[0].span, f"no kind is called `{by.values[0].text}`",
                        did_you_mean(by.values[0].text, kinds.names()) or "see the list: airwright explain kinds")
            return None
        return kind, by

    # --- finding ------------------------------------------------------------------------------------------------

    def _places(self, row: Statement, whole: bool = False) -> list[int]:
        """Where the statements stand that a row means, each with one name only. whole: an assembly's place means all in it."""
        found: list[int] = []
        if row.ends is not None:
            found += self._of_ends(row, *row.ends)
        for name in row.names:
            found += self._of_name(row, name, whole)
        return found

    def _of_ends(self, row: Statement, one: Name, other: Name) -> list[int]:
        keys = [self._key(end.text) for end in (one, other)]
        for end, key in zip((one, other), keys):
            if key is None:
                self._unknown(end, end.text.split(".")[0])
        if None in keys:
            return []
        fits = [place for place, s in enumerate(self.flat.statements)
                if s.ends is not None and set(keys) == {self._key(end.text) for end in s.ends}]
        if len(fits) == 1:
            return fits
        if fits:
            self._wrong(row.span, f"{len(fits)} lines join these two ports",
                        "give the one that is meant a `name`, and write that",
                        (self.flat.statements[fits[0]].span, "the first one"))
            return []
        near = sorted({f"{s.ends[0].text} -> {s.ends[1].text}" for s in self.flat.statements if s.ends is not None
                       and {self._key(e.text) for e in s.ends} & set(keys)})
        gone = self.flat.taken.get(f"{one.text} -> {other.text}")
        self._wrong(row.span, f"no line joins {one.text} and {other.text}" + (" any more" if gone else ""),
                    f"the lines at these ports are {'; '.join(near[:4])}" if near
                    else "look at the ends of the line that is meant",
                    (gone, "it was changed here") if gone else None)
        return []

    def _of_name(self, row: Statement, name: Name, whole: bool) -> list[int]:
        statements = self.flat.statements
        for place, statement in enumerate(statements):
            if any(n.text == name.text for n in statement.names) and statement.kind.text not in _NOT_GIVEN:
                return [self._alone(place, name.text)]
        lines = [place for place, s in enumerate(statements) if s.ends is not None and _own_name(s) == name.text]
        if lines:
            return lines[:1]
        if whole and name.text in self.flat.places:
            inside = [n.text for s in statements if s.kind.text not in _NOT_GIVEN
                      for n in s.names if n.text.startswith(f"{name.text}.")]
            del self.flat.places[name.text]
            self._taken(name.text, row)
            for alias in [a for a in self.flat.aliases if a.startswith(f"{name.text}.")]:
                del self.flat.aliases[alias]
            for each in inside:
                self._alone(next(p for p, s in enumerate(statements) if any(n.text == each for n in s.names)), each)
            return [p for p, s in enumerate(statements) if any(n.text in inside for n in s.names)]
        if whole and (plug := self._plug(name.text)) is not None:
            return [plug]
        self._unknown(name, name.text)
        return []

    def _plug(self, text: str) -> int | None:
        """The row that plugs a port, with that port alone, or None."""
        key = self._key(text)
        for place, statement in enumerate(self.flat.statements):
            if key is not None and statement.kind.text == "plug":
                same = next((n.text for n in statement.names if self._key(n.text) == key), None)
                if same is not None:
                    return self._alone(place, same)
        return None

    def _alone(self, place: int, name: str) -> int:
        """Parts a statement of several names so that one stands alone; where that is now."""
        old = self.flat.statements[place]
        if len(old.names) == 1:
            return place
        others = tuple(n for n in old.names if n.text != name)
        mine = old._replace(names=tuple(n for n in old.names if n.text == name))
        self.flat.statements[place: place + 1] = [mine, old._replace(names=others)]
        return place

    def _unknown(self, name: Name, text: str) -> None:
        gone = self.flat.taken.get(text)
        if gone:
            self._wrong(name.span, f"`{text}` is not there any more", "remove this row, or the one that took it away",
                        (gone, "taken away here"))
            return
        inside = [n.text for s in self.flat.statements for n in s.names if n.text.startswith(f"{text}.")]
        if text in self.flat.places and inside:
            self._wrong(name.span, f"`{text}` is a place of an assembly", f"name what is in it: {', '.join(inside[:6])}")
            return
        known = [n.text for s in self.flat.statements for n in s.names]
        self._wrong(name.span, f"nothing is called `{text}`",
                    did_you_mean(text, known) or "name a part of the design, or a line by its ends")

    def _key(self, text: str) -> Key | None:
        """Part and port number of a reference, or None where it means none."""
        if text not in self.keys:
            self.keys[text] = self._key_of(text)
        return self.keys[text]

    def _key_of(self, text: str) -> Key | None:
        for _ in range(8):
            text = self.flat.aliases.get(text, text)
        head, _, last = text.rpartition(".")
        if (kind := _kind(self.kinds.get(text, ""))) is not None:
            return text, (kind.only_port or kind.ports[0]).number
        if (kind := _kind(self.kinds.get(head, ""))) is not None and (port := kind.port(last)) is not None:
            return head, port.number
        return None

    # --- what is gone, and what is carried over -----------------------------------------------------------------

    def _taken(self, name: str, row: Statement) -> None:
        self.flat.taken[name] = row.span

    def _line_gone(self, line: Statement, row: Statement) -> None:
        if line.ends is not None:
            self._taken(f"{line.ends[0].text} -> {line.ends[1].text}", row)
            if own := _own_name(line):
                self._taken(own, row)

    def _carry(self, part: str, was: "Kind", new: "Kind", row: Statement) -> None:
        """Leads to the new part whatever led to the old one: at the port that means the same."""
        def moved(name: Name) -> Name:
            text = name.reference
            for _ in range(8):
                text = self.flat.aliases.get(text, text)
            head, _, last = text.rpartition(".")
            old = was.port(last) if head == part else was.only_port or was.ports[0] if text == part else None
            if old is None:
                return name
            port = carried_port(was, old, new)
            if port is None:
                at = f"{part}.{old.number}" + (f" ({old.words[0]})" if old.words else "")
                self._wrong(row.span, f"{at} is in use, and a {new.name} has no port that means the same",
                            f"remove what is there, and lead it to one of {', '.join(p.number for p in new.ports)}",
                            (name.span, "in use here"))
                return name
            ref = part if new.only_port else f"{part}.{port.number}"
            return Name(ref, name.span, ref if name.scoped else "")

        for place, statement in enumerate(self.flat.statements):
            ends = statement.ends and (moved(statement.ends[0]), moved(statement.ends[1]))
            names = tuple(map(moved, statement.names)) if statement.kind.text == "plug" else statement.names
            settings = tuple(_led(s, moved) if s.name.text == "on" else s for s in statement.settings)
            self.flat.statements[place] = statement._replace(ends=ends, names=names, settings=settings)


def _led(setting: Setting, moved: Callable[[Name], Name]) -> Setting:
    values: Iterator[Value] = (moved(v) if isinstance(v, Name) else v for v in setting.values)
    return Setting(setting.name, tuple(values))


def _kind(word: str) -> "Kind | None":
    from circuit import kinds

    return None if word in FORMS else kinds.find(word)


def _own_name(line: Statement) -> str:
    """The name that a line has beside its ends, or ""."""
    own = line.setting("name")
    return own.values[0].text if own and own.values and not isinstance(own.values[0], Text) else ""
