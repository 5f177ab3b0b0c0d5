"""Statements to a circuit: every kind, name, port and setting is looked up once. All that is wrong is reported.

Of a design with mistakes there is a circuit too, as far as it is understood; `unknown` says what in it hangs on a mistake.
"""

from typing import NamedTuple

from circuit import kinds
from circuit.declaring.kind import Kind
from circuit.declaring.traits import Trait
from circuit.mistake import Hopeless, Mistake, Unreadable, give_up, told
from circuit.model import accepting, declared, heads, placed, salvaged
from circuit.model.circuit import Circuit
from circuit.model.devices import Device, Vehicle
from circuit.model.conditions import on_hot_drums
from circuit.model.expand import Flat, Reader, expand
from circuit.model.forms import FORMS
from circuit.model.joints import Joints
from circuit.model.names import Names
from circuit.model.trial_steps import read_trial
from circuit.model.unknown import Unknown
from circuit.source import Source
from circuit.syntax.statements import Statement


class Understood(NamedTuple):
    """What a design's text comes to. mistakes: in the order of the text. circuit: None where too little is understood; with
    mistakes it is no more than what can be read of it. unknown: what in it hangs on them. files: every text that was read.
    """

    circuit: Circuit | None
    mistakes: tuple[Mistake, ...] = ()
    unknown: Unknown = Unknown()
    files: tuple[Source, ...] = ()


def resolve(
    source: Source, statements: tuple[Statement, ...], reader: Reader, found: tuple[Mistake, ...] = ()
) -> Circuit:
    """The circuit of a design. found: mistakes that parsing has met already.

    Raises Unreadable with every mistake when there is any.
    """
    known = understood(source, statements, reader, found)
    if known.mistakes or known.circuit is None:
        raise Unreadable(known.mistakes)
    return known.circuit


def understood(source: Source, statements: tuple[Statement, ...], reader: Reader, found: tuple[Mistake, ...] = ()) -> Understood:
    """As `resolve`, and of a design with mistakes what is understood of it."""
    mistakes = list(found)
    flat, circuit, unknown = Flat(), None, Unknown()
    try:
        expand(source, statements, reader, mistakes, flat)
        unknown.lost += len(mistakes) - len(found)  # files, assemblies and changed rows that are not understood
        names = Names(flat, mistakes, unknown=unknown)
        circuit = _build(source, names, len(found))
        names.count_again()
    except Hopeless:
        pass
    if not mistakes:
        return Understood(circuit, files=tuple(flat.files))
    order = {id(text): place for place, text in enumerate(flat.files)}
    places = {id(m): m.at.outermost for m in mistakes}
    mistakes.sort(key=lambda m: (order.get(id(places[id(m)].source), 0), places[id(m)].line, places[id(m)].column))
    return Understood(circuit, told(list(dict.fromkeys(mistakes)), len(found)), unknown, tuple(flat.files))


def _on_its_drums(vehicle: Vehicle, devices: tuple[Device, ...]) -> tuple[Device, ...]:
    return on_hot_drums(devices) if vehicle.conditions.hot else devices


def _build(source: Source, names: Names, already: int) -> Circuit | None:
    flat, mistakes = names.flat, names.mistakes
    joints = Joints(names)
    forms: dict[str, list[Statement]] = {}
    lines: list[tuple[Statement, Kind]] = []
    names.broken.update(name.text for statement in flat.statements if statement.broken for name in statement.names)
    unread = [statement for statement in flat.statements if statement.broken]
    for statement in flat.statements:
        give_up(mistakes, already)
        word = statement.kind.text
        if statement.broken:
            continue
        if word in FORMS:
            forms.setdefault(word, []).append(statement)
        else:
            kind = kinds.find(word)
            if kind is None:
                placed.unknown_kind(names, statement)
                unread.append(statement)
            elif Trait.LINE in kind.traits:
                lines.append((statement, kind))
            else:
                placed.things(names, joints, statement, kind)
    for name, span in flat.places.items():
        names.claim(name, span)
    axles = declared.axles(names, forms.get("axle", []))
    unread_lines = salvaged.things(names, joints, unread)
    for statement, kind in lines:
        give_up(mistakes, already)
        placed.line(names, joints, statement, kind)
    salvaged.lines(names, joints, unread_lines)
    placed.hosts(names, joints)
    together = forms.get("combination", [])
    couplings = heads.couplings(names, forms.get("couple", []))
    heads.stand(names, couplings, bool(together))
    for statement in forms.get("plug", []):
        joints.plug(statement)
    declared.check_axles(names, axles)
    vehicle = (declared.combination(names, together) if together
               else declared.vehicle(names, source, forms.get("vehicle", [])))
    intents = [declared.intent(names, statement, axles) for statement in forms.get("circuit", [])]
    waivers = accepting.waivers(names, forms.get("waive", []), vehicle.name if vehicle else "")
    rule_sets = declared.rule_sets(names, forms.get("rules", []))
    trials = tuple(read_trial(statement, names.exists, mistakes) for statement in forms.get("trial", []))
    if vehicle is None:
        vehicle = salvaged.vehicle(names, source, forms.get("vehicle", [])) if mistakes and not together else None
    if vehicle is None or not salvaged.completed(names, axles):
        return None
    every_axle = salvaged.axles(names, axles)
    return Circuit(
        source, vehicle, rule_sets, _on_its_drums(vehicle, tuple(names.devices.values())), joints.spaces(), joints.plugged,
        {key: len(spans) for key, spans in joints.used.items()}, every_axle,
        salvaged.intents(names, intents, every_axle), waivers, tuple(trial for trial in trials if trial),
        tuple(flat.files), dict(flat.vehicles), couplings,
    )
