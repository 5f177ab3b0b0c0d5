"""The hands of a page: whatever a driver, a fitter or a test rig can move in a circuit, and how a trial writes it down."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.sim import Action, couple, feed, move, open_up, press, shut, uncouple
from circuit.sim.script import start_engine, stop_engine
from circuit.sim.sums import variables
from circuit.sim.timetable import driven
from circuit.studies.hands import fed_heads
from circuit.units import ATMOSPHERE

MOST_FED = 10e5
"""Gauge Pa that a rig feeds at most; our choice."""


_REACHED = frozenset({Trait.PARK_CONTROL, Trait.PROTECTS_TOWING, Trait.TRAILER_HAND_CONTROL, Trait.SERVICE_CONTROL})


class Way(NamedTuple):
    """One way to put a hand. says: how it then stands. action: done for it. trial: the row of a trial; empty where the
    hand goes by degrees and the page writes it."""

    says: str
    action: Action
    trial: str


class Hand(NamedTuple):
    """Something that moves. sort: `pedal` springs back, `slide` stays by degrees, `knob` has two ways, `choice` several,
    `feed` is a pressure, `engine` turns. variable: the input it is read from. low, high: of what goes by degrees.
    trial: how such a row begins. driver: whether it is within the driver's reach."""

    part: str
    sort: str
    label: str
    variable: tuple[str, str]
    ways: tuple[Way, ...]
    low: float = 0.0
    high: float = 1.0
    trial: str = ""
    driver: bool = False


def hands(circuit: Circuit) -> list[Hand]:
    """Every hand of a circuit, the driver's first."""
    found = [hand for device in circuit.devices for hand in _of_part(circuit, device)]
    found += _engine(circuit)
    found += [hand for ends in circuit.couplings for hand in _coupling(circuit.by_name[ends.ends[0]], "coupled to")]
    for line in ("supply", "control"):
        for head in fed_heads(circuit, line):
            found += [_feed(circuit, head), *_coupling(head, "coupled")]
    order = ("pedal", "feed", "slide", "knob", "engine", "choice")  # feeds before what takes them off
    reached = {device.name for device in circuit.devices if device.kind.traits & _REACHED}
    parking = {device.name for device in circuit.having(Trait.PARK_CONTROL)}
    found = [hand._replace(driver=hand.part in reached) for hand in found]
    return sorted(found, key=lambda hand: (hand.sort not in ("pedal", "feed") and hand.part not in parking,
                                           order.index(hand.sort)))


def _of_part(circuit: Circuit, device: Device) -> Iterator[Hand]:
    if device.has(Trait.SHUTS_BY_HAND) or device.has(Trait.DRAINS_WATER):
        variable = "stands open" if device.has(Trait.SHUTS_BY_HAND) else "open"
        yield Hand(device.name, "knob", "tap", (device.name, variable), (
            Way("shut", shut(device.name, 0.0), f"shut {device.name}"),
            Way("open", open_up(device.name, 0.0), f"open {device.name}")))
        return
    if device.has(Trait.COUPLES_VEHICLES):
        return
    by_itself = {latch.variable for latch in device.kind.latches if latch.sets is not None}
    degrees = {each.by for each in device.kind.graduated}
    for variable in variables(device):
        if variable in by_itself:
            continue
        if device.kind.positions:
            yield _choice(device, variable)
        elif variable in degrees and driven(device) == variable:
            braking = variable in device.kind.when.get("braking", {})
            yield Hand(device.name, "pedal" if braking else "slide", variable, (device.name, variable),
                       (Way("", press(device.name, 1.0, 0.0), ""),), trial=f"press {device.name}: to")
        elif device.kind.traits & {Trait.LEVELS, Trait.SENSES_LOAD} and variable == next(iter(device.kind.rest)):
            low = -1.0 if device.has(Trait.LEVELS) else 0.0
            yield Hand(device.name, "slide", variable, (device.name, variable),
                       (Way("", move(device.name, variable, 1.0, 0.0), ""),), low, 1.0, f"set {device.name}: state")
        else:
            yield _knob(device, variable)


def _choice(device: Device, variable: str) -> Hand:
    return Hand(device.name, "choice", variable, (device.name, variable), tuple(
        Way(word, move(device.name, variable, values[variable], 0.0), f"set {device.name}: state {word}")
        for word, values in device.kind.positions.items()))


def _knob(device: Device, variable: str) -> Hand:
    pushed = variable.endswith("pushed")
    words = ("pulled out", "pushed in") if pushed else (f"not {variable}", variable)
    label = variable.removesuffix("pushed").strip("-") or "knob" if pushed else variable
    return Hand(device.name, "knob", label, (device.name, variable), tuple(
        Way(says, move(device.name, variable, value, 0.0), f"set {device.name}: state {'' if value else 'not '}{variable}")
        for says, value in zip(words, (0.0, 1.0))))


def _engine(circuit: Circuit) -> Iterator[Hand]:
    turning = circuit.having(Trait.COMPRESSES)
    if turning:
        yield Hand("", "engine", "engine", (turning[0].name, "turns"), (
            Way("off", stop_engine(0.0), "set engine: state off"),
            Way("running", start_engine(0.0), "set engine: state running")), 0.0, 1.5, "set engine: state")


def _feed(circuit: Circuit, head: Device) -> Hand:
    port = next(port for situation in ("driving", "braking") for port in head.kind.feeds(head.settings, situation))
    return Hand(head.name, "feed", f"{head.settings['line']} line", (f"{head.name}.{port}", "pressure"),
                (Way("", feed(head.name, ATMOSPHERE, 0.0), ""),), 0.0, MOST_FED, f"feed {head.name}: to")


def _coupling(head: Device, variable: str) -> Iterator[Hand]:
    yield Hand(head.name, "knob", "coupling", (head.name, variable), (
        Way("taken off", uncouple(head.name, 0.0), f"uncouple {head.name}"),
        Way("coupled", couple(head.name, 0.0), f"couple {head.name}")))


def as_data(found: list[Hand], deeds: tuple[Any, ...], inputs: dict[tuple[str, str], int]) -> Iterator[dict[str, Any]]:
    """Hands for the page. deeds: what each way of each does, in order. inputs: their places."""
    place = 0
    for hand in found:
        mine = deeds[place:place + len(hand.ways)]
        place += len(hand.ways)
        if hand.variable not in inputs:
            continue
        yield {"part": hand.part, "sort": hand.sort, "label": hand.label, "slot": inputs[hand.variable], "low": hand.low,
               "high": hand.high, "driver": hand.driver, "trial": hand.trial,
               "ways": [[way.says, way.trial, deed] for way, deed in zip(hand.ways, mine, strict=True)]}
