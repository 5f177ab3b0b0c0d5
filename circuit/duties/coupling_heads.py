"""What a coupling head to a trailer has to do."""

from collections.abc import Iterator

from circuit.declaring.traits import Role, Trait
from circuit.duties.cases import EMPTY, PLAY, SHARE, Cases
from circuit.duties.duty import CAUSES, NO_AIR, Duty, Found, judged, undecided
from circuit.model.devices import Device


def control_empty(cases: Cases) -> Iterator[Found]:
    for head, space in _rear(cases, "control"):
        yield judged(head, cases.gauge(cases.driving.air, space) < EMPTY, cases.driving.says,
                     f"it stands at {cases.says(cases.driving.air, space)}")


def control_full(cases: Cases) -> Iterator[Found]:
    for head, space in _rear(cases, "control"):
        if cases.full > EMPTY:
            air = cases.braking.air
            yield judged(head, cases.gauge(air, space) >= SHARE * cases.full, cases.braking.says,
                         f"it comes to {cases.says(air, space)}")


def control_follows(cases: Cases) -> Iterator[Found]:
    for head, space in _rear(cases, "control"):
        whole, half = (cases.gauge(case.air, space) for case in (cases.braking, cases.half))
        if whole > EMPTY:
            yield judged(head, EMPTY < half < whole - PLAY, cases.half.says,
                         f"it comes to {cases.says(cases.half.air, space)}, and to "
                         f"{cases.says(cases.braking.air, space)} with the pedal down")
        else:
            yield undecided(head, NO_AIR)


def control_empties(cases: Cases) -> Iterator[Found]:
    for head, space in _rear(cases, "control"):
        if cases.gauge(cases.braking.air, space) > EMPTY:
            yield judged(head, cases.gauge(cases.released.air, space) < EMPTY, cases.released.says,
                         f"{cases.says(cases.released.air, space)} is left")
        else:
            yield undecided(head, NO_AIR)


def control_left(cases: Cases) -> Iterator[Found]:
    """One store of two lost, the pedal still brakes the trailer."""
    if len(cases.losses) < 2:
        return
    for head, space in _rear(cases, "control"):
        for one in cases.losses:
            if cases.gauge(one.braking, space) <= EMPTY:
                yield judged(head, False, f"with {one.name} lost and the pedal down", "no air comes to it")
                break
        else:
            yield judged(head, True, "with the pedal down, each store lost in turn", "it gets air")


def control_by_hand(cases: Cases) -> Iterator[Found]:
    case = cases.by_hand
    if case is None:
        return
    for head, space in _rear(cases, "control"):
        yield judged(head, cases.gauge(case.air, space) > EMPTY, case.says, f"it comes to {cases.says(case.air, space)}")


def hand_alone(cases: Cases) -> Iterator[Found]:
    """The trailer's hand valve brakes nothing of the towing vehicle."""
    case = cases.by_hand
    if case is None or cases.circuit.is_combination:
        return
    for lever in cases.circuit.having(Trait.TRAILER_HAND_CONTROL):
        own = [chamber for chamber in cases.evidence.chambers
               if cases.gauge(case.air, cases.circuit.service_space(chamber)) > EMPTY]
        yield judged(lever, not own, case.says,
                     f"it brakes {', '.join(c.name for c in own)} too" if own else "it brakes the trailer alone")


def supply_full(cases: Cases) -> Iterator[Found]:
    for head, space in _rear(cases, "supply"):
        for case in (cases.driving, cases.braking):
            if cases.gauge(case.air, space) < SHARE * cases.full:
                yield judged(head, False, case.says, f"it stands at {cases.says(case.air, space)}")
                break
        else:
            yield judged(head, True, "driving and braking", f"it stands at {cases.says(cases.driving.air, space)}")


def supply_follows_front(cases: Cases) -> Iterator[Found]:
    """What hangs behind a towed vehicle is let go with it: its rear supply head empties with the front one."""
    if not cases.circuit.is_towed:
        return
    for head, space in _rear(cases, "supply"):
        left = cases.gauge(cases.evidence.park_applied, space)
        yield judged(head, left < EMPTY, "uncoupled", f"{cases.says(cases.evidence.park_applied, space)} is left")


def _rear(cases: Cases, line: str) -> Iterator[tuple[Device, int]]:
    """The heads of a line to a trailer, each with the space that its air comes to; of a combination each vehicle's own file
    is judged for them."""
    heads = () if cases.circuit.is_combination else cases.evidence.rear_heads
    return ((head, _fed(cases, head)) for head in heads if head.settings["line"] == line)


def _fed(cases: Cases, head: Device) -> int:
    """The space of the head that faces its own vehicle."""
    ports = head.kind.ports_as(Role.SPACE, Role.SUPPLY) or head.kind.ports
    return cases.circuit.space_of(head, ports[0].number)


_CONTROL, _SUPPLY = "control head", "supply head"
_CROSSED = (*CAUSES, "coupling-lines-crossed", "control-and-supply-crossed", "heads-crossed", "coupling-line-missing",
            "trailer-signal-from-one-circuit", "trailer-signal-by-load", "cock-in-coupling-line", "stored-air-escapes",
            "towing-vehicle-not-protected", "trailer-braked-alone")

DUTIES = (
    Duty("control-head-empty", _CONTROL, "be empty while driving", control_empty,
         "feed it from a valve that the pedal works, with all its signals joined", explained_by=_CROSSED),
    Duty("control-head-full", _CONTROL, "get its full pressure with the pedal down", control_full,
         "lead the pedal's signal to it", explained_by=_CROSSED),
    Duty("control-head-follows", _CONTROL, "follow the pedal by degrees", control_follows,
         "feed it from a valve that graduates", explained_by=_CROSSED),
    Duty("control-head-empties", _CONTROL, "empty when the pedal is let up", control_empties,
         "free the exhaust of the valve that feeds it", explained_by=(*CAUSES, "exhaust-blocked", *_CROSSED)),
    Duty("control-head-left", _CONTROL, "follow the pedal, whichever store is lost", control_left,
         "take its signal from both service circuits", explained_by=_CROSSED),
    Duty("control-head-by-hand", _CONTROL, "get air from the trailer's hand valve", control_by_hand,
         "join the hand valve to the trailer's signal", explained_by=_CROSSED),
    Duty("hand-brakes-trailer-alone", "trailer hand valve", "brake nothing but the trailer", hand_alone,
         "join its delivery to the trailer's signal only"),
    Duty("supply-head-full", _SUPPLY, "be full while driving and braking", supply_full,
         "lead the towing vehicle's air to it", explained_by=_CROSSED),
    Duty("supply-head-lets-go", _SUPPLY, "empty when its vehicle is uncoupled", supply_follows_front,
         "lead the front supply line straight through to it", explained_by=_CROSSED),
)
