"""Valves that give by degrees less than they get: a piston between a set spring, or the signal, and what is delivered."""

from circuit.declaring.section import Hole, Mark, Move, Section, air, box, coil, look, part, rings
from circuit.sections.of_stages import crown, delivery, hollow_valve, moves, seats, stem


def with_spring(way_back: tuple[str, ...] = ()) -> Section:
    """The pieces of a valve whose piston a set spring loads, fed from 1: it shuts when 2 balances the spring."""
    return Section(
        body=(-9, -1, 9, 25),
        moves=moves("1>2", "2>3", back=way_back),
        marks=(*air("", box(-6, 0, 6, 5, lower="piston")), *delivery(6.4, 14, "2", 6, upper="piston"),
               *hollow_valve(14, 25, "1", "3"), *stem(6, 14, "3"), *crown(5, 6),
               *look("steel", box(-4.2, 0.4, 4.2, 1.2), box(-1.3, -3.6, 1.3, 0.4), box(-2.3, -2.4, 2.3, -1)),
               *coil(0, 1.2, 5, 2.8, lower="piston", turns=3)),
        seats=seats(14, 25, ("1>2", *way_back), "2>3", 9.5),
        holes=(Hole("1", "left", 18, -5.6), Hole("2", "right", 9.5, 6), Hole("3", "bottom", 0, 24, 1.9)),
        poses=(),
    )


def stepped(signal: str, supply: str, top: tuple[Mark, ...] = (), more: dict[str, Move] | None = None) -> Section:
    """The pieces of a valve whose signal works on a small piston and whose delivery on a large one, so that a share of the
    signal balances it. signal, supply: their ports, which may be one."""
    channel = air(signal, box(-8.4, 1.2, -3.6, 3), box(-8.4, 1.2, -6.9, 18.6), box(-8.4, 17, -5.5, 18.6))
    return Section(
        body=(-9.4, 0, 9.4, 25),
        moves={**moves("1>2", "2>3"), **(more or {})},
        marks=(*(channel if signal == supply else ()), *air(signal, box(-3.6, 1, 3.6, 3, lower="piston")),
               *air("", box(-6, 5.2, 6, 6, lower="piston")),
               *delivery(7.2, 14, "2", 6, upper="piston"), *hollow_valve(14, 25, supply, "3"), *stem(6, 14, "3"),
               *crown(6, 6, 1.2), *part(box(-3.6, 3, 3.6, 6, "piston")), *rings(3.6, 3.8, move="piston", size=0.6), *top),
        seats=seats(14, 25, ("1>2",), "2>3", 9.6),
        holes=(*((Hole(signal, "left", 2.1, -3.6),) if signal != supply else ()), Hole(supply, "left", 18, -5.6),
               Hole("2", "right", 9.6, 6), Hole("3", "bottom", 0, 24, 1.9)),
        poses=(),
    )

