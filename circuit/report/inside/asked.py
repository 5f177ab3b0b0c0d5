"""What a command asks of sections: a kind in its named states, or a part of a design in a situation or at a time of a trial."""

from typing import NamedTuple

from circuit import kinds, sections
from circuit.declaring.section import Section
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.near import did_you_mean
from circuit.report.inside.openings import Inside
from circuit.report.inside.picture import picture
from circuit.report.inside.posed import posed
from circuit.report.inside.sentence import sentence
from circuit.report.situations import SITUATIONS, unit_of
from circuit.sim.script import REACTION
from circuit.units import ATMOSPHERE


class NoSection(LookupError):
    """There is no such section; the text says what there is."""


class Found(NamedTuple):
    """A part at a moment. state: as it was asked for."""

    inside: Inside
    section: Section
    title: str
    state: str
    unit: str = "bar"

    @property
    def sentence(self) -> str:
        return sentence(self.inside, self.unit)

    def picture(self, theme: str = "light") -> str:
        """Its section as SVG."""
        return picture(self.inside, self.section, self.title, self.unit, theme)


def of_kind(name: str, state: str = "") -> list[Found]:
    """A kind in one of its states, or in all."""
    kind = kinds.find(name)
    section = sections.find(kind) if kind is not None else None
    if kind is None or section is None:
        known = [*sections.names(), *(kinds.names() if kind is None else ())]
        offer = did_you_mean(name, known) if kind is None else ""
        raise NoSection(f"`{name}` has no section" + (f": {offer}" if offer else "; these kinds have one: "
                                                       + ", ".join(sections.names())))
    poses = [pose for pose in section.poses if not state or pose.title == state]
    if not poses:
        raise NoSection(f"{kind.name} has no state `{state}`: write one of "
                        + ", ".join(f'"{pose.title}"' for pose in section.poses))
    return [Found(posed(kind, section, pose), section, f"{kind.title}: {pose.title}", pose.title) for pose in poses]


def of_design(circuit: Circuit, name: str, state: str = "", trial: str | None = None, at: float = 0.0) -> list[Found]:
    """A part of a design in one situation, in all, or at a time of a trial, s. Raises NoSection."""
    device = circuit.by_name.get(name)
    section = sections.find(device.kind) if device is not None else None
    if device is None or section is None:
        drawn = [each.name for each in circuit.devices if each.kind.name in sections.names()]
        raise NoSection((f"the part {name} is a {device.kind.name}, which has no section" if device else
                         f"there is no part `{name}`" if name else "a part of the design is to be named")
                        + "; these have one: " + ", ".join(drawn))
    if trial is not None:
        inside = _in_trial(circuit, device, trial, at)
        return [Found(inside, section, f"{name}: trial {trial} at {at:g} s", trial, unit_of(circuit))]
    asked = [each for each in SITUATIONS if not state or each.key == state]
    if not asked:
        raise NoSection(f"a design has no state `{state}`: write one of " + ", ".join(each.key for each in SITUATIONS))
    evidence = Evidence(circuit)
    found = []
    for each in asked:
        air = each.air(evidence)
        inside = Inside(device.kind, device.settings, _pressures(circuit, device, air.level), air.states[name])
        found.append(Found(inside, section, f"{name}: {each.title.lower()}", each.key, unit_of(circuit)))
    return found


def _pressures(circuit: Circuit, device: Device, level) -> dict[str, float]:  # type: ignore[no-untyped-def]
    """Absolute Pa at each port."""
    return {port: level.get(space, ATMOSPHERE) for port, space in circuit.spaces_of[device.name]}


def _in_trial(circuit: Circuit, device: Device, name: str, at: float) -> Inside:
    from circuit.report.situations import moment, traced

    level = moment(circuit, name, at).level
    return Inside(device.kind, device.settings, _pressures(circuit, device, level), states_at(traced(circuit, name), device, at))


def states_at(trace: Trace, device: Device, at: float) -> dict[str, float]:
    """A part's state variables at a time, s; one that goes evenly from one value to another is on its way.

    What goes evenly has a moment with its old value, and the next with the new one; what jumps has only the latter. At
    time 0 the two look alike: there a pedal or lever that stands a foot's reaction later is taken to have gone evenly.
    """
    found = dict(device.kind.rest)
    by_degrees = {given.by for given in device.kind.graduated}
    for variable in found:
        history = trace.states.get((device.name, variable), ())
        for place, (time, value) in enumerate(history):
            if time > at:
                begun, old = history[place - 1] if place else (0.0, value)
                goes = place > 1 and history[place - 2][1] == old != value
                goes |= place == 1 and variable in by_degrees and time <= REACTION + 1e-9
                found[variable] = old + (value - old) * (at - begun) / (time - begun) if goes else old
                break
            found[variable] = value
    return found
