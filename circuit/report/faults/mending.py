"""What to do about a fault: the driver at once, the workshop afterwards, and how it proves its work."""

from collections.abc import Iterable

from circuit.declaring.kind import OUTSIDE
from circuit.declaring.proving import proof
from circuit.declaring.traits import Trait
from circuit.draw.pressure import written
from circuit.faults.effect import Effect
from circuit.faults.pairs import Pair, pair_of
from circuit.faults.sorts import parts_of
from circuit.faults.study import Rank, Study, rank, worst_in
from circuit.faults.times import is_slow
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.report.situations import unit_of
from circuit.report.words import FAST

AT_ONCE = {
    Rank.NO_BRAKE: "there is no service brake: stop with what springs give, or the park control by degrees, and do not drive on",
    Rank.LESS_BRAKE: "stop as soon as it can be done safely, and do not drive on: what is left is for this stop",
    Rank.NO_PARKING: "do not leave it unchocked, on any slope",
    Rank.STUCK: "do not drive on with a brake that drags: it heats until it burns or fails",
    Rank.TOWED: "stop as soon as it can be done safely, and do not tow on",
    Rank.WEAKER: "drive gently, no further than to a workshop",
    Rank.AIR: "stop where it is safe while there is air, and do not drive on until it is mended",
    Rank.RISING: "stop the engine: what a compressor that does not rest pumps, only a safety valve lets out",
    Rank.BLIND: "have it mended before the next trip: it is there for the fault that comes next",
}
TOWED = "the towing vehicle brakes alone: stop as soon as it can be done safely, and do not tow on"
UNHELD = "do not leave it parked with anything behind it that is not chocked: what is towed is not told to park, or not to let go"
TIGHT = (f"then prove it: wheels chocked, filled to cut-out, engine off; with the brakes released no more than "
         f"2{FAST}psi (0.14{FAST}bar) go in a minute, with the pedal down 3{FAST}psi (0.2{FAST}bar); a combination "
         f"may lose 1{FAST}psi (0.07{FAST}bar) more (49{FAST}CFR{FAST}570.57)")

PROVED = "everything full, wheels chocked, park control released, engine off"
"""How a vehicle stands when a hidden fault is looked for."""


def mending(study: Study, effect: Effect) -> Iterable[str]:
    """What to do, in sentences without their capital and full stop."""
    circuit, fault, at = study.circuit, effect.fault, rank(effect)
    if at is Rank.TOWED and worst_in(effect) == "parked":
        yield UNHELD
    elif at in AT_ONCE:
        yield TOWED if circuit.is_towed and at in (Rank.NO_BRAKE, Rank.LESS_BRAKE) else AT_ONCE[at]
    failures = [(circuit.by_name[name], f) for name, failure in fault.parts
                for f in circuit.by_name[name].kind.failures if f.name == failure]
    for device, failure in failures:
        yield f"to know that it is this: {proof(device.kind, failure)}"
        yield repair(device, failure.name, failure.says)
    if fault.exchanged:
        yield "put each hose on its own head: supply on supply, control on control"
    if fault.holds:
        yield "find the fuse, plug or wire that is dead"
    if any(OUTSIDE in ends for _, failure in failures for ends in failure.opens):
        yield TIGHT
    elif at in (Rank.UNGUARDED, Rank.NOTHING, Rank.BLIND) and fault.parts:
        pair = pair_of(study, effect)
        if pair is not None:
            yield f"prove it at every service, {PROVED}: {proving(study, pair, unit_of(circuit))}"


def repair(device: Device, failure: str, says: str) -> str:
    """What a workshop does about one part."""
    if device.is_line:
        made = ", ".join(device.given[name].text for name in ("size", "bore", "length") if name in device.given)
        what = "what kinks or fills it" if failure == "blocked" else "what chafed, burnt or pulled it"
        return f"renew {device.title}" + (f" ({made})" if made else "") + f", and find {what}"
    if device.has(Trait.COUPLES_VEHICLES):
        return f"look at the seal and the lock of {device.name} and at how its hose hangs, and couple it again"
    return f"renew or repair {device.name}, the {device.kind.title.lower()}: {says}"


def order(study: Study, second: Effect) -> str:
    """How a workshop does a second fault on purpose."""
    circuit, fault = study.circuit, second.fault
    device = circuit.by_name[fault.device]
    if device.has(Trait.STORES_AIR):
        return f"empty {device.name} by its drain"
    if device.has(Trait.COMPRESSES):
        return "let the engine stand"
    if device.has(Trait.COUPLES_VEHICLES):
        return f"uncouple {device.name}"
    if device.has(Trait.SWITCHED_BY_CURRENT):
        return f"give {device.name} current"
    zones = [study.whole.zone(space) for _, space in circuit.spaces_of[device.name] if space != SPACE_OUTSIDE]
    point = next((each.name for each in circuit.having(Trait.TESTS_PRESSURE)
                  if any(circuit.store(each) in zone for zone in zones)), None)
    return f"open {point}" if point else f"put a cock on {device.title} while it is empty, fill, and open the cock"


def proving(study: Study, pair: Pair, unit: str) -> str:
    """How a workshop shows whether a hidden fault is there: a second one made on purpose, and what to look at."""
    return "; ".join(filter(None, proof_of(study, pair, unit)))


def proof_of(study: Study, pair: Pair, unit: str) -> tuple[str, str]:
    """What a workshop does on purpose, empty where a part is proved by itself, and what it looks at."""
    second, shows = pair.test or (pair.second, pair.differs)
    first = pair.first.fault
    if second.rising and first.parts:  # nobody lets a vehicle burst for a proof
        device, failure = parts_of(study.circuit, first)[0]
        return "", proof(device.kind, failure)
    waits = f"wait ten{FAST}minutes" if first.parts and is_slow(study.circuit, pair.first) else ""
    steps = ", ".join(filter(None, (order(study, second), waits, shows.by)))
    if shows.kept is None:
        return steps, f"{shows.place} must {shows.sound}, with {first.device} faulty {shows.faulty}"
    sound, left = (in_unit(pressure, unit) for pressure in shows.kept)
    return steps, (f"{shows.place} must {shows.sound} {sound} ({_read_at(study, shows.place)}), with {first.device} faulty "
                   f"{shows.faulty} {left}")


def _read_at(study: Study, tank: str) -> str:
    """Where a reservoir's pressure is read."""
    circuit = study.circuit
    zone = study.whole.zone(circuit.store(circuit.by_name[tank]))
    for trait, how in ((Trait.SHOWS_PRESSURE, "read {}"), (Trait.TESTS_PRESSURE, "a gauge on {}")):
        found = next((device.name for device in circuit.having(trait) if circuit.store(device) in zone), None)
        if found is not None:
            return how.format(found)
    return "a test gauge in its drain hole"


def in_unit(pressure: float, unit: str) -> str:
    """An absolute pressure as a gauge shows it, with its unit."""
    return f"{written(pressure, unit)}{FAST}{unit}"
