"""What a resolved design is made of: its devices and their ways, vehicles, axles, intents, waivers and couplings.

Numbers are SI, pressures absolute Pa. Places are kept for messages.
"""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

from circuit.declaring.kind import Kind, Passage
from circuit.declaring.traits import Trait
from circuit.model.conditions import Conditions
from circuit.source import Span

PortKey = tuple[str, str]
"""Device name and port number."""

SPACE_OUTSIDE = -1
"""The index of the atmosphere."""


CONFIRMED = "confirmed by "


class Given(NamedTuple):
    """A setting's value and where it is from.

    text: as written or as typical. span: where it was written, None when assumed. source: of an assumed value,
    or by whom a written one is confirmed.
    """

    text: str
    span: Span | None
    source: str = ""

    @property
    def assumed(self) -> bool:
        return self.span is None

    @property
    def is_confirmed(self) -> bool:
        """Whether somebody has confirmed it; `source` then says who, when and what from."""
        return self.span is not None and self.source.startswith(CONFIRMED)


class Device(NamedTuple):
    """A part of the design, a line included.

    settings: SI values by name; None where neither written nor typical. given: how each came about.
    ends: for a line, the two ports it joins; host: for a part screwed straight into another, that port. changed: further
    rows that say what it is, beside that at `span`, and what each of them is.
    """

    name: str
    kind: Kind
    settings: Mapping[str, Any]
    given: Mapping[str, Given]
    span: Span
    ends: tuple[PortKey, PortKey] | None = None
    host: PortKey | None = None
    changed: tuple[tuple[Span, str], ...] = ()

    def has(self, trait: Trait) -> bool:
        return trait in self.kind.traits

    @property
    def is_line(self) -> bool:
        return Trait.LINE in self.kind.traits

    @property
    def title(self) -> str:
        """For people: a line by its two ends or its own name, any other thing by its name."""
        if self.is_line:
            own = self.settings.get("name")
            return f"{self.kind.name} {own}" if own else f"{self.kind.name} {self.name}"
        return self.name


class Way(NamedTuple):
    """A passage of one device between two spaces of the circuit."""

    device: Device
    passage: Passage
    start: int
    end: int


class Vehicle(NamedTuple):
    """A vehicle of the design.

    name, class word (`truck`, `semi-trailer`, ...) and title; tows: whether it is meant to tow air-braked vehicles.
    declared: what its maker declares, SI values by the names of `forms.DECLARED`, None where nothing is written.
    body: a special body that standards except, or `usual`; built: the year, None where nothing is written.
    conditions: under which it is played.
    """

    name: str
    vehicle_class: str
    title: str
    tows: bool
    span: Span
    declared: Mapping[str, float | None] = MappingProxyType({})
    body: str = "usual"
    built: int | None = None
    conditions: Conditions = Conditions()


class Intent(NamedTuple):
    """What a circuit is meant to do: which reservoirs serve which axles. role: service, parking or auxiliary."""

    name: str
    role: str
    reservoirs: tuple[str, ...]
    axles: tuple[str, ...]
    span: Span


class Axle(NamedTuple):
    """hydraulic: whether its service brakes work without air; by_cable: whether a lever and a cable park it. Of both the
    drawing shows nothing: they are as declared."""

    name: str
    position: int
    span: Span
    hydraulic: bool = False
    by_cable: bool = False


class Waiver(NamedTuple):
    """One finding accepted with a reason. at: the place as `model/accepting` calls it. until: the last day, or "".

    is_outside: given from outside of the design, by a policy or a baseline; without a place it holds for the rule everywhere.
    """

    rule: str
    at: str
    because: str
    by: str
    span: Span
    until: str = ""
    is_outside: bool = False


class Coupling(NamedTuple):
    """Two heads of a combination joined. ends: the heads' names, as written."""

    ends: tuple[str, str]
    span: Span
