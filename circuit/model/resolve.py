"""Statements to a circuit: every kind, name, port and setting is looked up once. All that is wrong is reported."""

from circuit import kinds
from circuit.declaring.kind import Kind
from circuit.declaring.traits import Trait
from circuit.mistake import Hopeless, Mistake, Unreadable, give_up, told
from circuit.model import accepting, declared, heads, placed
from circuit.model.circuit import Circuit
from circuit.model.expand import Flat, Reader, expand
from circuit.model.forms import FORMS
from circuit.model.joints import Joints
from circuit.model.names import Names
from circuit.model.trial_steps import read_trial
from circuit.source import Source
from circuit.syntax.statements import Statement


def resolve(
    source: Source, statements: tuple[Statement, ...], reader: Reader, found: tuple[Mistake, ...] = ()
) -> Circuit:
    """The circuit of a design. found: mistakes that parsing has met already.

    Raises Unreadable with every mistake when there is any.
    """
    mistakes = list(found)
    flat, circuit = Flat(), None
    try:
        expand(source, statements, reader, mistakes, flat)
        circuit = _build(source, flat, mistakes, len(found))
    except Hopeless:
        pass
    if mistakes or circuit is None:
        order = {id(text): place for place, text in enumerate(flat.files)}
        places = {id(m): m.at.outermost for m in mistakes}
        mistakes.sort(key=lambda m: (order.get(id(places[id(m)].source), 0), places[id(m)].line, places[id(m)].column))
        raise Unreadable(told(list(dict.fromkeys(mistakes)), len(found)))
    return circuit


def _build(source: Source, flat: Flat, mistakes: list[Mistake], already: int) -> Circuit | None:
    names = Names(flat, mistakes)
    joints = Joints(names)
    forms: dict[str, list[Statement]] = {}
    lines: list[tuple[Statement, Kind]] = []
    for statement in flat.statements:
        give_up(mistakes, already)
        word = statement.kind.text
        if statement.broken:
            names.broken.update(name.text for name in statement.names)
        elif word in FORMS:
            forms.setdefault(word, []).append(statement)
        else:
            kind = kinds.find(word)
            if kind is None:
                placed.unknown_kind(names, statement)
            elif Trait.LINE in kind.traits:
                lines.append((statement, kind))
            else:
                placed.things(names, joints, statement, kind)
    for name, span in flat.places.items():
        names.claim(name, span)
    axles = declared.axles(names, forms.get("axle", []))
    for statement, kind in lines:
        give_up(mistakes, already)
        placed.line(names, joints, statement, kind)
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
        return None
    return Circuit(
        source, vehicle, rule_sets, tuple(names.devices.values()), joints.spaces(), joints.plugged,
        {key: len(spans) for key, spans in joints.used.items()}, tuple(axles.values()),
        tuple(intent for intent in intents if intent), waivers, trials,
        tuple(flat.files), dict(flat.vehicles), couplings,
    )
