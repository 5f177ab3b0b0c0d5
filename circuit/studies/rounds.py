"""The governor's round from cut-in to cut-out, and how soon the reservoirs are full again after applications."""

from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.gas.constants import GAS_CONSTANT
from circuit.gas.flow import hole_passing
from circuit.model.circuit import Circuit
from circuit.sim import Action, Engine, Options, Script, leak, start_engine
from circuit.studies.hands import FOOT, PSI, CannotAsk, apply, let_go
from circuit.studies.knobs import LONGEST
from circuit.studies.once import simulate

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
    """A round, played: holes in the reservoirs let out evenly what leaks and applications would take.

    So it counts lines, cavities and what the dryer blows out. It is the round after the first start, and None where the
    governor never stops the compressor although nothing is used.
    """
    governor = circuit.having(Trait.GOVERNS)[0]
    low, high = governor.settings["cut-in"], governor.settings["cut-out"]
    gas = GAS_CONSTANT * options.temperature
    leaks = {tank.name: float(tank.settings["volume"]) * LEAK_A_MINUTE / 60.0 / gas for tank in circuit.reservoirs}
    taken = _taken_by_one(circuit, options)
    each_second = APPLICATIONS_A_MINUTE / 60.0
    # a hole passes as the pressure is, and a full application takes as much; one took `taken` from full reservoirs
    mean = (low + high) / 2 / high
    holes = [leak(name, hole_passing(lost / mean + taken.get(name, 0.0) * each_second, high, options.temperature), 0.0)
             for name, lost in leaks.items()]
    by_leak, by_braking = sum(leaks.values()), sum(taken.values()) * each_second
    until = 300.0 + 2 * by_leak * 60.0 / LEAK_A_MINUTE * (high - low) / (by_leak + by_braking)
    while True:
        script = Script(tuple(holes), pressures={"reservoirs": high - PSI})
        trace = simulate(circuit, script, until, engine=Engine(True), options=options)
        turns = [e for e in trace.events if (e.device, e.variable) == (governor.name, "unloading")]
        begins = next((number for number, turn in enumerate(turns) if turn.value == 0.0), len(turns))
        if begins + 2 < len(turns):
            starts, stops, again = (turn.time for turn in turns[begins:begins + 3])
            return Cycle(stops - starts, again - stops, by_leak, by_braking)
        if until >= LONGEST:
            break
        until = min(3 * until, LONGEST)
    unused = back(circuit, options, start=low)
    return None if unused is None else Cycle(unused, 0.0, by_leak, by_braking)


def _taken_by_one(circuit: Circuit, options: Options) -> dict[str, float]:
    """kg of air that one full application takes from full reservoirs, by the reservoirs that lose it."""
    try:
        actions = (*apply(circuit, 0.0, None, FOOT), *let_go(circuit, HALT / 2, FOOT))
    except CannotAsk:
        return {}
    still, used = (simulate(circuit, Script(done, states=_full(circuit).states), HALT, options=options)
                   for done in ((), actions))
    lost = {tank.name: float(tank.settings["volume"]) * max(0.0, still.last(space) - used.last(space))
            for tank in circuit.reservoirs_for("supply", "service", "parking")
            for space in (circuit.store(tank),)}
    whole = still.balance.last - used.balance.last
    every = sum(lost.values())
    return {name: whole * share / every for name, share in lost.items()} if every > 0.0 < whole else {}


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
