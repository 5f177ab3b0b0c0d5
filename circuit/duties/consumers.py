"""What takes air for other purposes than braking has to get it, and to leave the brakes alone."""

from collections.abc import Iterator

from circuit.declaring.traits import Role, Trait
from circuit.duties.cases import EMPTY, PLAY, Cases
from circuit.duties.duty import Duty, Found, judged
from circuit.model.devices import Device

FULL = 0.97
"""Share of the pressure of its store from which a bag counts as open to it. Our choice."""


def gets_air(cases: Cases) -> Iterator[Found]:
    for user, spaces in _users(cases):
        most = max(cases.range_of(space)[1] for space in spaces)
        yield judged(user, most > EMPTY, "in any state of hands, feet and switches",
                     "no air ever comes to it" if most < EMPTY else "air comes to it")


def unmoved(cases: Cases) -> Iterator[Found]:
    """The pedal gives it no air."""
    for user, spaces in _users(cases):
        moved = any(cases.gauge(cases.braking.air, space) > cases.gauge(cases.driving.air, space) + PLAY for space in spaces)
        yield judged(user, not moved, cases.braking.says, "it hangs on a line that the pedal works: what it takes is taken from "
                     "the brakes" if moved else "the pedal gives it no air")


def let_go(cases: Cases) -> Iterator[Found]:
    """What air moves is empty in some state: air that is always there holds it for ever."""
    for user in cases.circuit.having(Trait.MOVES):
        least = [cases.range_of(cases.circuit.space_of(user, port.number), (*cases.handled, *cases.worked))[0]
                 for port in user.kind.ports_as(Role.SPACE)]
        yield judged(user, max(least) < EMPTY, "in every state of hands, feet and switches",
                     "a side of it stands full" if max(least) >= EMPTY else "each side is let go in some state")


def levelled(cases: Cases) -> Iterator[Found]:
    """A bag that carries the body is filled by what reads its height, or by what holds a lower pressure."""
    if not cases.circuit.having(Trait.LEVELS):
        return
    for bag in cases.circuit.having(Trait.CARRIES_BODY):
        space, air = cases.circuit.store(bag), cases.driving.air
        most = max((cases.gauge(air, cases.circuit.store(tank)) for tank in cases.circuit.reservoirs), default=0.0)
        yield judged(bag, cases.gauge(air, space) < FULL * most - PLAY or most < EMPTY, cases.driving.says,
                     f"it stands at {cases.says(air, space)}")


def _users(cases: Cases) -> Iterator[tuple[Device, list[int]]]:
    for user in cases.circuit.having(Trait.USES_AIR):
        spaces = [cases.circuit.space_of(user, port.number) for port in user.kind.ports_as(Role.SPACE)]
        if spaces:
            yield user, spaces


_PLACE = "user of air"

DUTIES = (
    Duty("user-gets-air", _PLACE, "get air in some state", gets_air, "lead air to it", "warning",
         ("port-open", "part-backwards", "reservoir-not-filled", "auxiliary-not-protected", "stored-air-escapes")),
    Duty("user-off-the-brakes", _PLACE, "hang on no line of the brakes", unmoved,
         "feed it from an auxiliary store, through a pressure protection valve", explained_by=("auxiliary-not-protected",)),
    Duty("user-let-go", _PLACE, "be let go in some state", let_go, "feed it through the valve that works it", "warning",
         ("port-open", "part-backwards", "exhaust-blocked", "stored-air-escapes")),
    Duty("bag-levelled", "air spring", "stand below the full pressure of its store", levelled,
         "fill it through a levelling valve", "warning", ("part-backwards",)),
)
