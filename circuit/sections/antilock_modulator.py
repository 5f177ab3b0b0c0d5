"""The antilock modulator cut open: a hold valve that a coil shuts, a release valve that a coil opens."""

from circuit.declaring.section import (
    Hole, Mark, Move, Outline, Pose, Seat, Section, Spot, air, box, coil, flow, look, outline, part,
)


def _valve(x: float, move: str) -> tuple[Mark, ...]:
    """A disc over a seat at y = 0, its stem up into a coil."""
    return (*look("rubber", box(x - 2.4, -0.7, x + 2.4, 0, move)), *part(box(x - 2.4, -1.8, x + 2.4, -0.7, move)),
            *look("steel", box(x - 0.6, -8.6, x + 0.6, -1.8, move)))


def _coil(x: float) -> tuple[Mark, ...]:
    """A winding round the stem, crossed as in a symbol."""
    def winding(x0: float, x1: float) -> tuple[Outline, Outline]:
        return outline((x0, -11), (x1, -6.6)), outline((x1, -11), (x0, -6.6))

    return tuple(mark for x0, x1 in ((x - 2.6, x - 0.8), (x + 0.8, x + 2.6)) for mark in (
        *look("paper", box(x0, -11, x1, -6.6)), *look("line", *winding(x0, x1), closed=False)))


SECTION = Section(
    body=(-11.4, -6, 11.4, 9),
    moves={"hold": Move({"1>2": 1.0}, dy=-1.7), "release": Move({"2>3": 1.0}, dy=-1.7)},
    marks=(*look("metal", box(-9.6, -12, -3.4, -6), box(3.4, -12, 9.6, -6)),
           *air("", box(-7.3, -11.4, -5.7, -6), box(5.7, -11.4, 7.3, -6)),
           *air("2", box(-10, -5, 10, -2), box(-10, -5, -3, 0), box(3, -5, 10, 0)),
           *air("1", box(-8, 0, -5, 5)), *air("3", box(5, 0, 8, 8)),
           *_coil(-6.5), *_coil(6.5), *_valve(-6.5, "hold"), *_valve(6.5, "release"),
           *coil(-6.5, -4.6, -1.8, 1.5, lower="hold", turns=2), *coil(6.5, -4.6, -1.8, 1.5, lower="release", turns=2)),
    seats=(
        Seat(("1>2",), "inlet", Spot(-8.5, 0), Spot(-8.5, 0, (("hold", 1.0),)), "left",
             (flow((-12, 3.5), (-6.5, 3.5), (-6.5, 0.3), (-4.2, -0.9), (-4.2, -3.5), (1, -3.5)),)),
        Seat(("2>3",), "exhaust", Spot(8.5, 0), Spot(8.5, 0, (("release", 1.0),)), "right",
             (flow((0, -3.5), (3.6, -3.5), (3.6, -0.9), (6.5, 0.3), (6.5, 9.6)),)),
    ),
    holes=(Hole("1", "left", 3.5, -5, 1.2), Hole("2", "right", -3.5, 10, 1.1), Hole("3", "bottom", 6.5, 8, 1.5)),
    words=(("hold coil", Spot(-6.5, -12.5)), ("release coil", Spot(6.5, -12.5))),
    poses=(
        Pose("without current", {"1": 5, "2": 3}), Pose("braking", {"1": 5, "2": 5}),
        Pose("holding", {"1": 5, "2": 3}, {"hold": 1}), Pose("releasing", {"1": 5, "2": 3}, {"hold": 1, "release": 1}),
    ),
)
