"""A line as a continuum: one-dimensional flow with the inertia of air and friction at the wall, at one temperature.

Finite volumes with the flux of Harten, Lax and van Leer; walls' friction by Haaland's formula. It knows what the
program leaves out, the front that runs at the speed of sound, and nothing of its conductances.
"""

from math import pi

import numpy as np

from circuit.gas.constants import GAS_CONSTANT, KAPPA

VISCOSITY, ROUGHNESS, ENTRANCE = 1.81e-5, 1.5e-6, 0.5
"""Pa s at 20 °C; m, drawn plastic; share of the velocity head that a sharp entrance takes."""


def filled(bore, length, volume, source, start, until, kelvin=293.15, cells=120):
    """Times and pressures in a volume (m3) behind a line that is joined to a source at once. Pressures absolute Pa."""
    gas, area, dx = GAS_CONSTANT * kelvin, pi / 4 * bore**2, length / cells
    speed = gas**0.5
    density, flow = np.full(cells, start / gas), np.zeros(cells)
    end, now = start, 0.0
    times, found = [0.0], [start]
    while now < until:
        velocity = flow / density
        dt = 0.4 * dx / (speed + float(np.abs(velocity).max()))
        into = min(max(float(velocity[0]), 0.0), (KAPPA * gas) ** 0.5)
        mouth = source * (1 + (KAPPA - 1) / 2 * into**2 / (KAPPA * gas)) ** (-KAPPA / (KAPPA - 1)) / gas
        mouth -= ENTRANCE * mouth * into**2 / 2 / gas
        out = float(velocity[-1])
        wide = np.concatenate([[mouth], density, [end / gas]])
        moving = np.concatenate([[mouth * into], flow, [end / gas * out]])
        u = moving / wide
        low, high = np.minimum(u[:-1], u[1:]) - speed, np.maximum(u[:-1], u[1:]) + speed
        low, high = np.minimum(low, 0.0), np.maximum(high, 0.0)
        carried = moving * u + wide * gas

        def flux(value, goes):
            return (high * goes[:-1] - low * goes[1:] + low * high * (value[1:] - value[:-1])) / (high - low)

        mass, push = flux(wide, moving), flux(moving, carried)
        reynolds = np.maximum(np.abs(flow) * bore / VISCOSITY, 1.0)
        factor = (1.8 * np.log10(6.9 / reynolds + (ROUGHNESS / (3.7 * bore)) ** 1.11)) ** -2
        factor = np.where(reynolds < 2300, 64 / reynolds, factor)
        density = density - dt / dx * (mass[1:] - mass[:-1])
        flow = flow - dt / dx * (push[1:] - push[:-1])
        flow = flow / (1 + dt * factor * np.abs(flow) / density / (2 * bore))
        end += dt * float(mass[-1]) * area * gas / volume
        now += dt
        times.append(now)
        found.append(end)
    return np.array(times), np.array(found)
