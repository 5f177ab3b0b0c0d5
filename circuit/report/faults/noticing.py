"""What a driver notices of a fault, what to do now, what mends it, and how fast a leak is: words beside a fault's row."""

from collections.abc import Iterable, Iterator, Sequence

from circuit.declaring.kind import OUTSIDE
from circuit.declaring.traits import Trait
from circuit.faults.course import Course
from circuit.faults.effect import GONE, Effect
from circuit.faults.outcome import Outcome
from circuit.faults.single import LEAK
from circuit.faults.sorts import parts_of
from circuit.faults.study import Rank, rank, worst_in
from circuit.faults.times import is_slow
from circuit.model.circuit import Circuit
from circuit.report.faults.mending import AT_ONCE, TOWED, UNHELD, in_unit
from circuit.report.faults.stop import clock
from circuit.report.situations import unit_of
from circuit.report.words import either, listed, verb
from circuit.units import ATMOSPHERE

PULLS = 0.1
"""Share of an axle's force by which one side has to brake more to be felt; our choice."""
NOTHING = "nothing, in ordinary use"
SAID = "nothing in these stops, beyond what is said of the part"
HISS, ELSEWHERE = "a hiss", "a hiss, perhaps at the exhaust of another part"
SPRINGS_ON = "it stands until air or a workshop lets the springs off: wheels chocked first, nobody at the rods"
MOVED = {
    Rank.NO_BRAKE: "it is moved only towed, on a tow bar, by somebody who brakes it",
    Rank.NO_PARKING: "chock it before anybody leaves the seat",
    Rank.STUCK: "let the brakes cool before the hubs are touched",
}


def notices(circuit: Circuit, found: Sequence[Outcome]) -> str:
    """What the driver notices of faults with one outcome: lamp and buzzer, gauges, sounds, how it pulls."""
    effect = found[0].seen
    says = [f"{listed(effect.warned)} {verb(effect.warned, 'lights')} and the buzzer sounds"] if effect.warned else []
    if low := _falling(circuit, effect):
        says.append(f"{listed(low)} {verb(low, 'falls')}")
    if dry := [] if all(is_slow(circuit, each.seen) for each in found) else _unfed(circuit, effect):
        says.append(f"{listed(dry)} {verb(dry, 'falls')} with each stop and {verb(dry, 'does')} not come up again")
    if effect.fills is not None and effect.fills < max((tank.full for tank in effect.tanks), default=0.0):
        says.append(f"the gauges come to no more than {in_unit(effect.fills, unit_of(circuit))}")
    if effect.rising or effect.fills is not None and effect.fills > max((tank.full for tank in effect.tanks), default=0.0):
        blows = ["a safety valve blows"] if effect.rising not in ("", "nothing") else []
        says += [", then ".join([*([] if dry else ["the gauges go past cut-out"]), *blows])] if blows or not dry else []
    if sounds := list(dict.fromkeys(sound for each in found for sound in _sounds(circuit, each))):
        says.append(either([sound for sound in sounds if sound != HISS or ELSEWHERE not in sounds]))
    says += _felt([each.seen for each in found])
    if says and not effect.warned and rank(effect) <= Rank.AIR and effect.unwarned:
        says.append("no lamp and no buzzer")
    if not says and effect.dead:
        return f"only {effect.dead} itself, by whoever looks for it"
    return "; ".join(says) or (SAID if rank(effect) is Rank.NOTHING else NOTHING)


def _unfed(circuit: Circuit, effect: Effect) -> list[str]:
    """Gauges of reservoirs that keep their air and get none any more: a leak alone is no reason, for a compressor beats it."""
    dry = {circuit.store(circuit.by_name[tank.name]) for tank in effect.tanks
           if not (tank.refilled or tank.is_low or tank.is_lost)} if effect.fills is None else set()
    return [gauge.name for gauge in circuit.having(Trait.SHOWS_PRESSURE)
            if circuit.store(gauge) in dry and gauge.name != effect.dead]


def _falling(circuit: Circuit, effect: Effect) -> list[str]:
    low = {circuit.store(circuit.by_name[tank.name]) for tank in effect.tanks if tank.is_low or tank.is_lost}
    return [gauge.name for gauge in circuit.having(Trait.SHOWS_PRESSURE)
            if circuit.store(gauge) in low and gauge.name != effect.dead]


def _sounds(circuit: Circuit, found: Outcome) -> Iterator[str]:
    """What is heard: only what opens a way is, where there is air to come out."""
    effect = found.seen
    at_rest = found.leaks and found.later is not None and not found.later.pedal
    takes = any(tank.is_low or tank.is_lost for tank in effect.tanks) or bool(found.effect.seeps) or at_rest or not all(
        tank.refilled for tank in effect.tanks)
    springs = any(axle.springs > GONE for axle in effect.axles)
    for device, failure in parts_of(circuit, effect.fault):
        exhausts = {port.number for port in device.kind.ports if port.role.name == "EXHAUST"}
        if takes and any(end == OUTSIDE or end in exhausts for _, end in failure.opens):
            pressed = not (springs or at_rest) and all(
                tank.driving > tank.sound - 0.3e5 for tank in effect.tanks if tank.role != "regeneration")
            sound = HISS if failure.share <= LEAK else "air blows out"
            yield f"{sound} while the pedal is down" if pressed and found.course is None else sound
        elif takes and failure.opens and not failure.shuts and failure.share <= LEAK:
            yield ELSEWHERE


def _felt(effects: Sequence[Effect]) -> Iterator[str]:
    """What is felt at the pedal and the wheel."""
    first = effects[0]
    served = [axle for axle in first.axles if axle.served]
    pulls: dict[str, list[str]] = {}
    for effect in effects:
        for axle in effect.axles:
            if abs(axle.pull) > PULLS:
                sides = pulls.setdefault(axle.name, [])
                side = "left" if axle.pull > 0 else "right"
                sides += [side] if side not in sides else []
    for name, sides in pulls.items():
        yield f"it pulls to the {either(sides)} when braking ({name})"
    if not pulls and served and any(axle.service < 0.8 for axle in served):
        yield "it stops less for the same pedal"
    if dragging := [axle.name for axle in first.axles if axle.springs > GONE or axle.drags > GONE]:
        yield f"the brakes of {listed(dragging)} drag and stop it"
    elif held := [axle.name for axle in first.axles if axle.stays > GONE or axle.lifts < 1 - GONE]:
        yield f"{listed(held)} {verb(held, 'does')} not roll free afterwards, and {verb(held, 'grows')} hot"
    if any(axle.sprung and axle.parks < 1 - GONE and axle.stays <= GONE for axle in first.axles):
        yield "parked on a slope it creeps"


def do_now(circuit: Circuit, found: Outcome) -> str:
    """What to do at once, and how it can be moved."""
    effect, at = found.worst, found.rank
    at = rank(effect) if at is Rank.IN_TIME else at
    if at is Rank.TOWED and worst_in(effect) == "parked":
        says = [UNHELD]
    elif circuit.is_towed and at in (Rank.NO_BRAKE, Rank.LESS_BRAKE):
        says = [TOWED]
    else:
        says = [AT_ONCE[at]] if at in AT_ONCE else []
    if any(axle.springs > GONE and axle.lifts < 1 - GONE for axle in found.seen.axles):
        says.append(SPRINGS_ON)
    if at in MOVED:
        says.append(MOVED[at])
    return "; ".join(says)


def mends(circuit: Circuit, found: Sequence[Outcome]) -> str:
    """What mends faults of one outcome, sorts of parts together; the story of each says it of its own part."""
    says: dict[str, None] = {}
    for each in found:
        fault = each.effect.fault
        if fault.exchanged:
            says["each hose on its own head"] = None
        if fault.holds:
            says["the fuse, plug or wire that is dead"] = None
        for device, failure in parts_of(circuit, fault):
            if device.is_line:
                why = "what kinks or fills it" if failure.shuts else "what chafed, burnt or pulled it"
                says[f"a new line, and {why} found"] = None
            elif failure.name.startswith("left-"):
                says[f"the {device.kind.title.lower()} put back as it belongs"] = None
            else:
                says[f"the {device.kind.title.lower()} repaired or new"] = None
    return "; ".join(says)


def leaking(found: Iterable[Outcome], unit: str) -> str:
    """How fast the leaks among some faults are, those that are alike together."""
    same: dict[str, list[str]] = {}
    for each in found:
        if each.course is not None and each.course.rate > 0:
            same.setdefault(_course(each.course, unit), []).append(each.effect.fault.name)
    return "; ".join(f"{listed(names)}: {says}" for says, names in same.items())


def _course(course: Course, unit: str) -> str:
    rate = in_unit(ATMOSPHERE + course.rate, unit)
    if not any(digit in "123456789" for digit in rate):
        rate = f"less than {'1 psi' if unit == 'psi' else '0.1 bar'}"
    warning = f"a warning after {clock(course.warning)}" if course.warning is not None else ""
    springs = f"springs after {clock(course.springs)}" if course.springs is not None else ""
    comes = ", ".join(filter(None, (warning, springs))) or "no warning and no springs until the stop"
    return f"{rate} a minute at first, {comes}"
