"""A service reservoir loses its air when what feeds it is lost.

Why
---
A burst discharge line, a lost wet reservoir or a trailer that breaks away must cost no more than the refilling. A check
valve at the inlet of each service reservoir system keeps what is stored.

What happens
------------
When the line or reservoir that feeds it breaks, its air flows back out of the break and its brakes are gone with it.

What is not checked
-------------------
How well the check valve seals, and that a workshop has a way to prove it without opening a line.

Bad
---
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> dry: size 1/2 in, length 1 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 12 cfm
    reservoir wet: volume 20 L, rated 10 bar, role supply
    reservoir dry: volume 46 L, rated 10 bar, role service
    check-valve guard
    hose pump.2 -> wet: bore 5/8 in, length 3 m
    tube wet -> guard.1: size 1/2 in, length 1 m
    tube guard.2 -> dry: size 1/2 in, length 1 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 20, stroke 2.25 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.judging.causes import listed, rows
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Mend, Rule, met, not_met
from circuit.model.air import path
from circuit.model.circuit import Circuit
from circuit.model.devices import Device


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    sources = [tank for tank in evidence.supply_reservoirs if tank.settings["role"] != "auxiliary"]
    for group in evidence.stores:
        tank, store = group[0], circuit.store(group[0])
        own, names = evidence.zone(store), listed(each.name for each in group)
        feeding = [other for other in sources
                   if other.settings["role"] != "regeneration" and store not in evidence.zone(circuit.store(other))
                   and store in evidence.filling.fed_by(circuit.store(other), frozenset())]
        feeds = [(circuit.store(other), other.name, other.span) for other in sources
                 if store in evidence.filling.fed_by(circuit.store(other), frozenset())]
        feeds += [(space, circuit.space_name(space), tank.span) for space in evidence.sources
                  if store in evidence.filling.fed_by(space, frozenset())]
        lost = [(name, span) for space, name, span in feeds if store in evidence.emptied(space)]
        if not feeds:
            continue
        if lost:
            name, span = lost[0]
            feed = next(space for space, other, _ in feeds if other == name)
            lines = [way for way in path(evidence.filling, feed, store) or () if way.device.is_line][-3:]
            empty = "empty" if len(group) > 1 else "empties"
            yield not_met(tank.name, tank.span, f"{names} {empty} when {name} is lost: no check valve keeps "
                        f"{'their' if len(group) > 1 else 'its'} air",
                        f"put a check valve in the line to {names}, its port 2 towards {tank.name}",
                        also=(*(((span, "what it is filled from"),) if span is not tank.span else ()),
                              *rows(lines, "its air comes, and goes, by this line")),
                        mend=_with_checks(evidence, group, feed))
        else:
            guards = sorted({way.device.name for way in circuit.ways
                             if way.end in own and way.start not in own and not way.passage.both_ways
                             and way.passage.opening is not None and not way.device.is_line})
            held = f" by {' and '.join(guards)}" if guards else ""
            lost_first = " or ".join(dict.fromkeys(other.name for other in feeding)) or feeds[-1][1]
            yield met(tank.name, tank.span,
                      f"{names} {'are' if len(group) > 1 else 'is'} held{held} when {lost_first} is lost")


def _with_checks(evidence: Evidence, group: tuple[Device, ...], feed: int) -> Mend | None:
    """A check valve in the last line by which each reservoir of a store is filled."""
    circuit = evidence.circuit
    lines: dict[str, str] = {}
    for tank in group:
        chain = [way for way in path(evidence.filling, feed, circuit.store(tank)) or () if way.device.is_line]
        if chain:
            near = circuit.store(tank) if circuit.store(tank) in (chain[-1].start, chain[-1].end) else chain[-1].end
            lines[chain[-1].device.name] = chain[-1].passage.end if chain[-1].end == near else chain[-1].passage.start

    def mended(c: Circuit) -> Circuit:
        for name, end in lines.items():
            c = c.checked(name, end)
        return c

    return mended if lines else None


RULE = Rule("reservoir-not-held", "a check valve guards each service reservoir system from its source", "error", check,
            missing=True)
