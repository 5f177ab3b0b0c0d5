"""What is called what in a design: names given, references looked up, and what to say of one that means nothing."""

from dataclasses import dataclass, field

from circuit.declaring.kind import Kind, Port
from circuit.declaring.traits import Role
from circuit.mistake import Mistake
from circuit.model.devices import Device, PortKey
from circuit.model.expand import Flat
from circuit.model.unknown import Unknown
from circuit.near import did_you_mean
from circuit.source import Span
from circuit.syntax.statements import Name


@dataclass(slots=True)
class Names:
    """devices: by name. broken: names of statements that could not be read. spans: of every name given. unknown: what hangs on a
    mistake. unsure: parts whose ports may be others than these. again: by what was wrong, which mistake says so, and all its
    places."""

    flat: Flat
    mistakes: list[Mistake]
    devices: dict[str, Device] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    spans: dict[str, Span] = field(default_factory=dict)
    unknown: Unknown = field(default_factory=Unknown)
    unsure: set[str] = field(default_factory=set)
    again: dict[tuple[str, str], tuple[int, list[Span]]] = field(default_factory=dict)

    def wrong(self, at: Span, says: str, expected: str = "", other: tuple[Span, str] | None = None) -> None:
        """Notes a mistake. other: a second place and what is there."""
        self.mistakes.append(Mistake(at, says, expected, other))

    def wrong_once(self, what: tuple[str, str], at: Span, says: str, expected: str = "") -> None:
        """Notes a mistake that may be met at many places: one row that is damaged is one mistake."""
        if what in self.again:
            self.again[what][1].append(at)
        else:
            self.again[what] = len(self.mistakes), [at]
            self.wrong(at, says, expected)

    def count_again(self) -> None:
        """Puts each mistake that was met at several places at the first of them, and says how many there are."""
        for place, spans in self.again.values():
            if len(spans) > 1:
                one = self.mistakes[place]
                first, second = sorted((span for span in spans if span.source is spans[0].source), key=_order)[:2] if sum(
                    span.source is spans[0].source for span in spans) > 1 else spans[:2]
                self.mistakes[place] = one._replace(at=first, says=f"{one.says}, here and at {len(spans) - 1} more "
                                                    f"place{'s' * (len(spans) > 2)}", other=(second, "the next of them"))

    def claim(self, name: str, span: Span) -> bool:
        """Gives a name to one thing; a second thing of the name is a mistake that shows both places."""
        if name in self.spans:
            self.wrong(span, f"there are two things called `{name}`", "give one of them another name",
                       (self.spans[name], "the first one"))
            return False
        self.spans[name] = span
        return True

    def port(self, reference: Name) -> PortKey | None:
        """The port a reference means; what is wrong with it is reported, unless a broken statement explains it."""
        text = self.unalias(reference.text)
        if text in self.devices:
            device = self.devices[text]
            only = device.kind.only_port or _first_space(device.kind)
            if only is not None:
                return text, only.number
            if text in self.unsure:
                return None
            self.wrong(reference.span, f"`{reference.text}` is a {device.kind.name} with several ports",
                       f"say which: {ports_of(device.kind, text)}")
            return None
        head, _, last = text.rpartition(".")
        if head in self.devices:
            device = self.devices[head]
            port = device.kind.port(last)
            if port is not None:
                return head, port.number
            if head in self.unsure:
                return None
            self.wrong(reference.span, f"{head} is a {device.kind.name}, and it has no port `{last}`",
                       f"its ports are {ports_of(device.kind)}")
            return None
        self._missing(reference, text)
        return None

    def unalias(self, text: str) -> str:
        """The name behind the names that assemblies give to their ports."""
        for _ in range(8):
            if text not in self.flat.aliases:
                break
            text = self.flat.aliases[text]
        return text

    def exists(self, reference: Name) -> bool:
        """Whether a trial, a waiver or a circuit may name it: a part, a port, a place or a named line."""
        text = self.unalias(reference.text)
        if text in self.devices or text in self.flat.places or text in self.spans:
            return True
        head, _, last = text.rpartition(".")
        if head in self.devices and self.devices[head].kind.port(last):
            return True
        self._missing(reference, text)
        return False

    def quietly(self, reference: Name) -> PortKey | None:
        """The port that a reference means, if it means one; for what is looked for in a row that cannot be read."""
        text = self.unalias(reference.text)
        head, _, last = (text, "", "") if text in self.devices else text.rpartition(".")
        if head not in self.devices:
            return None
        kind = self.devices[head].kind
        port = kind.port(last) if last else kind.only_port or _first_space(kind)
        return (head, port.number) if port is not None else None

    def _missing(self, reference: Name, text: str) -> None:
        first = text.split(".")[0]
        if any(name == first or name.startswith(f"{first}.") for name in self.broken):
            return
        for gone in (text, text.rpartition(".")[0], first):
            if gone in self.flat.taken:
                self.wrong(reference.span, f"`{gone}` is taken away, and this row still names it",
                           "remove or change this row as well", (self.flat.taken[gone], "taken away here"))
                return
        if first in self.flat.places:
            ports = [alias[len(first) + 1:] for alias in self.flat.aliases if alias.startswith(f"{first}.")]
            rest = text[len(first) + 1:]
            self.wrong_once(("part", rest), reference.span, f"the assembly at `{first}` has no port or part `{rest}`",
                            f"its ports are {', '.join(ports) or 'none'}")
            return
        known = list(dict.fromkeys([*self.devices, *self.flat.places, *self.flat.aliases]))
        known = [name for name in known if "->" not in name]
        inside = [name for name in known if name.startswith(f"{first}.")]
        if inside:
            self.wrong(reference.span, f"`{first}` has no part `{text[len(first) + 1:]}`",
                       did_you_mean(text, inside) or f"it has {', '.join(name[len(first) + 1:] for name in inside[:9])}")
            return
        name = first if first not in known else text
        self.wrong_once(("name", name), reference.span, f"nothing is called `{name}`",
                        did_you_mean(first, [name.split(".")[0] for name in known])
                        or "write it down first, as KIND NAME: ...")


def _order(span: Span) -> tuple[int, int]:
    return span.outermost.line, span.outermost.column


def _first_space(kind: Kind) -> Port | None:
    """For a thing on a host (drain, safety valve): the one port that is not an exhaust."""
    inner = [port for port in kind.ports if port.role is Role.SPACE and port.required]
    return inner[0] if len(inner) == 1 and all(p.role in (Role.SPACE, Role.EXHAUST, Role.CONTROL) for p in kind.ports) \
        and kind.small else None


def ports_of(kind: Kind, name: str = "") -> str:
    """A kind's ports by number and word, for a remedy."""
    head = f"{name}." if name else ""
    return ", ".join(f"{head}{port.number}" + (f" ({port.words[0]})" if port.words else "") for port in kind.ports)
