"""What a service chamber has to do."""

from collections.abc import Iterator

from circuit.duties.cases import EMPTY, PLAY, SHARE, Cases
from circuit.duties.duty import CAUSES, NO_AIR, Duty, Found, Kept, judged, undecided
from circuit.judging.causes import listed
from circuit.model.devices import Device


def empty(cases: Cases) -> Iterator[Found]:
    for chamber, space in _chambers(cases):
        stands = cases.gauge(cases.driving.air, space)
        yield judged(chamber, stands < EMPTY, cases.driving.says, f"it stands at {cases.says(cases.driving.air, space)}")


def full(cases: Cases) -> Iterator[Found]:
    for chamber, space in _chambers(cases):
        air, least = cases.braking.air, SHARE * cases.full
        if cases.full < EMPTY:
            yield undecided(chamber, "air anywhere with the pedal down")
        else:
            yield judged(chamber, cases.gauge(air, space) >= least, cases.braking.says,
                         f"it comes to {cases.says(air, space)}")


def follows(cases: Cases) -> Iterator[Found]:
    """Half a pedal gives something, and less than the whole."""
    for chamber, space in _chambers(cases):
        whole, half = (cases.gauge(case.air, space) for case in (cases.braking, cases.half))
        if whole < EMPTY:
            yield undecided(chamber, NO_AIR)
            continue
        yield judged(chamber, EMPTY < half < whole - PLAY, cases.half.says,
                     f"it comes to {cases.says(cases.half.air, space)}, and to {cases.says(cases.braking.air, space)} with "
                     "the pedal down")


def empties(cases: Cases) -> Iterator[Found]:
    for chamber, space in _chambers(cases):
        if cases.gauge(cases.braking.air, space) > EMPTY:
            yield judged(chamber, cases.gauge(cases.released.air, space) < EMPTY, cases.released.says,
                         f"{cases.says(cases.released.air, space)} is left")
        else:
            yield undecided(chamber, NO_AIR)


def parked(cases: Cases) -> Iterator[Found]:
    """A driver who has parked still brakes with the pedal."""
    if cases.circuit.is_towed or cases.circuit.is_combination:
        return
    for chamber, space in _chambers(cases):
        if cases.gauge(cases.braking.air, space) > EMPTY:
            yield judged(chamber, cases.gauge(cases.parked_pedal.air, space) > EMPTY, cases.parked_pedal.says,
                         f"it comes to {cases.says(cases.parked_pedal.air, space)}")
        else:
            yield undecided(chamber, NO_AIR)


def alike(cases: Cases) -> Iterator[Found]:
    """The ends of an axle hang on one circuit and get one pressure, whatever is lost."""
    axles: dict[str, list[Device]] = {}
    for chamber, _ in _chambers(cases):
        axles.setdefault(str(chamber.settings["axle"]), []).append(chamber)
    states = (cases.braking, *((f"with {one.name} lost and the pedal down", one.braking) for one in cases.losses))
    for axle in cases.circuit.axles:
        ends = axles.get(axle.name, [])
        if len(ends) < 2:
            continue
        for says, air in states:
            found = [cases.gauge(air, cases.circuit.service_space(end)) for end in ends]
            if max(found) - min(found) > PLAY:
                low = ends[found.index(min(found))]
                yield Found(axle.name, low.span.outermost, Kept.BROKEN, says,
                            f"{low.name} comes to {cases.says(air, cases.circuit.service_space(low))} and the highest of axle "
                            f"{axle.name} to {cases.says(air, cases.circuit.service_space(ends[found.index(max(found))]))}")
                break
        else:
            yield Found(axle.name, axle.span, Kept.KEPT, "with the pedal down, each store lost in turn",
                        f"{listed(end.name for end in ends)} get one pressure")


def left(cases: Cases) -> Iterator[Found]:
    """Whichever store of two or more is lost, some axle still brakes on both ends."""
    circuit = cases.circuit
    if circuit.is_towed or circuit.is_combination or len(cases.losses) < 2 or not cases.evidence.chambers:
        return
    for one in cases.losses:
        sides: dict[str, set[bool]] = {}
        for chamber, space in _chambers(cases):
            sides.setdefault(str(chamber.settings["axle"]), set()).add(cases.gauge(one.braking, space) > EMPTY)
        whole = [axle for axle, found in sides.items() if found == {True}]
        vehicle = circuit.vehicle
        yield Found(vehicle.name, vehicle.span, Kept.KEPT if whole else Kept.BROKEN, f"with {one.name} lost and the pedal down",
                    f"{listed(whole)} still brakes" if whole else "no axle has its service brakes")


def _chambers(cases: Cases) -> Iterator[tuple[Device, int]]:
    return ((chamber, cases.circuit.service_space(chamber)) for chamber in cases.evidence.chambers)


_PLACE = "service chamber"
_UNFED = (*CAUSES, "brake-not-applied", "brake-not-released", "part-backwards", "signals-exchanged", "port-open",
          "governor-misplaced", "reservoir-not-filled", "trailer-signal-from-one-circuit", "control-and-supply-crossed",
          "stored-air-escapes")

DUTIES = (
    Duty("service-chamber-empty", _PLACE, "be empty while driving", empty,
         "feed it from a valve that the service control works", explained_by=(*CAUSES, "brake-not-released",)),
    Duty("service-chamber-full", _PLACE, "get its full share with the pedal down", full,
         "see what on its way holds the air back: follow the line to its valve, and that valve's signal to the pedal",
         explained_by=_UNFED),
    Duty("service-chamber-follows", _PLACE, "follow the pedal by degrees", follows,
         "feed it from a valve that graduates, whose signal is the pedal's",
         explained_by=("service-chamber-full", *_UNFED)),
    Duty("service-chamber-empties", _PLACE, "empty when the pedal is let up", empties,
         "free the exhaust of the valve that feeds it", explained_by=(*CAUSES, "brake-not-released", "exhaust-blocked")),
    Duty("service-chamber-parked", _PLACE, "follow the pedal while parked too", parked,
         "feed its relay from a service reservoir, not from the parking line", explained_by=CAUSES),
    Duty("service-chambers-alike", "axle", "get one pressure on both ends, whatever is lost", alike,
         "join both ends of the axle to one valve", explained_by=(*CAUSES, "circuit-not-as-declared", "brake-not-applied",
                                                                 "brake-not-released", "port-open")),
    Duty("service-brakes-left", "vehicle", "have an axle that brakes, whatever store is lost", left,
         "give the vehicle two service circuits that share nothing", explained_by=(*CAUSES, "circuits-not-separate",
                                                                                 "brake-not-applied")),
)
