"""49 CFR 571.121, as far as it speaks of single failures, answered by the study of faults."""

from circuit.faults.answers import LOST, Answering, Asked, Found, Runs, keeps, played
from circuit.faults.effect import LESS, Effect
from circuit.faults.sorts import hoses_lost, losses_ahead, service_leaks
from circuit.faults.study import likeness
from circuit.judging.rule import Figure
from circuit.sim import Variant, feed
from circuit.sim.variants import extras_of
from circuit.studies.hands import PSI, RIG_VALVE, fed_heads, standing
from circuit.units import ATMOSPHERE

SOME = 0.2
"""Share of the wheels' brakes, springs that follow the pedal included, that counts as emergency braking; our choice,
the clause sets a stopping distance, which no pressure tells."""
WARNING = ATMOSPHERE + 60 * PSI
"""Absolute Pa; the warning level of 571.121 S5.1.5."""
RIG = ATMOSPHERE + 100 * PSI
SUPPLY = ATMOSPHERE + 70 * PSI
"""Absolute Pa in the trailer's supply line; 571.121 S5.8.2, S5.8.3."""
CHANGES = 0.5e5
"""Pa by which a line has to change with the pedal to count as modulated; our choice."""
ROUNDED = 100.0
"""Pa by which a closing pressure is found too low, and no valve is set so exactly; our choice."""
SETTLED = 60.0
"""s after which a leak has drawn the supply line down as far as it will; our choice."""


def check_valves(asked: Asked) -> Found | None:
    """S5.1.2.3: what each service reservoir keeps when the air ahead of it is lost."""
    rows = [(tank.kept, place, tank, effect) for own in asked.tanks
            for place, effect in enumerate(losses_ahead(asked.study, own)) for tank in asked.kept(effect, own.name)]
    if not rows:
        return None
    _, _, tank, effect = min(rows)
    return keeps(effect, tank, WARNING)


def keeps_its_own_air(asked: Asked) -> Found | None:
    """S5.1.3: what the service reservoirs keep when a hose to the trailer, or both, are open. The clause has no floor."""
    found = asked.least(_hoses(asked))
    if found is None:
        return None
    tank, effect = found
    return Found(tank.kept >= LOST, effect, f"{tank.name} keeps the least with {effect.fault.name}, "
                  f"{(tank.kept - ATMOSPHERE) / PSI:.0f} psi")


def parking_with_a_leak(asked: Asked) -> Found | None:
    """S5.6.3.1: the springs that still come on with each leak of the service brakes."""
    faults = [e for e in service_leaks(asked.study) if any(a.sprung for a in e.axles)]
    if not faults:
        return None
    worst = min(faults, key=lambda e: min(a.parks for a in e.axles if a.sprung))
    share = min(a.parks for a in worst.axles if a.sprung)
    return Found(share >= LESS, worst, f"{share * 100:.0f} % of an axle's springs still come on with {worst.fault.name}")


def emergency_braking(asked: Asked) -> Found | None:
    """S5.7.1: the brakes that are left with each leak of the service brakes."""
    return _brakes_left(service_leaks(asked.study))


def braking_without_hoses(asked: Asked) -> Found | None:
    """S5.7.3(a): the brakes that are left with both hoses open."""
    return _brakes_left(hoses_lost(asked.study, "control", "supply"))


def signal_with_a_leak(asked: Asked) -> Found | None:
    """S5.7.3(b): what the pedal still does to a line to the trailer with each leak of the service brakes."""
    faults = [e for e in service_leaks(asked.study) if e.heads]
    if not faults:
        return None
    worst = min(faults, key=lambda e: e.signal)
    has = worst.signal >= CHANGES
    return Found(has, worst, f"the pedal {'still changes the' if has else 'changes no'} pressure in a line to the trailer with "
                  f"{worst.fault.name}")


def supply_kept(asked: Asked) -> Found | None:
    """S5.8.2: what valves keep in the supply line with each leak of the trailer's service brakes.

    At rest: the rig's flow, which the clause does not say, can only add to it.
    """
    faults = service_leaks(asked.study)
    if not fed_heads(asked.circuit, "supply") or not faults:
        return None
    lowest, place = min((asked.study.supply_kept(effect), place) for place, effect in enumerate(faults))
    figure = Figure("supply line at its head", lowest + ROUNDED, SUPPLY, "pressure")
    return Found(figure.margin >= 0, faults[place], f"the supply line keeps the least with {faults[place].fault.name}, "
                  "however little the rig feeds", figure)


def springs_stay_off(asked: Asked) -> Found | None:
    """S5.8.3: the springs with each such leak, for as long as the supply line has 70 psi."""
    runs, springs = asked.once(_fed), asked.study.whole.springs
    if runs is None or not springs:
        return None
    heads = [head.name for head in fed_heads(asked.circuit, "supply")]
    rows = []
    for place, (_, trace) in enumerate(runs):
        falls = [trace.first_time(head, SUPPLY, rising=False) for head in heads]
        until = min((time for time in falls if time is not None), default=trace.end)
        for spring in springs:
            space = asked.circuit.spring_space(spring)
            rows.append((trace.lowest(space, 0.0, until) - spring.settings["holds-off-at"], place, spring))
    spare, place, spring = min(rows, key=lambda row: row[:2])
    worst, held = runs[place][0], spring.settings["holds-off-at"]
    figure = Figure(f"{spring.name} holds off", spare + held, held, "pressure")
    return Found(spare >= 0, worst, f"the worst of {len(runs)} single leaks is {worst.fault.name}", figure)


ANSWERS: dict[str, Answering] = {
    "us-federal/S5.1.2.3": check_valves,
    "us-federal/S5.1.3": keeps_its_own_air,
    "us-federal/S5.6.3.1": parking_with_a_leak,
    "us-federal/S5.7.1": emergency_braking,
    "us-federal/S5.7.3(a)": braking_without_hoses,
    "us-federal/S5.7.3(b)": signal_with_a_leak,
    "us-federal/S5.8.2": supply_kept,
    "us-federal/S5.8.3": springs_stay_off,
}


def _hoses(asked: Asked) -> tuple[Effect, ...]:
    study = asked.study
    return (*hoses_lost(study, "supply"), *hoses_lost(study, "control"), *hoses_lost(study, "control", "supply"))


def _brakes_left(faults: tuple[Effect, ...]) -> Found | None:
    if not faults:
        return None
    worst = min(faults, key=lambda e: e.braking)
    return Found(worst.braking > SOME, worst, f"{worst.braking * 100:.0f} % of the brakes are left with {worst.fault.name}")


def _fed(asked: Asked) -> Runs:
    """Each leak of a trailer's service brakes with the rig flowing, the widest of those that are alike."""
    circuit = asked.circuit
    widest: dict[object, tuple[float, Effect]] = {}
    for effect in service_leaks(asked.study):
        wide = sum(extra.conductance for extra in extras_of(circuit, Variant("", effect.fault.parts)))
        like = likeness(asked.study.whole, effect.fault)
        if like not in widest or widest[like][0] < wide:
            widest[like] = wide, effect
    heads = fed_heads(circuit, "supply")
    if not widest or not heads:
        return None
    faults = [effect for _, effect in widest.values()]
    rigs = [feed(head.name, RIG, 0.0, 0.0, RIG_VALVE) for head in heads]
    return played(asked, faults, standing(circuit, RIG, *rigs), SETTLED)
