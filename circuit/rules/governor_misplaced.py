"""The governor senses the wrong air, or its signal does not reach the compressor.

Why
---
It must sense what the compressor delivers, ahead of the check valves. Behind a check valve it sees one service
reservoir: when that leaks the compressor never rests, and when it holds the rest is starved.

What happens
------------
The compressor runs on until the safety valve blows, or rests while the reservoirs sink.

What is not checked
-------------------
Whether the sense line is free of ice and dirt.

Bad
---
    compressor pump: displacement 12 cfm
    governor gov: cut-in 104 psi, cut-out 125 psi
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    check-valve guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> guard.1: size 1/2 in, length 1 m
    tube guard.2 -> dry: size 1/2 in, length 1 m
    tube dry -> gov.1: size 1/4 in, length 1 m
    tube gov.2 -> pump.4: size 1/4 in, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    governor gov: cut-in 104 psi, cut-out 125 psi
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    check-valve guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> guard.1: size 1/2 in, length 1 m
    tube guard.2 -> dry: size 1/2 in, length 1 m
    tube wet -> gov.1: size 1/4 in, length 1 m
    tube gov.2 -> pump.4: size 1/4 in, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Role, Trait
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Rule, met, not_met, undecided
from circuit.model.circuit import Circuit
from circuit.model.devices import Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    governors = circuit.having(Trait.GOVERNS)
    compressors = circuit.having(Trait.COMPRESSES)
    for compressor in compressors:
        if not governors:
            yield not_met(compressor.name, compressor.span, f"{compressor.name} has no governor: nothing stops it",
                        "add a governor that senses the wet reservoir and works the unloader")
    for governor in governors:
        sense, signal = governor.kind.port("sense"), governor.kind.port("unloader")
        assert sense is not None and signal is not None
        sensed = circuit.space_of(governor, sense.number)
        line = next((d for d in circuit.devices if d.ends and (governor.name, sense.number) in d.ends), governor)
        kept = [tank for tank in circuit.reservoirs
                if tank.settings["role"] not in ("supply", "regeneration")
                and circuit.store(tank) in evidence.zone(sensed)
                and not (evidence.zone(sensed) & set(evidence.sources))
                and not any(circuit.store(w) in evidence.zone(sensed) for w in circuit.reservoirs_for("supply"))]
        unloaded = [c for c in compressors
                    if _unloaders(circuit, c) & evidence.zone(circuit.space_of(governor, signal.number))
                    or _blows_off(evidence, governor, c)]
        if not evidence.filling.is_charged(sensed):
            yield not_met(governor.name, line.span, f"{governor.name} senses no air: port {sense.number} is never charged",
                        f"lead a line from the wet reservoir to {governor.name}.{sense.number}")
        elif kept:
            yield not_met(governor.name, line.span,
                        f"{governor.name} senses {kept[0].name}, behind its check valve, instead of the wet side",
                        f"lead the sense line of {governor.name}.{sense.number} to the wet reservoir or the dryer's outlet",
                        also=((governor.span, "the governor"), (kept[0].span, "what it senses")))
        elif purged := _purged(evidence, sensed):
            yield not_met(governor.name, line.span,
                        f"{governor.name} senses ahead of {purged[0].name}, whose purge empties its sense line each time",
                        f"lead the sense line of {governor.name}.{sense.number} to the wet reservoir or the dryer's outlet",
                        also=((governor.span, "the governor"), (purged[0].span, "what it senses ahead of")))
        elif compressors and not unloaded and not any(_unloaders(circuit, c) for c in compressors):
            yield undecided(governor.name, governor.span, f"{compressors[0].name} has no unloader for {governor.name} to work",
                            "how it stops the compressor is not written in a design")
        elif compressors and not unloaded:
            unloader = next(c for c in compressors if _unloaders(circuit, c))
            yield not_met(governor.name, governor.span,
                        f"the signal of {governor.name} does not reach the unloader of {compressors[0].name}",
                        f"join {governor.name}.{signal.number} to "
                        f"{unloader.name}.{unloader.kind.ports_as(Role.CONTROL)[0].number}",
                        also=((compressors[0].span, "the compressor"),))
        else:
            yield met(governor.name, governor.span,
                      f"{governor.name} senses {evidence.zone_name(sensed)} and works "
                      f"{' and '.join(c.name for c in unloaded)}")


def _purged(evidence: Evidence, sensed: int) -> list[Device]:
    """The dryers whose purge empties a sense line: it stands on the compressor's own line, with no reservoir there."""
    zone, circuit = evidence.zone(sensed), evidence.circuit
    if not zone & set(evidence.sources) or any(circuit.store(tank) in zone for tank in circuit.reservoirs):
        return []
    return [dryer for dryer in circuit.having(Trait.DRIES) if dryer.kind.ports_as(Role.CONTROL) and not dryer.has(Trait.GOVERNS)
            and circuit.store(dryer) in zone]


def _unloaders(circuit: Circuit, compressor: Device) -> set[int]:
    """The spaces in which a signal unloads a compressor; none where it is stopped otherwise."""
    return {circuit.space_of(compressor, port.number) for port in compressor.kind.ports_as(Role.CONTROL)}


def _blows_off(evidence: Evidence, governor: Device, compressor: Device) -> bool:
    """Whether a governor in one body with the dryer rests this compressor by letting its delivery out."""
    circuit = evidence.circuit
    return governor.has(Trait.BLOWS_OFF) and circuit.store(governor) in evidence.zone(circuit.space_of(compressor, "2"))


RULE = Rule("governor-misplaced", "the governor senses the wet side and works the compressor", "error", check)
