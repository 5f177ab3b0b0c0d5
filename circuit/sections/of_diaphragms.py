"""A diaphragm that a spring presses on a nozzle: shut, the feed pushes on the nozzle alone; open, on all of it."""

from circuit.declaring.section import (
    Mark, Seat, Spot, air, box, coil, flow, look, outline, part, space, with_move,
)


def protected(feed: str, out: str, move: str, nozzle: float = 1.6, half: float = 6.0, deep: float = 3.4) -> tuple[Mark, ...]:
    """A nozzle up to y = 0, the ring of the delivery round it down to `deep`, the diaphragm over both, its spring up to -8."""
    up = with_move(move)
    sheet = (Spot(-half, -0.3), Spot(-half + 1.6, -0.3), Spot(-2.6, -0.3, up), Spot(2.6, -0.3, up), Spot(half - 1.6, -0.3),
             Spot(half, -0.3))
    return (
        *air("", box(-half + 0.6, -8, half - 0.6, -0.6)),
        *air(out, (Spot(-half + 0.6, deep), Spot(-half + 0.6, -0.1), Spot(-half + 1.6, -0.1), Spot(-2.6, -0.1, up),
                   Spot(2.6, -0.1, up), Spot(half - 1.6, -0.1), Spot(half - 0.6, -0.1), Spot(half - 0.6, deep))),
        *look("metal", box(-nozzle - 1, 0, -nozzle, deep + 0.8), box(nozzle, 0, nozzle + 1, deep + 0.8)),
        *space(feed, box(-nozzle, 0, nozzle, deep + 1)),
        *look("line", outline((-nozzle, 0), (-nozzle, deep + 1)), outline((nozzle, 0), (nozzle, deep + 1)), closed=False),
        Mark(sheet, "membrane", closed=False),
        *part(outline((-2.8, -0.6), (-2.8, -1.8), (2.8, -1.8), (2.8, -0.6), move=move)),
        *coil(0, -6.6, -1.8, 2.1, lower=move, turns=3), *look("steel", box(-2.8, -7.4, 2.8, -6.6)),
    )


def protected_seat(ways: tuple[str, ...], move: str, word: str, side: str = "left", out: float = 9.6, deep: float = 2.0) -> Seat:
    """Its seat; the air leaves to the right at x = `out`, y = `deep`."""
    return Seat(ways, word, Spot(-2.1, 0), Spot(-2.1, 0, with_move(move)), side,
                (flow((0, 4.6), (0, 0.4), (2.2, -0.7), (3.6, 0.6), (3.6, deep), (out, deep)),))
