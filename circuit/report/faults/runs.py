"""Runs of faults for people: all of them with the engine running, each in its worst situation, one in every situation."""

import textwrap
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from circuit.faults.agree import disagreements
from circuit.faults.effect import GONE, Axle, Effect
from circuit.faults.outcome import Outcome
from circuit.faults.play import BURST, LEAK, STEP, Played, Situation
from circuit.faults.record import in_situation
from circuit.faults.study import Study, badness, worst_in
from circuit.faults.times import read
from circuit.report.account import Account
from circuit.report.faults.mending import in_unit
from circuit.report.faults.times_told import WIDTH
from circuit.report.faults.outcome_rows import table
from circuit.report.situations import unit_of
from circuit.report.studies.faults import KEY, Asked, asked
from circuit.report.words import CAUTION, FAST, listed
from circuit.units import ATMOSPHERE

HOW = (f"Predicted by simulation, for each fault alone: it is there from the start with everything full, a burst runs "
       f"for {BURST:.0f} s and a leak for {LEAK / 60:.0f} min, then the pedal is down, up, the park control out and in "
       f"again, {STEP:.0f} s each.")


def of_one(study: Study, found: Sequence[Played], situation: Situation, only: str = "") -> Account:
    """All faults as a simulation plays them in one situation, and where the graph disagrees."""
    engine = "The engine runs." if situation.running else "The engine stands still."
    effects = sorted((played.effect for played in found), key=badness)
    how = f"{HOW} {engine} {asked(situation.demand, study.circuit)}".rstrip()
    return _account(study, {situation: found}, [(Outcome(effect), worst_in(effect)) for effect in effects], how, only,
                    _disagreeing(study, found, situation))


def of_the_worst(study: Study, runs: Mapping[Situation, Sequence[Played]], only: str = "") -> Account:
    """Each fault in the situation in which it does its worst."""
    unit = unit_of(study.circuit)
    worst = []
    for row in zip(*runs.values()):
        situation, played = min(zip(runs, row), key=lambda each: badness(each[1].effect))
        when = worst_in(played.effect)
        worst.append((Outcome(played.effect), f"{when}, {named(situation, unit)}" if when else ""))
    worst.sort(key=lambda each: badness(each[0].effect))
    return _account(study, runs, worst, f"{HOW} Each is played with the engine off and on, with a full and a part pedal, and "
                    "told for the worst of the four.", only)


def record(study: Study, runs: Mapping[Situation, Sequence[Played]]) -> Asked:
    """The faults of some runs, situation by situation."""
    return Asked(study.circuit, study.whole.demand, situations=tuple(in_situation(*each) for each in runs.items()))


def _account(study: Study, runs: Mapping[Situation, Sequence[Played]], told: Sequence[tuple[Outcome, str]], how: str, only: str,
             notes: Iterable[str] = ()) -> Account:
    circuit = study.circuit
    chosen = {situation: [each for each in row if only.lower() in each.effect.fault.name.lower()]
              for situation, row in runs.items()}
    return Account(KEY, "Faults", circuit, record(study, chosen), (table(circuit, told, how, only),), notes=tuple(notes))


def named(situation: Situation, unit: str) -> str:
    """`engine off, full pedal`"""
    pedal = "full pedal" if situation.demand is None else f"pedal at {in_unit(situation.demand, unit)}"
    return f"engine {'on' if situation.running else 'off'}, {pedal}"


def _disagreeing(study: Study, found: Sequence[Played], situation: Situation) -> Iterator[str]:
    if situation.running:
        return
    wrong = [(played.effect.fault.name, says) for played in found if (says := disagreements(study, played))]
    yield f"{len(found)} faults played, {len(wrong)} where graph and simulation disagree"
    for name, says in wrong:
        yield f"{name}: {'; '.join(says)}"


# --- one fault in every situation ------------------------------------------------------------------------------------


def matrix(study: Study, runs: Mapping[Situation, Played]) -> str:
    """One fault in every situation, a block each."""
    unit = unit_of(study.circuit)
    first = next(iter(runs.values()))
    lines = [f"{first.effect.fault.name}: {first.effect.fault.says}", *textwrap.wrap(HOW, WIDTH)]
    for situation, played in runs.items():
        lines += ["", named(situation, unit).replace(FAST, " ").upper()]
        for word, says in _block(study, situation, played, unit):
            lines += [line.replace(FAST, " ") for line in textwrap.wrap(
                says, WIDTH, initial_indent=f"  {word:<10} ", subsequent_indent=" " * 13, break_on_hyphens=False)]
    return "\n".join([*lines, "", *textwrap.wrap(CAUTION, WIDTH)]) + "\n"


def _block(study: Study, situation: Situation, played: Played, unit: str) -> list[tuple[str, str]]:
    effect = played.effect
    line = read(study, effect, played.trace, situation.running, True)
    before = [event for event in line.events if event.time < played.pedal_at]
    says = [("driving", _driving(effect, unit)), ("braking", _braking(effect, unit)), ("parked", _parked(effect.axles))]
    heads = ", ".join(f"{head.name} {in_unit(head.driving, unit)} driving, {in_unit(head.braking, unit)} braking"
                      for head in effect.heads)
    if heads:
        says.append(("towed", heads))
    says.append(("in time", ", ".join(f"{event.says} after {_seconds(event.time)}" for event in before)
                 or "nothing comes on before the pedal goes down"))
    grace = line._replace(events=tuple(before)).grace
    if grace is not None:
        says.append(("grace", f"first loss {_seconds(abs(grace))} {'after' if grace >= 0 else 'before'} the warning"))
    return says


def _driving(effect: Effect, unit: str) -> str:
    springs = [f"springs of {listed(names)} {_percent(share)} on"
               for (share,), names in _alike(effect.axles, lambda a: (a.springs,) if a.springs > GONE else None)]
    drags = [axle.name for axle in effect.axles if axle.drags > GONE]
    dragging = [f"service brake of {listed(drags)} on"] if drags else []
    kept: dict[str, list[str]] = {}
    for tank in effect.tanks:
        if tank.sound > ATMOSPHERE + 0.5e5 and tank.role != "regeneration":
            kept.setdefault(in_unit(tank.driving, unit), []).append(tank.name)
    return ", ".join([*(springs or ["springs stay off"] * any(axle.sprung for axle in effect.axles)),
                      *dragging, *(f"{listed(names)} {pressure}" for pressure, names in kept.items())])


def _braking(effect: Effect, unit: str) -> str:
    force = [f"{listed(names)} {_percent(share)}"
             for (share,), names in _alike(effect.axles, lambda a: (a.service,) if a.served else None)]
    more = [f"springs of {listed(names)} {_percent(share)} on with the pedal"
            for (share,), names in _alike(effect.axles, lambda a: (a.pedal,) if a.pedal > GONE else None)]
    stays = [axle.name for axle in effect.axles if axle.stays > GONE]
    if stays:
        more.append(f"{listed(stays)} {'does' if len(stays) == 1 else 'do'} not let go after it")
    return ", ".join([f"of the normal push-rod force {', '.join(force)}"] * bool(force) + more) or "no service brakes"


def _parked(axles: Sequence[Axle]) -> str:
    return ", ".join(f"springs of {listed(names)} {_percent(on)} on, {_percent(off)} off again"
                     for (on, off), names in _alike(axles, lambda a: (a.parks, a.lifts) if a.sprung else None)
                     ) or "no springs"


def _alike(axles: Sequence[Axle], shares: Callable[[Axle], tuple[float, ...] | None]
           ) -> list[tuple[tuple[float, ...], list[str]]]:
    """Axles of the same shares together, to a per cent; those without any are left out."""
    found: dict[tuple[float, ...], list[str]] = {}
    for axle in axles:
        if (values := shares(axle)) is not None:
            found.setdefault(tuple(round(value, 2) for value in values), []).append(axle.name)
    return list(found.items())


def _percent(share: float) -> str:
    return f"{share * 100:.0f}{FAST}%"


def _seconds(time: float) -> str:
    return f"{time:.1f}{FAST}s" if time < 120 else f"{time / 60:.1f}{FAST}min"
