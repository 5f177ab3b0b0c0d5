"""A protection valve for several circuits: one feed, and for each outlet a nozzle that a sprung diaphragm shuts."""

from circuit.declaring.section import (
    Hole, Mark, Move, Pose, Seat, Section, Spot, air, box, flow, look, lying, part, space, with_move,
)

PITCH = 8.6
LATE = ("23", "24")


def _row(outlet: str, y: float) -> tuple[Mark, ...]:
    """One outlet at height y: the ring of its own air round the nozzle, diaphragm, plate, spring."""
    off = with_move(outlet)
    return (
        *air("", box(-1.8, y - 2.4, 5.4, y + 2.4)),
        *air(outlet, (Spot(-4.6, y - 2.6), Spot(-2, y - 2.6), Spot(-2, y - 1.6, off), Spot(-2, y + 1.6, off),
                      Spot(-2, y + 2.6), Spot(-2, y + 4.2), Spot(-4.6, y + 4.2)), box(-4.6, y + 3, 8, y + 4.2)),
        *look("metal", box(-6, y - 1.5, -2, y - 0.8), box(-6, y + 0.8, -2, y + 1.5)),
        *space("1", box(-6.2, y - 0.8, -2, y + 0.8)),
        Mark((Spot(-2, y - 3), Spot(-2, y - 2.4), Spot(-1.8, y - 1.6, off), Spot(-1.8, y + 1.6, off), Spot(-2, y + 2.4),
              Spot(-2, y + 2.8)), "membrane", closed=False),
        *part(box(-1.4, y - 1.7, -0.4, y + 1.7, outlet)), *lying(-0.4, 5.4, y, 1.4, left=outlet),
    )


def _ways(outlet: str) -> tuple[str, ...]:
    """From the feed, and where the service circuits are filled first from those."""
    return (f"1>{outlet}", *((f"21>{outlet}", f"22>{outlet}") if outlet in LATE else ()))


def _seat(outlet: str, y: float) -> Seat:
    return Seat(_ways(outlet), outlet, Spot(-2, y + 1.15), Spot(-2, y + 1.15, with_move(outlet)), "left",
                (flow((-7, y), (-1.8, y), (-1.5, y + 1.7), (-3.2, y + 2.2), (-3.2, y + 3.6), (9.6, y + 3.6)),))


def circuits(outlets: tuple[str, ...]) -> Section:
    """The valve for some outlets."""
    rows = {outlet: PITCH * place for place, outlet in enumerate(outlets)}
    low, last = PITCH * (len(outlets) - 1), outlets[-1]
    full = dict.fromkeys(outlets, 7.5)
    return Section(
        body=(-9.4, -4, 9, low + 5.4),
        moves={outlet: Move(dict.fromkeys(_ways(outlet), 1.0), dx=1.3) for outlet in outlets},
        marks=(*air("1", box(-8, -2, -6, low + 2)), *(mark for outlet, y in rows.items() for mark in _row(outlet, y))),
        seats=tuple(_seat(outlet, y) for outlet, y in rows.items()),
        holes=(Hole("1", "left", low / 2 - (PITCH / 2 if len(outlets) % 2 else 0), -8),
               *(Hole(outlet, "right", y + 3.6, 7.8, 0.6) for outlet, y in rows.items())),
        poses=(
            Pose("filling", {"1": 7.4, "21": 4, "22": 2}, dict.fromkeys((f"open-{o}" for o in outlets), 0.0)),
            Pose("all filled", {"1": 7.5, **full}),
            Pose(f"{last} has burst", {"1": 4.7, **dict.fromkeys(outlets, 4.8), last: 0.0}, {f"open-{last}": 0.0}),
        ),
        note="A bleed past a piston, where there is one, and the checks from the service circuits are not drawn",
    )
