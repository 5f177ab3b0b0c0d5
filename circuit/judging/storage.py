"""What the stores of a circuit give to an application, and how a compressor fills them, without an integrator."""

from collections.abc import Callable, Iterable
from functools import lru_cache
from math import inf
from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.gas.drawdown import Application, applications, filling_time
from circuit.judging.evidence import Evidence
from circuit.judging.volumes import counted_volume
from circuit.model.air import Air
from circuit.model.settling import charged
from circuit.model.devices import Device
from circuit.units import ATMOSPHERE

MODEL = "predicted: isothermal, chambers at working stroke, lines and valves counted"
"""How `Draw` counts, beside every figure that comes of it."""


class Draw(NamedTuple):
    """What a store's air fills when the brakes are applied.

    tanks: the store's reservoirs. chambers: those it serves. taken: m3 at an absolute pressure, lines included.
    """

    tanks: tuple[Device, ...]
    chambers: tuple[Device, ...]
    taken: Callable[[float], float]

    @property
    def name(self) -> str:
        return "+".join(tank.name for tank in self.tanks)

    @property
    def volume(self) -> float:
        return sum(float(tank.settings["volume"]) for tank in self.tanks)

    @property
    def plain_ratio(self) -> float:
        """Reservoir over chambers at full stroke, as the volume rules count."""
        full = sum(counted_volume(chamber) for chamber in self.chambers)
        return self.volume / full if full else inf

    def after(self, start: float, times: int, demand: float = inf) -> tuple[Application, ...]:
        """Applications from an absolute pressure without feed, the brakes getting no more than `demand`."""
        return applications(self.volume, start, self.taken, times, demand)


@lru_cache(maxsize=4)
def draws(evidence: Evidence, towed: float = 0.0) -> tuple[Draw, ...]:
    """The service stores, worked out once for several rules.

    towed: m3 on each control head to a trailer; then only the stores that feed one.
    """
    heads = {evidence.circuit.store(head) for head in evidence.rear_heads if head.settings["line"] == "control"}
    found = []
    for group in evidence.stores if not towed else _each(evidence):
        spaces = filled(evidence, group, evidence.braking, evidence.driving)
        if towed and not heads & spaces:
            spaces = filled(evidence, group, evidence.braking_without(_zones(evidence, group)), evidence.driving)
        chambers = tuple(c for c in evidence.chambers if evidence.circuit.service_space(c) in spaces)
        if towed and heads & spaces:
            found.append(Draw(group, chambers, taking(evidence, spaces, towed * len(heads & spaces))))
        elif not towed and chambers:
            found.append(Draw(group, chambers, taking(evidence, spaces)))
    return tuple(found)


def spring_draws(evidence: Evidence) -> tuple[Draw, ...]:
    """The stores that lift the springs, gathered as one draw: they do it in turn, the fuller one first.

    A towed vehicle's are those that lift them while it is uncoupled and its park control released.
    """
    circuit = evidence.circuit
    springs = {circuit.spring_space(spring) for spring in evidence.springs}
    tanks: list[Device] = []
    spaces: frozenset[int] = frozenset()
    lifting = _uncoupled(evidence) if circuit.is_towed else evidence.driving
    for group in _each(evidence):
        now = lifting
        reached = filled(evidence, group, now, evidence.park_applied_long)
        if not reached & springs and not circuit.is_towed:
            now = evidence.driving_without(_zones(evidence, group))
            reached = filled(evidence, group, now, evidence.park_applied_long)
        if reached & springs:
            tanks += group
            # The service brakes of an uncoupled trailer are on by themselves; they are let go before it is moved.
            spaces |= {space for space in now.leading_to(springs, reached)
                       if evidence.driving.is_charged(space) or not evidence.braking.is_charged(space)}
    return (Draw(tuple(tanks), (), taking(evidence, spaces)),) if tanks else ()


def _zones(evidence: Evidence, group: tuple[Device, ...]) -> frozenset[int]:
    """The spaces of all stores but one.

    A shuttle between two circuits rests on one of them: with the others empty each shows what it would give.
    """
    return frozenset().union(*(evidence.zone(evidence.circuit.store(tank)) for other in _each(evidence)
                               if other != group for tank in other))


def _uncoupled(evidence: Evidence) -> Air:
    """A towed vehicle with no vehicle before it and its park control released: only its reservoirs feed."""
    circuit = evidence.circuit
    for head in circuit.having(Trait.COUPLES_VEHICLES):
        if head.settings["end"] == "front":
            circuit = circuit.with_setting(circuit.by_name[head.name], "loose", 1.0)
    return charged(circuit, "driving", filling=evidence.filling)


def _each(evidence: Evidence) -> list[tuple[Device, ...]]:
    """All reservoirs in groups that are one store, whatever they are for; not those that no brake may draw on."""
    groups: dict[frozenset[int], list[Device]] = {}
    for tank in evidence.circuit.reservoirs:
        if tank.settings["role"] not in ("auxiliary", "regeneration", "supply"):
            groups.setdefault(evidence.zone(evidence.circuit.store(tank)), []).append(tank)
    return [tuple(group) for group in groups.values()]


def filled(evidence: Evidence, group: Iterable[Device], now: Air, before: Air) -> frozenset[int]:
    """The spaces that a store fills on the way from one state of rest to another."""
    circuit = evidence.circuit
    own = {circuit.store(tank) for tank in group}
    others = frozenset(circuit.store(tank) for tank in circuit.reservoirs) - own
    reached = frozenset().union(*(now.fed_by(store, others) for store in own))
    return frozenset(space for space in reached - own if now.is_charged(space) and not before.is_charged(space))


def taking(evidence: Evidence, spaces: frozenset[int], more: float = 0.0) -> Callable[[float], float]:
    """The volume of some spaces by absolute pressure, m3: brakes at their working stroke once they have air."""
    circuit = evidence.circuit
    steady, rest, stroke = more, 0.0, 0.0
    grows = []
    for device in circuit.devices:
        for store in device.kind.stores:
            if circuit.space_of(device, store.port) not in spaces:
                continue
            settings = device.settings
            if device.has(Trait.SERVICE_ACTUATOR) and store.port == device.kind.ports[0].number:
                rest += settings["prefill"]
                stroke += settings["area"] * settings["working-stroke"]
            elif store.knots is not None:
                grows.append((store, settings))
            else:
                steady += store.volume(settings, ATMOSPHERE)

    def volume(pressure: float) -> float:
        moved = stroke if pressure > ATMOSPHERE else 0.0
        return steady + rest + moved + sum(store.volume(settings, pressure) for store, settings in grows)

    return volume


def compressor_fill(evidence: Evidence, volume: float, start: float, end: float) -> float:
    """Seconds in which the circuit's compressors take a volume from one absolute pressure to another, or inf."""
    sources = [(device, device.kind.source) for device in evidence.circuit.having(Trait.COMPRESSES)
               if device.kind.source is not None]
    rate = 0.0
    for device, source in sources:
        s = device.settings
        taken = filling_time(volume, start, end, s[source.displacement], s[source.clearance], s[source.efficiency])
        rate += 1 / taken if taken else inf
    return 1 / rate if rate else inf


def normal_pressure(evidence: Evidence) -> float | None:
    """Absolute Pa: what the maker declares for the tests of stored energy, else the governor's cut-in, else None."""
    declared = evidence.circuit.vehicle.declared.get("starts-at")
    if declared is not None:
        return declared
    return min((g.settings["cut-in"] for g in evidence.circuit.having(Trait.GOVERNS)), default=None)


def cut_out(evidence: Evidence) -> float | None:
    """The governor's cut-out, absolute Pa, or None where none is written."""
    return min((g.settings["cut-out"] for g in evidence.circuit.having(Trait.GOVERNS)), default=None)
