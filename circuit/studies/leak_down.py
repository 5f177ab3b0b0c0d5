"""What happens, and in which order, while the stored air leaks away with the engine off.

Each brake reservoir has a hole of its own, stated, or one place leaks. Warnings, knobs that pop out, valves that shut,
springs that come on.
"""

from typing import NamedTuple

from circuit.declaring.ranges import Range
from circuit.declaring.traits import Trait
from circuit.gas.constants import GAS_CONSTANT, REFERENCE_TEMPERATURE
from circuit.gas.flow import hole_passing
from circuit.judging.assumed import Assumed
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.model.trace import Trace
from circuit.sim import Action, Options, leak, stop_feeding
from circuit.sim.drawn import HOLES, Cause, simulate_drawn
from circuit.studies.band import assumed_of
from circuit.studies.effort import FULLY_ON
from circuit.studies.hands import PSI, CannotAsk, fed_heads, standing
from circuit.studies.once import once, simulate
from circuit.studies.spread import causes_of, plan
from circuit.units import ATMOSPHERE

USUAL = 3 * PSI / 60.0
"""Pa/s at full pressure: the most that driver's manuals allow a single vehicle with the brakes applied, 3 psi/min."""
DONE = ATMOSPHERE + 15 * PSI
"""Absolute Pa in the lowest reservoir below which nothing more is looked for; our choice."""
LONGEST = 4 * 3600.0
"""s that a leak is watched at most; our choice."""
HOLE = Cause(HOLES, Range(0.64, 1.0, 1.44, "even", "diameter of a hole 20 % less and more; our choice"))
ENOUGH = 0.9
"""Share of the drawn vehicles that must have a moment for its range to be told; our choice."""
_NOT_SPRINGS = frozenset({"working-stroke", "spring-force", "conductance"})


class Moment(NamedTuple):
    """time: s, as assumed. what: happens. level: absolute Pa in the reservoirs then, lowest and highest. early, late: s, where
    5 and 95 % of plausible vehicles have it; None where too few have it at all."""

    time: float
    what: str
    level: tuple[float, float]
    early: float | None = None
    late: float | None = None


class LeakDown(NamedTuple):
    """holes: place to diameter, m. rate: Pa/s at the start in each leaking reservoir. start: absolute Pa. ends: s, when
    the last was watched."""

    circuit: Circuit
    start: float
    rate: float
    holes: tuple[tuple[str, float], ...]
    moments: tuple[Moment, ...]
    warned_first: bool | None
    trace: Trace
    assumed: tuple[Assumed, ...]
    notes: tuple[str, ...]


def hole_for(volume: float, pressure: float, rate: float, temperature: float = REFERENCE_TEMPERATURE) -> float:
    """Diameter, m, of the sharp hole by which a volume, m3, at an absolute pressure, Pa, falls by `rate`, Pa/s.

    The flow is choked: V rate / (R T) = C rho0 p sqrt(T0/T). 75 L at 120 psi that lose 2 psi a minute need 0.43 mm.

    >>> round(hole_for(0.075, 101325 + 120 * 6894.757, 2 * 6894.757 / 60) * 1e3, 2)
    0.43
    """
    return hole_passing(volume * rate / (GAS_CONSTANT * temperature), pressure, temperature)


@once
def leak_down(circuit: Circuit, rate: float = USUAL, places: tuple[str, ...] = (),
              options: Options = Options()) -> LeakDown:
    """The time line. rate: Pa/s by which each leaking reservoir falls at first. places: what leaks; all brake
    reservoirs when there is none. Raises CannotAsk without reservoirs, NoSuchPlace for a place that is not there."""
    tanks = circuit.reservoirs_for("supply", "service", "parking")
    if not tanks:
        raise CannotAsk("there is no reservoir here that could leak down")
    start = full_pressure(circuit)
    holes = []
    actions: list[Action] = [stop_feeding(head.name, 0.0) for head in fed_heads(circuit, "supply")]
    leaking = places or tuple(tank.name for tank in tanks)
    for name in leaking:
        tank = circuit.by_name.get(name)
        volume = float(tank.settings["volume"]) if tank is not None and tank in tanks else 0.0
        volume = volume or max(float(t.settings["volume"]) for t in tanks)
        holes.append((name, hole_for(volume, start, rate)))
        actions.append(leak(name, holes[-1][1], 0.0))
    until = 3600.0
    while True:
        trace = simulate(circuit, standing(circuit, start, *actions), until, options=options)
        if until >= LONGEST or min(trace.last(circuit.store(tank)) for tank in tanks) < DONE:
            break
        until *= 2
    causes = (*causes_of(circuit, options), HOLE)
    shares = plan(circuit.draws._replace(runs=circuit.draws.slow), len(causes))
    drawn = [trace]
    if len(shares) > 1:
        drawn = simulate_drawn(circuit, standing(circuit, start, *actions), causes, shares, until, options=options)
    moments = _over(_moments(circuit, trace, tanks), [_moments(circuit, each, tanks) for each in drawn])
    acting = {device.name for trait in (Trait.SPRING_ACTUATOR, Trait.PARK_CONTROL, Trait.PROTECTS_TOWING)
              for device in circuit.having(trait)}
    return LeakDown(circuit, start, rate, tuple(holes), moments, _warned_first(moments), trace,
                    assumed_of(circuit, acting, _NOT_SPRINGS), trace.notes)


def _over(moments: tuple[Moment, ...], drawn: list[tuple[Moment, ...]]) -> tuple[Moment, ...]:
    """The moments as assumed, with when the drawn vehicles have the same."""
    found = []
    for moment in moments:
        times = sorted(each.time for row in drawn for each in row if each.what == moment.what)
        if len(times) >= ENOUGH * len(drawn):
            last = len(times) - 1
            moment = moment._replace(early=times[round(0.05 * last)], late=times[round(0.95 * last)])
        found.append(moment)
    return tuple(found)


def _moments(circuit: Circuit, trace: Trace, tanks: tuple[Device, ...]) -> tuple[Moment, ...]:
    found: list[tuple[float, str]] = []
    for switch in circuit.having(Trait.WARNS_LOW):
        time = trace.first_time(circuit.store(switch), switch.settings["on-below"], rising=False)
        if time is not None:
            found.append((time, f"{switch.name} warns"))
    for event in trace.events:
        device = circuit.by_name.get(event.device)
        if event.time <= 0 or device is None or "switch" in event.variable:
            continue
        if "pushed" in event.variable and event.value == 0:
            knob = "" if event.variable == "pushed" else f", its {event.variable.removesuffix('-pushed')} knob"
            found.append((event.time, f"{device.title} pops out{knob}"))
        elif event.variable == "open" or event.variable.startswith("open-"):
            found.append((event.time, f"{device.title} {'opens' if event.value else 'shuts'}"
                          + (f" {event.variable[5:]}" if event.variable != "open" else "")))
        elif event.variable == "unloading":
            continue
        else:
            found.append((event.time, f"{device.title}: {event.variable} {'on' if event.value else 'off'}"))
    for chambers in _alike(circuit, trace):
        for what, level in (("begin to come on", chambers[0].settings["holds-off-at"]), ("are fully on", FULLY_ON)):
            time = trace.first_time(circuit.spring_space(chambers[0]), level, rising=False)
            if time is not None:
                found.append((time, f"springs {what}: {', '.join(chamber.name for chamber in chambers)}"))
    merged = sorted(dict.fromkeys(found))
    return tuple(Moment(time, what, _level(circuit, trace, tanks, time)) for time, what in merged)


def _alike(circuit: Circuit, trace: Trace) -> list[tuple[Device, ...]]:
    """Spring chambers that share one fate: their springs begin at the same tenth of a second."""
    groups: dict[tuple[float | None, float], list[Device]] = {}
    for chamber in circuit.having(Trait.SPRING_ACTUATOR):
        level = chamber.settings["holds-off-at"]
        time = trace.first_time(circuit.spring_space(chamber), level, rising=False)
        groups.setdefault((None if time is None else round(time, 1), level), []).append(chamber)
    return [tuple(group) for group in groups.values()]


def _level(circuit: Circuit, trace: Trace, tanks: tuple[Device, ...], time: float) -> tuple[float, float]:
    levels = [trace.pressure(circuit.store(tank), time) for tank in tanks]
    return min(levels), max(levels)


def _warned_first(moments: tuple[Moment, ...]) -> bool | None:
    """Whether a warning comes before any spring is on; None where there is no warning or no spring."""
    warns = next((m.time for m in moments if m.what.endswith(" warns")), None)
    springs = next((m.time for m in moments if m.what.startswith("springs are fully on") or "pops out" in m.what), None)
    return None if warns is None or springs is None else warns < springs
