"""The governor's round from cut-in to cut-out, and how soon the reservoirs are full again after applications."""

from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.gas.constants import GAS_CONSTANT
from circuit.model.circuit import Circuit
from circuit.sim import Action, Engine, Options, Script, simulate, start_engine
from circuit.studies.hands import FOOT, PSI, CannotAsk, apply, let_go
from circuit.studies.knobs import LONGEST

HALT = 4.0
"""s of one application and its release, half each; our choice."""
LEAK_A_MINUTE = 2 * PSI
"""Pa that the stored air may fall in a minute with the brakes released: a single vehicle, driver's manuals."""
APPLICATIONS_A_MINUTE = 1.0
"""Full applications a minute that the duty is worked out for; our choice, hard town driving."""


class Cycle(NamedTuple):
    """The governor's round with a stated use of air. pumping: s from cut-in to cut-out. resting: s until cut-in
    again, 0 where the compressor never catches up with the use. by_leak, by_braking: the two parts of the use, kg/s."""

    pumping: float
    resting: float
    by_leak: float
    by_braking: float

    @property
    def duty(self) -> float:
        """Share of the time that the compressor works; 1 where it never catches up."""
        return self.pumping / (self.pumping + self.resting)


class Recovery(NamedTuple):
    """After some full applications with the engine running. lowest: absolute Pa in the lowest service reservoir. again:
    s from the last release until the compressor stops; 0 where it did not start, None if never."""

    applications: int
    lowest: float
    again: float | None


def _full(circuit: Circuit) -> Script:
    """Full reservoirs, the governors having stopped the compressor."""
    return Script(states={(d.name, "unloading"): 1.0 for d in circuit.having(Trait.GOVERNS)})


def cycle(circuit: Circuit, options: Options) -> Cycle | None:
    """Cut-in to cut-out with all reservoirs at cut-in, knobs in; the rest is air held over air used."""
    governor = circuit.having(Trait.GOVERNS)[0]
    low, high = governor.settings["cut-in"], governor.settings["cut-out"]
    until = 300.0
    while True:
        trace = simulate(circuit, Script(pressures={"reservoirs": low}), until, engine=Engine(True), options=options)
        stops = next((e.time for e in trace.events if e.variable == "unloading" and e.value > 0), None)
        if stops is not None or until >= LONGEST:
            break
        until = min(4 * until, LONGEST)
    if not stops:
        return None
    volume = sum(float(tank.settings["volume"]) for tank in circuit.reservoirs)
    gas = GAS_CONSTANT * options.temperature
    held = volume * (high - low) / gas
    leak = volume * LEAK_A_MINUTE / 60.0 / gas
    braking = _used_by_one(circuit, options) * APPLICATIONS_A_MINUTE / 60.0
    made = held / stops
    pumping = held / (made - leak - braking) if made > leak + braking else float("inf")
    if pumping == float("inf"):
        return Cycle(stops, 0.0, leak, braking)
    return Cycle(pumping, held / (leak + braking), leak, braking)


def _used_by_one(circuit: Circuit, options: Options) -> float:
    """kg of air that one full application takes."""
    script = _full(circuit)
    try:
        actions = (*apply(circuit, 0.0, None, FOOT), *let_go(circuit, HALT / 2, FOOT))
    except CannotAsk:
        return 0.0
    trace = simulate(circuit, Script(actions, states=script.states), HALT, options=options)
    tanks = [(float(tank.settings["volume"]), circuit.store(tank))
             for tank in circuit.reservoirs_for("supply", "service", "parking")]
    lost = sum(volume * (trace.pressure(space, 0.0) - trace.last(space)) for volume, space in tanks)
    return max(0.0, lost) / (GAS_CONSTANT * options.temperature)


def applications(circuit: Circuit, count: int, options: Options) -> Recovery:
    actions = []
    for number in range(count):
        actions += [*apply(circuit, number * HALT, None, FOOT), *let_go(circuit, number * HALT + HALT / 2, FOOT)]
    since = count * HALT - HALT / 2
    script = Script(tuple(actions), states=_full(circuit).states)
    until = 300.0
    while True:
        trace = simulate(circuit, script, until, engine=Engine(True), options=options)
        lowest = min(trace.lowest(circuit.store(tank)) for tank in circuit.reservoirs_for("service"))
        pumps = [e for e in trace.events if e.variable == "unloading"]
        if not pumps:
            return Recovery(count, lowest, 0.0)
        if pumps[-1].value > 0:
            return Recovery(count, lowest, max(0.0, pumps[-1].time - since))
        if until >= LONGEST:
            return Recovery(count, lowest, None)
        until = min(4 * until, LONGEST)


def back(circuit: Circuit, options: Options, count: int = 0, start: float | None = None) -> float | None:
    """s until the compressor stops; None if never.

    count: full applications before it, the engine off; start: absolute Pa in all reservoirs, just below the governor's
    cut-out where it is None.
    """
    high = min(governor.settings["cut-out"] for governor in circuit.having(Trait.GOVERNS))
    since = count * HALT
    actions: list[Action] = [start_engine(since)]
    for number in range(count):
        actions += [*apply(circuit, number * HALT, None, FOOT), *let_go(circuit, number * HALT + HALT / 2, FOOT)]
    script = Script(tuple(actions), pressures={"reservoirs": high - PSI if start is None else start})
    until = 300.0
    while True:
        trace = simulate(circuit, script, until, options=options)
        stops = next((e.time for e in trace.events
                      if e.variable == "unloading" and e.value > 0 and e.time > since), None)
        if stops is not None or until >= LONGEST:
            return None if stops is None else stops - since
        until = min(4 * until, LONGEST)
