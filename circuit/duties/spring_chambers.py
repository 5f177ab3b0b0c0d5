"""What a spring chamber has to do."""

from collections.abc import Iterator

from circuit.duties.cases import PLAY, Cases
from circuit.duties.duty import CAUSES, Duty, Found, judged, undecided
from circuit.model.settling import after
from circuit.model.devices import Device
from circuit.model.loss import emptied_by
from circuit.units import ATMOSPHERE

ON = 1.0e5
"""Pa above the atmosphere under which a spring is on with nearly all its force. Our choice."""


def held(cases: Cases) -> Iterator[Found]:
    for spring, space in _springs(cases):
        air = cases.driving.air
        yield judged(spring, _held(cases, spring, cases.gauge(air, space)), cases.driving.says,
                     f"it is held off with {cases.says(air, space)}")


def still(cases: Cases) -> Iterator[Found]:
    """The pedal alone lets no spring on."""
    for spring, space in _springs(cases):
        if _held(cases, spring, cases.gauge(cases.driving.air, space)):
            for case in (cases.half, cases.braking):
                if not _held(cases, spring, cases.gauge(case.air, space)):
                    yield judged(spring, False, case.says, f"it falls to {cases.says(case.air, space)}")
                    break
            else:
                yield judged(spring, True, cases.braking.says, f"it stays at {cases.says(cases.braking.air, space)}")


def comes_on(cases: Cases) -> Iterator[Found]:
    for spring, space in _springs(cases):
        yield judged(spring, cases.evidence.is_let_on(spring), cases.parked.says,
                     f"{cases.says(cases.evidence.park_applied, space)} is left in it")


def goes_off(cases: Cases) -> Iterator[Found]:
    """What was parked can be driven off again."""
    again = after(cases.evidence.park_applied, cases.driving.air)
    for spring, space in _springs(cases):
        if _held(cases, spring, cases.gauge(cases.driving.air, space)):
            yield judged(spring, _held(cases, spring, cases.gauge(again, space)), "released again after parking",
                         f"it comes to {cases.says(again, space)}")


def kept_off(cases: Cases) -> Iterator[Found]:
    """One store of two lost, the springs stay off until the driver parks."""
    if len(cases.losses) < 2:
        return
    for spring, space in _springs(cases):
        before = cases.gauge(cases.driving.air, space)
        if not _held(cases, spring, before):
            yield undecided(spring, "enough air to hold it off while driving")
            continue
        for one, left, _ in cases.left:
            pressure = 0.0 if space in one.emptied else max(cases.gauge(left, space), cases.gauge(one.driving, space))
            if not _held(cases, spring, pressure):
                yield judged(spring, False, f"with {one.name} lost", "it comes on by itself while another circuit has its air")
                break
        else:
            yield judged(spring, True, "with each store lost in turn", "it stays held off")


def by_hand(cases: Cases) -> Iterator[Found]:
    """One store of two lost, the parking control still lets the springs on."""
    for spring, space in _springs(cases):
        if not cases.evidence.is_let_on(spring):
            yield undecided(spring, "a parking control that lets it on")
            continue
        for one, _, left in cases.left:
            if cases.gauge(left, space) > ON:
                yield judged(spring, False, f"parked with {one.name} lost", f"{cases.says(left, space)} keeps it off")
                break
        else:
            if cases.losses:
                yield judged(spring, True, "parked, with each store lost in turn", "it is let on")


def without_air(cases: Cases) -> Iterator[Found]:
    """All stores lost, the springs come on by themselves; a store of their own may hold them."""
    if cases.circuit.reservoirs_for("parking") or not cases.evidence.chambers:
        return
    stores = (cases.circuit.store(tank) for tank in cases.circuit.reservoirs)
    lost = emptied_by(cases.driving.air, *stores, *cases.evidence.sources)
    for spring, space in _springs(cases):
        if _held(cases, spring, cases.gauge(cases.driving.air, space)):
            yield judged(spring, space in lost, "with all air lost", "it comes on" if space in lost
                         else f"{cases.says(cases.driving.air, space)} keeps it off")


def _springs(cases: Cases) -> Iterator[tuple[Device, int]]:
    return ((spring, cases.circuit.spring_space(spring)) for spring in cases.evidence.springs)


def _held(cases: Cases, spring: Device, pressure: float) -> bool:
    """Whether a gauge pressure holds a spring off; a valve that reduces may stand a little short of it."""
    return pressure >= float(spring.settings["holds-off-at"]) - ATMOSPHERE - PLAY


_PLACE = "spring chamber"
_UNHELD = (*CAUSES, "spring-not-held-off", "part-backwards", "port-open", "reservoir-not-filled", "reservoir-and-springs-crossed",
           "stored-air-escapes", "control-and-supply-crossed")

DUTIES = (
    Duty("spring-held-off", _PLACE, "be held off while driving", held, "bring it the parking control's air",
         explained_by=_UNHELD),
    Duty("spring-not-by-pedal", _PLACE, "stay off when the pedal is pressed", still,
         "take its air from the parking control, and let no service line lower it", explained_by=_UNHELD),
    Duty("spring-comes-on", _PLACE, "come on when parked", comes_on, "let the parking control vent it",
         explained_by=(*CAUSES, "spring-not-applied", "exhaust-blocked")),
    Duty("spring-goes-off", _PLACE, "be held off again when the parking control is released", goes_off,
         "feed the parking control from a store that is always there", explained_by=_UNHELD),
    Duty("spring-kept-off", _PLACE, "stay held off when one store of two is lost", kept_off,
         "feed the parking control from two stores, through a double check valve, or from a store of its own",
         explained_by=(*CAUSES, "springs-fed-from-one-reservoir", "circuits-not-separate", *_UNHELD)),
    Duty("spring-by-hand", _PLACE, "come on with the parking control, whatever store is lost", by_hand,
         "let the parking control vent it in every state", explained_by=(*CAUSES, "spring-not-applied", "exhaust-blocked")),
    Duty("spring-without-air", _PLACE, "come on when all air is lost", without_air,
         "let nothing keep its air in: take the check valve out of its line", explained_by=(*CAUSES, "spring-not-applied",)),
)
