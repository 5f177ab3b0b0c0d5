"""The springs cannot be lifted often enough without the compressor.

Why
---
A vehicle that stands with its engine dead, or a trailer that was uncoupled, must be moved out of the way: its springs
are to be lifted three times at least with the air that is left.

What happens
------------
It stays where it stopped, and has to be caged or towed with its wheels locked.

What is not checked
-------------------
Leaks, and whether the driver also presses the pedal meanwhile.

Bad
---
    compressor pump: displacement 12 cfm
    governor gov: cut-in 7 bar, cut-out 8.5 bar
    reservoir store: volume 3 L, rated 10 bar, role parking
    hose pump.2 -> store: bore 16 mm, length 3 m
    park-valve park
    tube store -> park.1: size 12x1.5, length 1 m
    spring-chamber left: type 24/24, stroke 2.5 in, axle front, side left
    hose park.2 -> left.12: bore 11 mm, length 1 m

Good
----
    compressor pump: displacement 12 cfm
    governor gov: cut-in 7 bar, cut-out 8.5 bar
    reservoir store: volume 20 L, rated 10 bar, role parking
    hose pump.2 -> store: bore 16 mm, length 3 m
    park-valve park
    tube store -> park.1: size 12x1.5, length 1 m
    spring-chamber left: type 24/24, stroke 2.5 in, axle front, side left
    hose park.2 -> left.12: bore 11 mm, length 1 m
"""

from collections.abc import Iterator, Mapping

from circuit.judging.evidence import Evidence
from circuit.judging.limits import pressure
from circuit.judging.rule import Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.storage import cut_out, spring_draws
from circuit.units import shown


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    if not evidence.springs:
        return
    first = evidence.springs[0]
    start = pressure(limits, "trailer_start") if circuit.is_towed else cut_out(evidence)
    found = spring_draws(evidence)
    if start is None or not found:
        yield undecided(first.name, first.span.outermost, "what lifts the springs without feed is not seen",
                        "a governor with its cut-out" if start is None else
                        "a reservoir whose air lifts the springs, of a trailer while it is uncoupled")
        return
    times = int(limits["releases"])
    least = max(spring.settings["holds-off-at"] for spring in evidence.springs)
    for draw in found:
        series = draw.after(start if circuit.is_towed else min(start, *_fillings(evidence, draw.tanks)), times)
        figure = Figure(f"lift {times} of the springs", series[-1].given, least, "pressure")
        says = f"{draw.name} lifts the springs to {shown(series[-1].given, 'pressure')} at lift {times} (predicted)"
        if figure.margin < 0:
            yield not_met(draw.name, draw.tanks[0].span, says, "more reservoir for the springs", figure=figure,
                        also=((first.span.outermost, "one of the springs"),))
        else:
            yield met(draw.name, draw.tanks[0].span, says, figure)


def _fillings(evidence: Evidence, tanks) -> list[float]:  # type: ignore[no-untyped-def]
    return [evidence.filling.level[evidence.circuit.store(tank)] for tank in tanks
            if evidence.filling.is_charged(evidence.circuit.store(tank))]


RULE = Rule("springs-lifted-too-seldom", "the springs can be lifted often enough without feed", "error", check)
