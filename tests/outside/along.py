"""A tank, a foot valve, a line and a chamber in one dimension, written without the program: momentum, friction and heat.

The line is cells with the flow at the faces between them: pressure and energy in the cells, momentum at the faces (half a
head and the speed's own are lost where air enters, the speed's own where it leaves), Blasius' friction or laminar, and heat
from the wall by Dittus and Boelter or laminar. Every vessel has an energy balance, with walls that pass `WALLS`. Explicit,
in steps that sound takes to cross part of a cell. Units are SI, pressures absolute.
"""

from math import pi, sqrt
from typing import NamedTuple

import numpy as np

R, GAMMA, ROOM, AIR = 287.05, 1.4, 293.15, 101325.0
CP = R * GAMMA / (GAMMA - 1)
VISCOSITY, CONDUCTS, PRANDTL = 1.82e-5, 0.0257, 0.71
RHO0, T0 = 1.185, 293.15
WALLS = 40.0
"""W/(m2 K) at the walls of vessels, from memory: 20 to 60."""
CELL = 0.05
"""m of a cell at most; halving it moves the times below by less than 1 %."""
ENTRY = 0.5
CALM = 0.01
QUICKEST = 2e-5
"""s of a step at most: the valve's outlet is small."""


class Bench(NamedTuple):
    """A tank behind a foot valve, m3; conductance of the valve, m3/(s Pa), with its critical ratio; the pressures that it opens
    over and laps within; its outlet's volume. The line's length and bore. The chamber's volume by pressure: rising pressures
    with volumes, straight between."""

    tank: float
    start: float
    conductance: float
    ratio: float
    opening: float
    lap: float
    outlet: float
    length: float
    bore: float
    pressures: tuple[float, ...]
    volumes: tuple[float, ...]


def passes(up: float, down: float, warm: float, conductance: float, ratio: float) -> float:
    """kg/s by ISO 6358, exponent 0.5, smooth through no flow."""
    if down >= up:
        return 0.0
    part = down / up
    left = 1.0 if part <= ratio else max(0.0, 1.0 - ((part - ratio) / (1.0 - ratio)) ** 2)
    return conductance * RHO0 * up * sqrt(T0 / warm) * left * sqrt((1.0 + CALM) / (left + CALM))


def smooth(push: float) -> float:
    x = min(1.0, max(0.0, push))
    return x * x * (3.0 - 2.0 * x)


def wall(volume: float) -> float:
    """m2 of a cube."""
    return 6.0 * volume ** (2.0 / 3.0)


def times(bench: Bench, pedal, until: float, level: float, rising: bool, filled: float = AIR, cell: float = CELL) -> float:
    """s until the chamber passes a level, or nan. pedal: absolute Pa asked for, by time. filled: absolute Pa in line and
    chamber at the start."""
    count = max(6, round(bench.length / cell))
    dx, area = bench.length / count, 0.25 * pi * bench.bore**2
    pressure = np.full(count + 2, filled)
    volume = np.array([bench.outlet, *[area * dx] * count, np.interp(filled, bench.pressures, bench.volumes)])
    mass = pressure * volume / (R * ROOM)
    flow = np.zeros(count + 1)
    tank, held = bench.start, bench.start * bench.tank / (R * ROOM)
    steps = dx * np.array([0.5, *[1.0] * (count - 1), 0.5])
    walls = WALLS * np.array([wall(bench.outlet), *[0.0] * count, wall(bench.volumes[-1])])
    step, t, before = min(0.35 * dx / 480.0, QUICKEST), 0.0, (filled, 0.0)
    while t < until:
        warm = pressure * volume / (mass * R)
        density = mass / volume
        up = np.where(flow >= 0.0, density[:-1], density[1:])
        speed = flow / (up * area)
        reynolds = np.maximum(np.abs(flow) * bench.bore / (area * VISCOSITY), 1.0)
        friction = np.where(reynolds < 2300.0, 64.0 / reynolds, 0.316 / reynolds**0.25)
        head = 0.5 * up * speed * np.abs(speed)
        lost = friction * steps / bench.bore * head
        lost[0] += ENTRY * head[0] if flow[0] > 0 else 0.0
        lost[-1] += ENTRY * head[-1] if flow[-1] < 0 else 0.0
        carried = flow * speed / area
        inside = 0.5 * (carried[:-1] + carried[1:])
        gained = np.empty(count + 1)
        gained[1:-1] = inside[:-1] - inside[1:]
        gained[0] = head[0] - inside[0] if flow[0] > 0 else -inside[0] - 2.0 * head[0]
        gained[-1] = inside[-1] - 2.0 * head[-1] if flow[-1] > 0 else inside[-1] + head[-1]
        flow = flow + step * area / steps * (pressure[:-1] - pressure[1:] - lost + gained)
        enthalpy = CP * np.where(flow >= 0.0, warm[:-1], warm[1:]) * flow
        asked = pedal(t)
        fed = passes(tank, pressure[0], tank * bench.tank / (held * R),
                     bench.conductance * smooth((asked - pressure[0]) / bench.opening), bench.ratio)
        lap = bench.lap if asked > AIR else 0.0
        out = passes(pressure[0], AIR, float(warm[0]),
                     bench.conductance * smooth((pressure[0] - asked - lap) / bench.opening), bench.ratio)
        own = tank * bench.tank / (held * R)
        power = np.zeros(count + 2)
        power[:-1] -= enthalpy
        power[1:] += enthalpy
        power[0] += CP * (fed * own - out * warm[0])
        nusselt = np.where(reynolds < 2300.0, 3.66, 0.023 * reynolds**0.8 * PRANDTL**0.4)
        passing = nusselt * CONDUCTS / bench.bore * pi * bench.bore
        power[1:-1] += 0.5 * (passing[:-1] + passing[1:]) * dx * (ROOM - warm[1:-1])
        power += walls * (ROOM - warm)
        rate = np.zeros(count + 2)
        rate[:-1] -= flow
        rate[1:] += flow
        rate[0] += fed - out
        slope = np.zeros(count + 2)
        slope[-1] = (np.interp(pressure[-1] + 50.0, bench.pressures, bench.volumes)
                     - np.interp(pressure[-1] - 50.0, bench.pressures, bench.volumes)) / 100.0
        pressure = pressure + step * (GAMMA - 1.0) * power / (volume + GAMMA * pressure * slope)
        volume[-1] = np.interp(pressure[-1], bench.pressures, bench.volumes)
        mass = mass + step * rate
        heat = WALLS * wall(bench.tank) * (ROOM - own)
        tank += step * (GAMMA - 1.0) * (heat - CP * fed * own) / bench.tank
        held -= step * fed
        t += step
        now = float(pressure[-1])
        if (now >= level) is rising:
            share = (level - before[0]) / (now - before[0])
            return before[1] + share * (t - before[1])
        before = (now, t)
    return float("nan")
