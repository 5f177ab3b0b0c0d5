"""What many valves share: a seat, a hollow valve under it that also shuts the exhaust, and the piston that works both.

Drawn lapped: the piston's lip stands on the valve, the valve on the body's seat. Down: air passes the seat from the space
under it. Up: the lip leaves the valve, and the air above goes out through the hollow valve.
"""

from circuit.declaring.section import (
    Mark, Move, Seat, Spot, air, box, coil, flow, look, mirrored, outline, part, rings, space, with_move,
)

EMPTY = "Asked for nothing and empty, the exhaust counts as shut, since no air would pass it; a real one stands open then"
"""What is to be said of valves that a hand or foot works: so far the model does not open what lets nothing out."""
TRAVEL = 1.6
"""U from shut to fully open."""


def moves(feed: str, vent: str, prefix: str = "", back: tuple[str, ...] = ()) -> dict[str, Move]:
    """The valve goes down as the inlet opens; the piston with it, and up as the exhaust opens. back: further ways by the
    inlet."""
    down = dict.fromkeys((feed, *back), 1.0)
    return {f"{prefix}valve": Move(down, dy=TRAVEL), f"{prefix}piston": Move({**down, vent: -1.0}, dy=TRAVEL)}


def hollow_valve(seat: float, end: float, supply: str, exhaust: str, prefix: str = "", room: float = 5.6) -> tuple[Mark, ...]:
    """The space under a seat at height `seat` and the hollow valve in it, whose tube goes on to `end`, where the exhaust
    leaves. room: half the width of the space."""
    valve = f"{prefix}valve"
    half = (
        *look("rubber", box(-4.3, seat, -1.1, seat + 0.7, valve)),
        *part(outline((-4.3, seat + 0.7), (-1.1, seat + 0.7), (-1.1, seat + 8.4), (-1.9, seat + 8.4), (-1.9, seat + 1.9),
                      (-4.3, seat + 1.9), move=valve)),
        *coil(-3.2, seat + 1.9, seat + 6, 0.7, upper=valve),
        *look("rubber", box(-2.5, seat + 6.6, -1.9, seat + 7.2)),
    )
    return (*air(supply, box(-room, seat, room, seat + 6)), *air(exhaust, box(-1.9, seat + 6, 1.9, end)),
            *space(exhaust, (Spot(-1.1, seat, with_move(valve)), Spot(1.1, seat, with_move(valve)), Spot(1.1, end),
                             Spot(-1.1, end))), *mirrored(half))


def stem(top: float, seat: float, exhaust: str, prefix: str = "", half: float = 2.0) -> tuple[Mark, ...]:
    """The stem of a piston down to its lip on the valve; the lip rings the exhaust."""
    move = f"{prefix}piston"
    return (*part(box(-half, top, half, seat, move)), *space(exhaust, box(-1.1, seat - 1.3, 1.1, seat, move)),
            *look("line", outline((-1.1, seat), (-1.1, seat - 1.3), (1.1, seat - 1.3), (1.1, seat), move=move), closed=False))


def crown(top: float, half: float, thick: float = 1.4, prefix: str = "") -> tuple[Mark, ...]:
    """The plate of a piston with its rings."""
    move = f"{prefix}piston"
    return (*part(box(-half, top, half, top + thick, move)), *rings(half, top + thick / 2, move=move, size=0.6))


def seats(seat: float, end: float, feed: tuple[str, ...], vent: str, out: float, prefix: str = "",
          words: tuple[str, str] = ("inlet", "exhaust"), into: float = 8.0) -> tuple[Seat, Seat]:
    """The two seats. out: the height at which air leaves to the right; into: how far right that is."""
    valve, piston = with_move(f"{prefix}valve"), with_move(f"{prefix}piston")
    fed = (flow((4.9, seat + 5), (4.9, seat + 0.8), (2.5, seat + 0.8), (2.5, out), (into, out)),
           flow((-7, seat + 4), (-4.9, seat + 4), (-4.9, seat + 0.8), (-2.5, seat + 0.8), (-2.5, seat - 2.4)))
    vented = (flow((into, out), (2.5, out), (2.5, seat - 0.75), (0, seat - 0.75), (0, end - 0.6)),)
    return (
        Seat(feed, words[0], Spot(3.65, seat), Spot(3.65, seat, valve), "right", fed),
        Seat((vent,), words[1], Spot(-1.55, seat, valve), Spot(-1.55, seat, piston), "left", vented),
    )


def delivery(top: float, seat: float, port: str, bore: float = 5.6, throat: float = 3.0, upper: str = "") -> tuple[Mark, ...]:
    """The space above a seat: a chamber of half width `bore` down to 2 U above the seat, and the throat."""
    return air(port, box(-bore, top, bore, seat - 2.2, upper=upper), box(-throat, seat - 2.2, throat, seat))


def above(port: str, top: float, crown_top: float, half: float, move: str = "piston") -> tuple[Mark, ...]:
    """The space over a piston."""
    return air(port, box(-half, top, half, crown_top, lower=move))




def beside(found: tuple[Seat, ...], dx: float) -> tuple[Seat, ...]:
    """The seats of one of two valves that stand side by side, the left one turned so that it delivers to the left."""
    mirror = dx < 0

    def there(spot: Spot) -> Spot:
        return spot._replace(x=(-spot.x if mirror else spot.x) + dx)

    return tuple(seat._replace(at=there(seat.at), face=there(seat.face), side="left" if mirror else "right",
                               flows=tuple(tuple(there(spot) for spot in each) for each in seat.flows)) for seat in found)
