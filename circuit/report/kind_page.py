"""The page of a kind of part, for somebody who wants to learn it."""

import textwrap

from circuit import glossary, sections
from circuit.declaring.ranges import in_words
from circuit.declaring.common import COMMON
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Setting
from circuit.declaring.proving import often, proof
from circuit.declaring.traits import Role, Trait
from circuit.report.inside.asked import of_kind
from circuit.report.specimen import sample
from circuit.report.words import SHOP
from circuit.tables import table

WIDTH = 100


def para(text: str, indent: int = 0) -> list[str]:
    """Words in rows of a page."""
    return textwrap.wrap(text, WIDTH, initial_indent=" " * indent, subsequent_indent=" " * indent,
                         break_on_hyphens=False)


def block(title: str, *lines: str) -> list[str]:
    """A heading with what stands under it."""
    return ["", title, *lines]


def page_of(kind: Kind) -> str:
    """What a kind is for, what the air does in it, how it is written, how it fails."""
    lines = [f"{kind.name}  ({kind.group.value})", *para(f"{kind.title}. {kind.purpose}")]
    if kind.aliases:
        lines.append(f"Also called: {', '.join(kind.aliases)}")
    lines += block("What the air does", *para(kind.behaviour, 2))
    if kind.passages:
        lines.append("")
        for passage in kind.passages:
            end = "the open air" if passage.end == OUTSIDE else passage.end
            arrow = "<->" if passage.both_ways else "->"
            keeps = f"; keeps {passage.start} at `{passage.keeps}`" if passage.keeps else ""
            lines += para(f"{passage.start} {arrow} {end}: {passage.says}{keeps}", 2)
    if (more := glossary.beside(kind.name)) is not None:
        lines += block("What pushes what", *para(more.push, 2)) + block("What one hears", *para(more.hear, 2))
    lines += block("Ports", *(f"  {p.number:<4}{_port(p)}" for p in kind.ports))
    if kind.settings:
        lines += block("Settings")
        for setting in kind.settings:
            lines += setting_told(setting)
        lines += [row for order in kind.orders for row in para(
            f"`{order.low}` stays {'at or ' if order.equal else ''}below `{order.high}`", 2)]
    if kind.positions:
        lines += block("How a hand sets it", *para(
            f"{', '.join(kind.positions)}; in a trial `set NAME: state {next(iter(kind.positions))}, at 2 s`", 2))
    if kind.failures:
        lines += block(f"How it fails, how often ({COMMON}), and how a workshop proves it",
                        *(row for f in kind.failures for row in _failure(kind, f)))
    if kind.name in sections.names():
        lines += block("Inside, state by state (with typical settings)", *(
            row for found in of_kind(kind.name) for row in para(f"{found.state}: {found.sentence}", 2)), "",
            f'    airwright section {kind.name} --state "{of_kind(kind.name)[0].state}" -o {kind.name}.svg')
    row, folder = real_row(kind)
    lines += block("How it is written", "    " + row, *([f"    (in examples/{folder})"] if folder else ()))
    if kind.symbol is not None:
        lines += block("Its symbol", f"    airwright draw {kind.name} -o {kind.name}.svg")
    lines += block("Rules that look at it", *para(", ".join(rules_of(kind)) + "; and of every part, how it is joined: port-open, "
                                                    "part-backwards, exhaust-blocked" if rules_of(kind) else
                                                    "those of every part: port-open, part-backwards, exhaust-blocked", 2))
    if Trait.SPRING_ACTUATOR in kind.traits or Trait.STORES_AIR in kind.traits:
        lines += block("Take care", *para(SHOP, 2))
    return "\n".join(lines) + "\n"


def _failure(kind: Kind, failure: Failure) -> list[str]:
    return para(f"{failure.name}, {often(failure)}: {failure.says}", 2) + para(f"proof: {proof(kind, failure)}", 6)


def _port(port) -> str:  # type: ignore[no-untyped-def]
    words = f" ({', '.join(port.words)})" if port.words else ""
    holes = "; any number of holes" if port.holes == 0 else f"; {port.holes} holes" if port.holes > 1 else ""
    holes = f"; holes by `{port.holes_from}`" if port.holes_from else holes
    free = "" if port.required or port.role is Role.EXHAUST else "; may stay unused"
    vent = "; open to the air unless plugged or piped away" if port.role is Role.EXHAUST else ""
    lost = f"; {port.lost}" if port.role is Role.DELIVERY else ""
    return f"{port.role.value}{words}{holes}{free}{vent}{lost}"


def setting_told(setting: Setting) -> list[str]:
    """A setting: what it says, whether it must be written, and what is taken otherwise."""
    what = setting.says + (f": {', '.join(setting.choices)}" if setting.choices else "")
    if setting.required:
        when = "must be written"
    elif setting.typical is not None:
        when = f"{setting.typical.text} when left out ({setting.typical.source})"
        when += f", {scatters} among plausible vehicles" if (scatters := in_words(setting)) else ""
    else:
        when = "may be left out"
        if setting.usual is not None:
            when += f"; a study that asks for it takes {setting.usual.text} ({setting.usual.source})"
    if setting.within is not None:
        when += f"; from {setting.within[0]} to {setting.within[1]}, anything else is refused"
    return para(f"{setting.name}: {what}; {when}", 2)


def real_row(kind: Kind) -> tuple[str, str]:
    """A row of the kind out of a real design and its example's folder; where none has it, what it must have and ""."""
    known = table("samples")["kind"][kind.name]
    return (known["row"], known["from"]) if "row" in known else (sample(kind), "")


def rules_of(kind: Kind) -> tuple[str, ...]:
    """The rules that have answered about a part of the kind in our designs, frozen."""
    return tuple(table("samples")["kind"][kind.name]["rules"])
