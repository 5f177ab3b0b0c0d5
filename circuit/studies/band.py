"""A run made three times: with every valve and line letting as much, less and more through than assumed."""

from typing import Any, NamedTuple

from circuit.judging.assumed import Assumed, titles_of
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.sim import Script, Variant
from circuit.studies.once import simulate_many

SPREAD = 0.2
"""How far the flow of valves and tubes is taken to scatter; our choice, part data without a source scatter so."""
QUICK = 1.2
"""Exponent of changes that are over in a second or two, between no heat passing (1.4) and all of it (1): common
practice, 1.15 to 1.25."""

class Band(NamedTuple):
    """A figure with what it becomes at the two ends of the spread; None where it is never reached."""

    value: float | None
    slow: float | None
    quick: float | None


def thrice(circuit: Circuit, script: Script, until: float, **how: Any) -> tuple[Trace, Trace, Trace]:
    """A run at the middle, with less flow and with more, in one batch. how: as of `simulate`."""
    ends = [Variant("as assumed"), Variant("less flow", flow=1 - SPREAD), Variant("more flow", flow=1 + SPREAD)]
    middle, less, more = simulate_many(circuit, script, ends, until, **how)
    return middle, less, more


BESIDE = frozenset({"axle", "side", "on", "ends", "near", "rated", "deliveries", "supplies", "holes", "placed",
                     "state"})
"""Settings that say where a part is, not how the air goes."""


SPRINGS = frozenset({"spring-force", "spring-volume", "holds-off-at"})
"""Settings of a spring, which a service application does not move."""


def assumed_of(circuit: Circuit, names: "set[str] | frozenset[str]", leaving_out: frozenset[str] = frozenset()
               ) -> tuple[Assumed, ...]:
    """The assumed values of some devices that steer the air, alike ones named once. leaving_out: settings."""
    found: dict[tuple[str, str, str], list[str]] = {}
    sources: dict[tuple[str, str, str], str] = {}
    for device, setting, given in circuit.assumed:
        declared = device.kind.setting(setting)
        if device.name not in names or setting in BESIDE | leaving_out or declared is None:
            continue
        if declared.dimension in ("word", "text", "name"):
            continue
        key = (device.kind.name, setting, given.text)
        found.setdefault(key, []).append(device.title)
        sources[key] = given.source
    return tuple(Assumed(titles_of(titles), setting, text, sources[kind, setting, text])
                 for (kind, setting, text), titles in found.items())
