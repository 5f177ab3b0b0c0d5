"""UN Regulation No. 13, as far as it speaks of single failures, answered by the study of faults.

The pressure of secondary braking is the maker's to declare: `secondary-at` on the vehicle. Without it only a loss of all
braking is decided.
"""

from collections.abc import Iterable

from circuit.clauses import clause
from circuit.declaring.traits import Trait
from circuit.faults.answers import LOST, Answering, Asked, Found, Runs, played
from circuit.faults.effect import LESS, Effect
from circuit.faults.sorts import (
    failures_of,
    holes,
    hoses_lost,
    is_sudden,
    losses_by_users,
    losses_of,
    users_on_the_springs,
)
from circuit.judging.rule import Figure
from circuit.model.air import full_pressure
from circuit.sim import Action, Rig, Script, pull, push
from circuit.studies.hands import apply, let_go, tail_heads
from circuit.units import ATMOSPHERE

UNKNOWN = "the pressure of secondary braking: write `secondary-at` on the vehicle"
BRAKES_ITSELF = ATMOSPHERE + 150e3
"""Absolute Pa; a trailer whose supply line has fallen to this brakes by itself. UN R13 5.2.1.18.4.1, 5.2.1.18.4.2."""
FOOT = 0.2
"""s of the pedal's travel; UN R13 Annex 6 2.7."""
PIPE = (0.013, 2.5)
"""m bore, m length of the pipe on the supply head at whose end the pressure is measured; UN R13 Annex 6 2.7."""
PEDAL_AT = 1.0
APPLICATIONS = (20.0, 30.0, 40.0)
HELD = 5.0
REFILLED = 300.0
"""s at which the pedal goes down after a burst, for which it stays there, and after which one looks; our choice."""
RISE = 0.1e5
"""Pa by which a reservoir has to rise to count as fed; our choice."""


def controls_apart(asked: Asked) -> Found | None:
    """5.2.1.2: what each control leaves of the other's brake when it fails, slow leaks left out."""
    circuit, study = asked.circuit, asked.study
    pedals, parks = circuit.having(Trait.SERVICE_CONTROL), circuit.having(Trait.PARK_CONTROL)
    sprung = [axle.name for axle in study.effects[0].axles if axle.sprung] if study.effects else []
    if not pedals or not parks or not sprung:
        return None
    rows = [(min(max(a.parks, a.stays) for a in e.axles if a.sprung), e, "of an axle's brakes are on when parked")
            for e in failures_of(study, pedals) if is_sudden(circuit, e.fault)]
    rows += [(e.force, e, "of the push-rod force comes with the pedal")
             for e in failures_of(study, parks) if is_sudden(circuit, e.fault)]
    if not rows:
        return None
    share, worst, what = min(rows, key=lambda row: row[0])
    return Found(share >= LESS, worst, f"{share * 100:.0f} % {what} with {worst.fault.name}")


def a_break_leaves_secondary(asked: Asked) -> Found | None:
    """5.2.1.2.6: the pedal's best axle with each break of a part that is no brake, and each loss of a reserve."""
    brakes = {device.name for device in asked.study.whole.wheels}
    return _secondary(asked, [e for e in _of_transmission(asked) if e.fault.device not in brakes], springs=True)


def each_reserve_alone(asked: Asked) -> Found | None:
    """5.2.1.2.7.2: the pedal's best axle with each service reserve lost."""
    return _secondary(asked, losses_of(asked.study, "service"))


def residual_braking(asked: Asked) -> Found | None:
    """5.2.1.4: the same with each failure of a part of the service transmission; secondary braking is more than asked."""
    brakes = {device.name for device in asked.study.whole.wheels}
    return _secondary(asked, [e for e in _of_transmission(asked) if e.fault.device not in brakes])


def feed_goes_on(asked: Asked) -> Found | None:
    """5.2.1.5.1: whether each service reservoir fills again, the compressor running, when another has burst."""
    runs, rows = asked.once(_burst_running), []
    if runs is None:
        return None
    for place, (effect, trace) in enumerate(runs):
        gone = holes(asked.circuit, effect.fault)
        for tank in asked.tanks:
            store = asked.circuit.store(tank)
            if not gone & asked.study.whole.zone(store):
                used = trace.lowest(store, APPLICATIONS[-1], APPLICATIONS[-1] + HELD)
                rows.append((trace.last(store) - used, place, tank, used))
    if not rows:
        return None
    risen, place, tank, used = min(rows, key=lambda row: row[:2])
    figure = Figure(f"{tank.name} from {(used - ATMOSPHERE) / 1e5:.1f} bar", used + risen, used + RISE, "pressure")
    return Found(figure.margin >= 0, runs[place][0], f"after {len(APPLICATIONS)} applications with {runs[place][0].fault.name} "
                  f"{tank.name} {'fills again' if figure.margin >= 0 else 'does not fill again'}", figure)


def a_lost_trailer_leaves_secondary(asked: Asked) -> Found | None:
    """5.2.1.15: the pedal's best axle with the hoses to the trailer open, one and both."""
    return _secondary(asked, [*hoses_lost(asked.study, "supply"), *hoses_lost(asked.study, "control"),
                              *hoses_lost(asked.study, "control", "supply")])


def auxiliaries_leave_the_brakes(asked: Asked) -> Found | None:
    """5.2.1.16: what the brakes' reserves keep of their warning level when users of air burst, the engine off."""
    circuit = asked.circuit
    levels: dict[str, float] = {}
    for switch in circuit.having(Trait.WARNS_LOW):
        if switch.settings["on-below"] is not None:
            levels |= {tank.name: switch.settings["on-below"] for tank in circuit.reservoirs_for("service", "parking")
                       if circuit.store(tank) in asked.study.whole.zone(circuit.store(switch))}
    rows = [(tank.kept - levels[tank.name], place, tank, effect)
            for place, effect in enumerate(losses_by_users(asked.study)) for tank in effect.tanks if tank.name in levels]
    if not rows:
        return None
    _, _, tank, effect = min(rows, key=lambda row: row[:2])
    figure = Figure(f"{tank.name} keeps", tank.kept, levels[tank.name], "pressure")
    return Found(figure.margin >= 0, effect, f"{tank.name} keeps the least over its warning with {effect.fault.name}", figure)


def signal_with_a_circuit_lost(asked: Asked) -> Found | None:
    """5.2.1.18.2: the trailer's signal with each service reserve lost."""
    faults = [effect for effect in losses_of(asked.study, "service") if effect.heads]
    if not faults:
        return None
    worst = min(faults, key=_rise)
    return Found(_rise(worst) >= LOST - ATMOSPHERE, worst, f"the pedal raises the trailer's signal by "
                  f"{_rise(worst) / 1e5:.1f} bar with {worst.fault.name}")


def a_broken_hose_brakes(asked: Asked) -> Found | None:
    """5.2.1.18.3: with either hose open the trailer is braked by its signal, or by itself as its supply line falls."""
    faults = [*hoses_lost(asked.study, "supply"), *hoses_lost(asked.study, "control")]
    for effect in faults:
        if _braked(effect, "control") < LOST and _braked(effect, "supply") > BRAKES_ITSELF:
            return Found(False, effect, f"with {effect.fault.name} the trailer gets no signal, and its supply line keeps "
                          f"{(_braked(effect, 'supply') - ATMOSPHERE) / 1e5:.1f} bar while the pedal is down")
    if not faults:
        return None
    return Found(True, faults[-1], f"with {' and with '.join(e.fault.name for e in faults)} the pedal's signal or the fall "
                  "of its supply line brakes the trailer")


def supply_falls(asked: Asked) -> Found | None:
    """5.2.1.18.4.1: the supply line with the control hose open and the pedal down, at the end of a pipe."""
    faults, heads = hoses_lost(asked.study, "control"), tail_heads(asked.circuit, "supply")
    if not faults or not heads:
        return None
    circuit, limits = asked.circuit, clause("un-r13/5.2.1.18.4.1").values
    rigs = tuple(Rig(head.name, 0.0, *PIPE, name=f"pipe on {head.name}") for head in heads)
    script = Script(apply(circuit, PEDAL_AT, over=FOOT, rig=full_pressure(circuit)), rigs=rigs)
    until = PEDAL_AT + 2 * limits["within_s"]
    ((_, trace),) = played(asked, faults[:1], script, until)
    times = [trace.first_time(rig.name, ATMOSPHERE + limits["supply_kpa"] * 1e3, rising=False) for rig in rigs]
    late = [head.name for head, time in zip(heads, times) if time is None]
    if late:
        return Found(False, faults[0], f"with {faults[0].fault.name} and the pedal down {late[0]} still has "
                      f"{(trace.last(late[0]) - ATMOSPHERE) / 1e5:.1f} bar after {until - PEDAL_AT:g} s")
    figure = Figure("supply line down", max(time for time in times if time is not None) - PEDAL_AT, limits["within_s"], "time",
                    at_least=False)
    return Found(figure.margin >= 0, faults[0], f"with {faults[0].fault.name} and the pedal down the supply line falls", figure)


def springs_have_a_reserve(asked: Asked) -> Found | None:
    """Annex 8 2.3.1: whether the springs, once let on, can be lifted with each service reserve lost."""
    faults = [effect for effect in losses_of(asked.study, "service") if any(a.sprung for a in effect.axles)]
    if not faults:
        return None
    worst = min(faults, key=lambda e: min(a.lifts for a in e.axles if a.sprung))
    share = min(axle.lifts for axle in worst.axles if axle.sprung)
    return Found(share >= LESS, worst, f"{share * 100:.0f} % of an axle's springs can be lifted with {worst.fault.name}")


def one_release_is_left(asked: Asked) -> Found | None:
    """Annex 8 2.3.2: whether the springs can be let on and lifted once when users of air have burst."""
    runs = asked.once(_released_once)
    if runs is None:
        return None
    rows = [(trace.last(asked.circuit.spring_space(spring)) - spring.settings["holds-off-at"], place, spring)
            for place, (_, trace) in enumerate(runs) for spring in asked.study.whole.springs]
    spare, place, spring = min(rows, key=lambda row: row[:2])
    worst, held = runs[place][0], spring.settings["holds-off-at"]
    figure = Figure(f"{spring.name} lifted again", spare + held, held, "pressure")
    return Found(spare >= 0, worst, f"the least is left with {worst.fault.name}", figure)


def springs_brake_the_trailer(asked: Asked) -> Found | None:
    """Annex 8 2.7: what the trailer gets with each loss of air that lets all the springs on."""
    faults = [effect for effect in asked.study.effects if any(a.sprung for a in effect.axles)
              and all(a.springs > LESS for a in effect.axles if a.sprung) and holes(asked.circuit, effect.fault)]
    if not faults or not asked.study.whole.rear_heads:
        return None
    for effect in faults:
        if _driving(effect, "control") < LOST and _driving(effect, "supply") > BRAKES_ITSELF:
            return Found(False, effect, f"with {effect.fault.name} the springs come on and the trailer is not braked")
    return Found(True, faults[0], f"each of {len(faults)} losses that let the springs on brakes the trailer too, as "
                  f"{faults[0].fault.name}")


ANSWERS: dict[str, Answering] = {
    "un-r13/5.2.1.2": controls_apart,
    "un-r13/5.2.1.2.6": a_break_leaves_secondary,
    "un-r13/5.2.1.2.7.2": each_reserve_alone,
    "un-r13/5.2.1.4": residual_braking,
    "un-r13/5.2.1.5.1": feed_goes_on,
    "un-r13/5.2.1.15": a_lost_trailer_leaves_secondary,
    "un-r13/5.2.1.16": auxiliaries_leave_the_brakes,
    "un-r13/5.2.1.18.2": signal_with_a_circuit_lost,
    "un-r13/5.2.1.18.3": a_broken_hose_brakes,
    "un-r13/5.2.1.18.4.1": supply_falls,
    "un-r13/Annex 8 2.3.1": springs_have_a_reserve,
    "un-r13/Annex 8 2.3.2": one_release_is_left,
    "un-r13/Annex 8 2.7": springs_brake_the_trailer,
}


# --- which faults, and what they leave -------------------------------------------------------------------------------


def _of_transmission(asked: Asked) -> list[Effect]:
    """Failures of one part of the service brakes, slow leaks left out."""
    circuit, system = asked.circuit, asked.study.whole.service_system
    return [effect for effect in asked.study.effects if len(effect.fault.parts) == 1 and is_sudden(circuit, effect.fault)
            and any(space in system for _, space in circuit.spaces_of[effect.fault.device])]


def _secondary(asked: Asked, faults: Iterable[Effect], springs: bool = False) -> Found | None:
    """What the pedal's best axle gets against secondary braking. springs: a lever that graduates them may do as well."""
    rows = [(*asked.best_axle(effect), place, effect) for place, effect in enumerate(faults)]
    if not rows or not asked.study.whole.wheels:
        return None
    pressure, axle, _, worst = min(rows, key=lambda row: (row[0], row[2]))
    says = f"the pedal's best axle has the least with {worst.fault.name}"
    if pressure < LOST:
        if springs and asked.circuit.having(Trait.GRADUATES_SPRINGS) and any(a.sprung and a.parks >= LESS for a in worst.axles):
            return Found(None, worst, f"whether the springs alone give secondary braking, with {worst.fault.name}")
        return Found(False, worst, f"the pedal brakes no axle at both its ends with {worst.fault.name}")
    asks = asked.circuit.vehicle.declared.get("secondary-at")
    if asks is None:
        return Found(None, worst, UNKNOWN)
    figure = Figure(f"{axle} gets", pressure, asks, "pressure")
    return Found(figure.margin >= 0, worst, says, figure)


def _braked(effect: Effect, line: str) -> float:
    return max((head.braking for head in effect.heads if head.line == line), default=ATMOSPHERE)


def _rise(effect: Effect) -> float:
    """Pa by which the pedal raises the control line."""
    return max((head.braking - head.driving for head in effect.heads if head.line == "control"), default=0.0)


def _driving(effect: Effect, line: str) -> float:
    return max((head.driving for head in effect.heads if head.line == line), default=ATMOSPHERE)


# --- over time -------------------------------------------------------------------------------------------------------


def _burst_running(asked: Asked) -> Runs:
    """Each service reserve burst, some applications, and the compressor running."""
    circuit, faults = asked.circuit, losses_of(asked.study, "service")
    if len(faults) < 2:
        return None
    actions: list[Action] = []
    for at in APPLICATIONS:
        actions += [*apply(circuit, at, rig=full_pressure(circuit)), *let_go(circuit, at + HELD)]
    return played(asked, faults, Script(tuple(actions)), REFILLED, running=True)


def _released_once(asked: Asked) -> Runs:
    """Users of air lost, the engine off; when that has settled the park control is worked once to and fro."""
    circuit, faults = asked.circuit, users_on_the_springs(asked.study)
    controls = [device for device in circuit.having(Trait.PARK_CONTROL) if device.kind.when.get("parked")]
    if not faults or not controls or not asked.study.whole.springs:
        return None
    actions = [*(pull(device.name, 60.0) for device in controls), *(push(device.name, 70.0) for device in controls)]
    return played(asked, faults, Script(tuple(actions)), 80.0)
