"""A circuit as a netlist for an electrical circuit solver: pressures are voltages in bar, flows of air currents in g/s.

Every space is a capacitor that holds the charge p V(p)/(R T); every way is a current source with the flow law of ISO
6358, opened by the valve's own balance. Only the network's parameters come from the package (conductances, critical
ratios, volumes by pressure, what opens what); the equations are written here. All air has one temperature. Where a
valve snaps over on the way, the moment is that of our own run.
"""

import re
import subprocess
from pathlib import Path

import numpy as np

from circuit.gas.compressor import EXPANSION
from circuit.gas.constants import GAS_CONSTANT, REFERENCE_DENSITY, REFERENCE_TEMPERATURE
from circuit.sim.arrays import NOTHING, ONE_WAY, PUMP
from circuit.sim.assemble import SEATS
from tests.outside import program

LAW = """\
.func smooth(x) {min(max(x, 0), 1) * min(max(x, 0), 1) * (3 - 2 * min(max(x, 0), 1))}
.func past(up, down, b) {max(down / max(up, 1m) - b, 0) / (1 - b)}
.func shape(z, m, d) {(1 - z * z) * pow((1 + d) / (max(1 - z * z, 0) + d), 1 - m)}
.func law(a, b, r, m, d) {max(a, b) * shape(past(max(a, b), min(a, b), r), m, d) * (a > b ? 1 : -1)}
"""
OPTIONS = ".options method=gear maxord=2 reltol={tolerance:g} abstol=1e-9 vntol=1e-7 gmin=1e-15 itl4=100"


class Netlist:
    """The netlist of a prepared run. events: what snaps over in it. step: the longest, s."""

    def __init__(self, problem, until, events=(), step=5e-3, tolerance=1e-6):
        self.network, self.problem = problem.network, problem
        self.sums = self.network.sums
        self.options = self.network.options
        self.start = list(problem.start)
        self.moving: set[int] = set()
        lines = ["* spaces as capacitors, ways as current sources", LAW]
        lines += self._inputs(until, events)
        lines += [line for node in range(len(self.network.names)) for line in self._space(node)]
        lines += [
            line
            for number, element in enumerate(self.network.elements)
            if (line := self._way(number, element)) is not None
        ]
        lines += [OPTIONS.format(tolerance=tolerance), f".tran {step:g} {until:g} 0 {step:g}"]
        self.text = "\n".join(lines)

    def _inputs(self, until, events):
        """Pedals, levers, held pressures and what snaps over: a source for each that changes."""
        found = []
        courses = {slot: list(course.moments) for slot, course in self.problem.plan.courses.items()}
        for event in events:
            slot = self.sums.inputs[event.device, event.variable]
            courses.setdefault(slot, [(0.0, self.start[slot], 0.0)]).append((event.time, event.value, 0.0))
        for slot, course in sorted(courses.items()):
            [*_, first] = (moment for moment in course if moment[0] == 0.0)  # the last to be said counts
            moments = [first, *sorted(moment for moment in course if 0.0 < moment[0] <= until)]
            if len(moments) == 1 and not moments[0][2]:
                self.start[slot] = moments[0][1]
                continue
            self.moving.add(slot)
            points = []
            for (time, value, rate), (after, *_) in zip(moments, [*moments[1:], (until + 1.0,)]):
                points += [time + (1e-6 if points else 0.0), value, after, value + rate * (after - time)]
            found.append(f"Vin{slot} in{slot} 0 PWL(" + " ".join(f"{x:.12g}" for x in points) + ")")
        return found

    def _input(self, slot):
        return f"V(in{slot})" if slot in self.moving else f"{self.start[slot]:.17g}"

    def _pressure(self, end):
        """Bar at an element's end."""
        if end >= 0:
            return f"V(n{end})"
        if end < -2:
            return f"({self._input(self.network.outside[-3 - end])} * 1e-5)"
        return f"{self.network.ambient / 1e5:.12g}"

    def _space(self, node):
        pressure = self.problem.pressures[node] / 1e5
        volumes = self.network.volumes[node]
        gram = 1e8 / (GAS_CONSTANT * self.options.temperature)  # for each bar and m3
        yield f".ic V(n{node})={pressure:.12g}"
        if all(len(knots) == 1 for knots in volumes):
            yield f"C{node} n{node} 0 {gram * sum(knots[0].volume for knots in volumes):.12g}"
        else:
            total = " + ".join(self._volume(knots, f"V(n{node})") for knots in volumes)
            yield f"C{node} n{node} 0 Q = '{gram:.12g} * V(n{node}) * ({total})'"

    def _volume(self, knots, p):
        """m3 by bar: between two knots the cubic of Hermite with their volumes and slopes."""
        last = knots[-1]
        text = f"({last.volume:.12g} + {last.slope * 1e5:.12g} * ({p} - {last.pressure / 1e5:.12g}))"
        for one, two in reversed(list(zip(knots, knots[1:]))):
            wide = (two.pressure - one.pressure) / 1e5
            s = f"(({p} - {one.pressure / 1e5:.12g}) / {wide:.12g})"
            cubic = (
                f"({one.volume:.12g} * (1 + 2 * {s}) * (1 - {s}) * (1 - {s})"
                f" + {one.slope * 1e5 * wide:.12g} * {s} * (1 - {s}) * (1 - {s})"
                f" + {two.volume:.12g} * {s} * {s} * (3 - 2 * {s})"
                f" + {two.slope * 1e5 * wide:.12g} * {s} * {s} * ({s} - 1))"
            )
            text = f"({p} < {two.pressure / 1e5:.12g} ? {cubic} : {text})"
        return f"({p} < {knots[0].pressure / 1e5:.12g} ? {knots[0].volume:.12g} : {text})" if len(knots) > 1 else text

    def _way(self, number, element):
        if element.gate not in self.moving and self.start[element.gate] == 0.0:
            return None
        here, there = (f"n{end}" if end >= 0 else "0" for end in (element.start, element.end))
        if element.way == PUMP:
            return f"B{number} {here} {there} I = {self._pump(element)}"
        conductance = element.flow / self.network.per_conductance
        scale = conductance * REFERENCE_DENSITY * 1e8 * (REFERENCE_TEMPERATURE / self.options.temperature) ** 0.5
        a, b = self._pressure(element.start), self._pressure(element.end)
        parts = [
            f"{scale:.12g}",
            self._input(element.gate),
            f"law({a}, {b}, {element.ratio:.12g}, {element.subsonic:.12g}, {self.options.laminar:.12g})",
        ]
        if element.root != NOTHING:
            parts.append(f"smooth(({self._opening(element.root)}) / {self.options.opening / 1e5:.12g})")
        if element.way == ONE_WAY:
            parts.append(f"smooth(({a} - {b}) / {SEATS / 1e5:.12g})")
        return f"B{number} {here} {there} I = {' * '.join(parts)}"

    def _pump(self, element):
        """g/s of a compressor: what its dead space leaves of the swept volume, nothing while it is unloaded."""
        ratio = f"{self._pressure(element.end)} / {self.network.ambient / 1e5:.12g}"
        full = f"{element.flow * 1e3:.12g} * {self._input(element.gate)}"
        taken = f"max(1 + {element.ratio:.12g} - {element.ratio:.12g} * pow({ratio}, {1 / EXPANSION:.12g}), 0)"
        if element.root == NOTHING:
            return f"{full} * {taken}"
        return f"{full} * {taken} * (1 - smooth(({self._opening(element.root)}) / {self.options.opening / 1e5:.12g}))"

    def _opening(self, code):
        """Bar by which a way is pushed open."""
        if code < 0:
            return self._sum(-1 - code)
        asks, yes, no = self.sums.trees[code]
        return f"({self._sum(asks)} > 0 ? {self._opening(yes)} : {self._opening(no)})"

    def _sum(self, number):
        """Bar, of a weighted sum in Pa; some pressures are weighed by another such sum, a lever's share for one."""
        parts = [f"{self.sums.constant[number] / 1e5:.12g}"]
        parts += [f"{term.weight:.12g} * V(n{term.node})" for term in self.sums.terms[number]]
        parts += [f"{weight / 1e5:.12g} * {self._input(slot)}" for k, slot, weight in self.sums.entries if k == number]
        for product in self.sums.products:
            if product.sum == number:
                lever = f"{product.weight * 1e5:.12g} * {self._sum(product.factor)}"
                parts.append(f"{lever} * V(n{self.sums.terms[number][product.term].node})")
        return "(" + " + ".join(parts) + ")"


def solved(netlist, nodes, folder: Path):
    """Times, s, and pressures of some nodes, Pa: a row each time."""
    deck, data = folder / "circuit.cir", folder / "found.data"
    names = " ".join(f"v(n{node})" for node in nodes)
    control = [
        f".save {names}",
        ".control",
        "set wr_singlescale",
        "set numdgt=9",
        "run",
        f"wrdata {data} {names}",
        "quit",
        ".endc",
        ".end",
    ]
    deck.write_text("\n".join([netlist.text, *control, ""]), encoding="utf-8")
    said = subprocess.run(
        [program("ngspice"), "-b", str(deck)], capture_output=True, text=True, timeout=300, check=False
    )
    if not data.exists() or re.search(r"error|too small|aborted", said.stdout + said.stderr, re.IGNORECASE):
        raise ArithmeticError(f"ngspice:\n{said.stdout[-2000:]}\n{said.stderr[-2000:]}")
    found = np.loadtxt(data)
    return found[:, 0], found[:, 1:] * 1e5
