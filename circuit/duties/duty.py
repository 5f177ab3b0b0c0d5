"""What a duty is, and what is found of it at a place. Knows nothing of any particular duty."""

from collections.abc import Callable, Iterator
from enum import Enum
from typing import NamedTuple

from circuit.duties.cases import Cases
from circuit.model.devices import Device
from circuit.source import Span


class Kept(Enum):
    """The three answers. Silence is none of them."""

    KEPT = "kept"
    BROKEN = "broken"
    OPEN = "not decided"


class Found(NamedTuple):
    """One place and its duty. place: a part, an axle or the vehicle. when: the state that breaks it, or that it was held in.
    says: what stands there, or what is missing."""

    place: str
    at: Span
    kept: Kept
    when: str
    says: str


class Duty(NamedTuple):
    """One thing that a sort of place has to do.

    name: unique, with hyphens. place: the sort of place. does: what it has to do, to be read after `has to`. judge:
    yields what is found, one for each place that has the duty. mend: what to do where it is broken. severity: of the finding.
    explained_by: rules and other duties whose findings say why it is broken, so that it is not said twice.
    """

    name: str
    place: str
    does: str
    judge: Callable[[Cases], Iterator[Found]]
    mend: str
    severity: str = "error"
    explained_by: tuple[str, ...] = ()


CAUSES = ("brake-valve-fed", "signal-comes", "signal-goes", "relay-fed-from-store")
"""Duties of valves, which explain what is broken behind them."""
NO_AIR = "air to it with the pedal down"
"""What is missing where a duty is about the air that the pedal gives."""


class Entry(NamedTuple):
    """A duty and what was found of it at one place."""

    duty: Duty
    found: Found

    @property
    def is_broken(self) -> bool:
        return self.found.kept is Kept.BROKEN


def kept(device: Device, when: str, says: str) -> Found:
    return Found(device.name, device.span.outermost, Kept.KEPT, when, says)


def broken(device: Device, when: str, says: str) -> Found:
    return Found(device.name, device.span.outermost, Kept.BROKEN, when, says)


def undecided(device: Device, missing: str) -> Found:
    return Found(device.name, device.span.outermost, Kept.OPEN, "", missing)


def judged(device: Device, holds: bool, when: str, says: str) -> Found:
    return kept(device, when, says) if holds else broken(device, when, says)
