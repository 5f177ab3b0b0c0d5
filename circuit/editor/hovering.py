"""What is told of the word under the cursor: a kind, a part, a port, a value with its source, a rule with its lesson."""

import re

from circuit import kinds
from circuit.declaring.kind import Kind, Port
from circuit.editor.desk import Desk
from circuit.editor.naming import THING, use_at
from circuit.editor.spots import column_of
from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.model.forms import ACTIONS, FORMS, MEANT
from circuit.source import Source
from circuit.units import ATMOSPHERE, shown
from circuit.verdict.judge import Verdict
from circuit.verdict.lesson import lesson_of

_WORD = re.compile(r"[^\W_][\w.<>-]*")
STATES = ("parked", "driving", "braking")


def hover(desk: Desk, path: str, line: int, letter: int) -> str:
    """A text in Markdown about a place, line and letter from 0; "" where there is nothing to tell."""
    try:
        source = desk.source(path)
    except Unreadable:
        return ""
    column = column_of(source.row(line + 1), letter)
    word = next((each.group() for each in _WORD.finditer(source.row(line + 1)) if each.start() < column <= each.end() + 1), "")
    if not word:
        return ""
    circuit = desk.known(path).circuit
    first = source.row(line + 1).split(maxsplit=1)[:1]
    if first == ["waive"] and (told := _rule(word)):
        return told
    if circuit is not None:
        use = use_at(desk, path, line, letter)
        if use is not None and use.symbol.sort == THING and not use.symbol.inside:
            return _thing(desk, path, circuit, word)
    return _word(source, line + 1, word, circuit)


def _word(source: Source, line: int, word: str, circuit: Circuit | None) -> str:
    kind = kinds.find(word)
    begins = source.row(line).split(maxsplit=1)[:1] == [word]
    if kind is not None and begins:
        return _kind(kind)
    if begins and word in MEANT:
        return f"**{word}**: {MEANT[word]}"
    head = source.row(line).split(maxsplit=1)[0] if source.row(line).strip() else ""
    owner = kinds.find(head)
    settings = owner.settings if owner else FORMS.get(head) or ACTIONS.get(head) or ()
    found = next((each for each in settings if each.name == word), None)
    if found is not None:
        typical = f"\n\ntypical where it is left out: {found.typical.text} ({found.typical.source})" if found.typical else ""
        choices = f"\n\none of {', '.join(found.choices)}" if found.choices else ""
        return f"**{word}** of {head}: {found.says}{choices}{typical}" + ("\n\nneeded" if found.required else "")
    return _kind(kind) if kind is not None else _rule(word)


def _kind(kind: Kind) -> str:
    ports = "\n".join(f"- {_port(port)}" for port in kind.ports)
    return f"**{kind.title}** (`{kind.name}`)\n\n{kind.purpose}\n\n{kind.behaviour}\n\n{ports}\n\n`airwright explain {kind.name}`"


def _port(port: Port) -> str:
    words = f" ({', '.join(port.words)})" if port.words else ""
    return f"{port.number}{words}: {port.role.value}"


def _rule(word: str) -> str:
    try:
        lesson = lesson_of(word)
    except (ImportError, ValueError):
        return ""
    return f"**{word}**\n\n{lesson.fault}\n\n{lesson.why}\n\nso: {lesson.consequence}\n\n`airwright explain {word}`"


# --- a part of the design --------------------------------------------------------------------------------------------------


def _thing(desk: Desk, path: str, circuit: Circuit, word: str) -> str:
    head, _, last = word.rpartition(".")
    if word in circuit.by_name:
        device, port = circuit.by_name[word], circuit.by_name[word].kind.only_port
    elif head in circuit.by_name:
        device = circuit.by_name[head]
        port = device.kind.port(last)
    else:
        named = next((each for each in circuit.devices if each.settings.get("name") == word), None)
        if named is None:
            return ""
        device, port = named, None
    verdict = desk.verdict(path)
    told = [f"**{device.title}**: {device.kind.title}", device.kind.purpose]
    if port is not None:
        told.append(f"port {_port(port)}\n\n{_levels(verdict, circuit, device, port)}")
    else:
        ports = () if device.is_line else device.kind.ports
        told += [f"- {_port(each)}; {_levels(verdict, circuit, device, each)}" for each in ports]
    if desk.known(path).mistakes:
        told.append("The text has mistakes: this is predicted as far as it is understood.")
    told.append(_values(device))
    told.append(_said(verdict, device))
    return "\n\n".join(each for each in told if each)


def _levels(verdict: Verdict | None, circuit: Circuit, device: Device, port: Port) -> str:
    """Pressures at rest, predicted from the circuit, in each state of hands and feet."""
    space = circuit.space[device.name, port.number]
    if space == SPACE_OUTSIDE:
        return "open to the air"
    if verdict is None or verdict.circuit.space.get((device.name, port.number)) != space:
        return "no pressure can be predicted"
    levels = (f"{state} {shown(getattr(verdict.evidence, state).level.get(space, ATMOSPHERE), 'pressure')}" for state in STATES)
    return "predicted at rest: " + ", ".join(levels)


def _values(device: Device) -> str:
    rows = [f"- {name} {given.text}" + (f" (assumed: {given.source})" if given.assumed else "")
            for name, given in device.given.items()]
    return "\n".join(rows)


def _said(verdict: Verdict | None, device: Device) -> str:
    """What rules found of a part, with the clause that asks."""
    if verdict is None:
        return ""
    found = [f"- {one.severity}: {one.answer.says} ({one.clause.cited})" for one in verdict.findings
             if one.is_open and one.answer.thing == device.name]
    return "\n".join(found)
