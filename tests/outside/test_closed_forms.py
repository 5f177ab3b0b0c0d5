"""Filling, emptying and evening out, by their exact solutions.

tau = V/(C p_ref), with p_ref = rho0 R T0. The closed forms were derived by hand from the flow law of ISO 6358 with
m = 0.5 and checked against quadrature; the smooth zone around no flow is made very small.
"""

from dataclasses import replace
from math import asin, exp, log, pi, sin, sqrt

import pytest

from circuit.gas.constants import GAS_CONSTANT, KAPPA, REFERENCE_DENSITY, REFERENCE_TEMPERATURE
from circuit.gas.drawdown import filling_time
from circuit.gas.flow import from_area, hole
from circuit.sim import Engine, Options, Script, feed, leak, move, open_up, simulate
from circuit.units import ATMOSPHERE
from tests.sim.designs import BAR, PSI, built, gauge

REFERENCE = REFERENCE_DENSITY * GAS_CONSTANT * REFERENCE_TEMPERATURE
EXACT = Options(method="rodas4", tolerance=0.01, laminar=1e-9, smallest=0.0, engine="plain")
ADIABATIC = replace(EXACT, exponent=KAPPA)
BARE = "reservoir tank: volume 10 L, rated 10 bar, role service\n"
TANK = BARE + "drain tap: on tank, placed lowest, conductance 4 L/(s.bar)\n"
VOLUME = 10e-3 + 2e-6
"""m3; the drain's own 2 cm3 is on the tank."""
TAU = VOLUME / (4e-8 * REFERENCE)
FULL = 8 * BAR


def emptied(options=EXACT, until=6.0):
    return simulate(built(TANK), Script((open_up("tap", 0.0),), pressures={"tank": FULL}), until, options=options)


def subsonic(b):
    """Time in tau (1 - b) to empty from the choked range to x = atmosphere over pressure."""
    c = 1 - 2 * b

    def form(x):
        if c == 0:
            return -2 * sqrt((1 - x) / x)
        return -(1 / sqrt(c)) * log((2 * c + 2 * b * x + 2 * sqrt(c) * sqrt(c + 2 * b * x - x * x)) / x)

    return lambda x: form(x) - form(b)


def test_blow_down_choked(table):
    against = table.against("closed form", "p0 exp(-t/tau), heat passing freely")
    trace = emptied()
    for time in (0.3, 1.0, 2.0):
        against(
            f"10 L from 8 bar through 4 L/(s bar), pressure after {time:g} s",
            outside=FULL / 1e3 * exp(-time / TAU),
            ours=trace.pressure("tank", time) / 1e3,
            unit="kPa",
            within=1e-4,
        )


def test_blow_down_into_the_subsonic_range(table):
    against = table.against("closed form", "integral of ISO 6358 with m = 0.5, heat passing freely")
    drained, choked = emptied(), TAU * log(FULL * 0.3 / ATMOSPHERE)
    for low in (2.5 * BAR, 1.2 * BAR, gauge(5)):
        against(
            f"10 L from 8 bar through 4 L/(s bar), b = 0.3, time to {low / 1e3:.1f} kPa",
            outside=choked + 0.7 * TAU * subsonic(0.3)(ATMOSPHERE / low),
            ours=drained.first_time("tank", low, rising=False),
            unit="s",
            within=1e-5,
        )
    # a hole of the same conductance has b = 0.5, where the integral has another form
    wide = 1e-3 * sqrt(4e-8 / hole(1e-3))
    tau = 10e-3 / (4e-8 * REFERENCE)
    script = Script((leak("tank", wide, 0.0),), pressures={"tank": FULL})
    holed = simulate(built(BARE), script, 6.0, options=EXACT)
    against(
        "10 L from 8 bar through a hole of 4 L/(s bar), b = 0.5, time to 5 psi",
        outside=tau * (log(FULL * 0.5 / ATMOSPHERE) + 0.5 * subsonic(0.5)(ATMOSPHERE / gauge(5))),
        ours=holed.first_time("tank", gauge(5), rising=False),
        unit="s",
        within=1e-5,
    )


@pytest.fixture(scope="module")
def filled():
    script = Script((feed("tank", FULL, 0.0),), pressures={"tank": ATMOSPHERE})
    return {options.exponent: simulate(built(BARE), script, 1.6, options=options) for options in (EXACT, ADIABATIC)}


def test_filling_from_a_constant_source(table, filled):
    """No heat passing, the energy of what flows in makes the pressure rise kappa times as fast: it has its own
    temperature, whatever that of the tank. Choked the pressure rises evenly, then as a sine."""
    tau, b, start = 10e-3 / (10e-8 * REFERENCE), 0.4, ATMOSPHERE / FULL
    for exponent, heat in ((1.0, "heat passing freely"), (KAPPA, "no heat passing")):
        trace, quick = filled[exponent], tau / exponent
        against = table.against("closed form", f"even rise while choked, then a sine; {heat}")
        choked = (b - start) * quick
        words = f"10 L from 8 bar through 10 L/(s bar), b = 0.4, {heat}"
        against(
            f"{words}: time to 280 kPa, choked",
            outside=(0.35 - start) * quick,
            ours=trace.first_time("tank", 0.35 * FULL),
            unit="s",
            within=1e-5,
        )
        against(
            f"{words}: time to 720 kPa, subsonic",
            outside=choked + (1 - b) * quick * asin(0.5 / 0.6),
            ours=trace.first_time("tank", 0.9 * FULL),
            unit="s",
            within=1e-5,
        )
        against(
            f"{words}: pressure 0.2 s after the end of choking",
            outside=FULL / 1e3 * (b + (1 - b) * sin(0.2 / ((1 - b) * quick))),
            ours=trace.pressure("tank", choked + 0.2) / 1e3,
            unit="kPa",
            within=1e-4,
        )
        assert trace.pressure("tank", quick * (b - start + (1 - b) * pi / 2) + 0.05) == pytest.approx(FULL, abs=1.0)


def test_blow_down_without_heat(table):
    """What leaves has cooled, and a run keeps all air at one temperature: with exponent 1.4 it falls too fast."""
    trace = emptied(ADIABATIC)
    against = table.against("closed form", "p0 exp(-n t/tau), the outflowing air at the stated temperature")
    against(
        "8 bar blown down with exponent 1.4, pressure after 1 s",
        outside=FULL / 1e3 * exp(-KAPPA / TAU),
        ours=trace.pressure("tank", 1.0) / 1e3,
        unit="kPa",
        within=1e-4,
    )
    against = table.against(
        "closed form",
        "energy balance of a tank that cools, p0 (1 + (k-1) t/(2 tau))^(-2k/(k-1)); "
        "the difference is the price of one temperature for all air",
    )
    free = emptied()
    for share, most in ((0.9, 1.0), (0.7, 3.0), (0.5, 6.0)):
        outside = 2 * TAU / (KAPPA - 1) * (share ** (-(KAPPA - 1) / (2 * KAPPA)) - 1)
        ours, slow = (run.first_time("tank", share * FULL, rising=False) for run in (trace, free))
        against(
            f"8 bar blown down without heat, time to {share:.0%} of the pressure",
            outside=outside,
            ours=ours,
            unit="s",
            percent=most,
        )
        assert ours < outside < slow  # whatever heat passes, the real fall lies between the two exponents


def test_a_tank_of_a_textbook_listing(table):
    """850 L at 600 kPa and 293 K, a hole of 10 mm with coefficient 1, 100 kPa outside, R = 286.5."""
    per_area = sqrt(KAPPA / 286.5) * (2 / (KAPPA + 1)) ** ((KAPPA + 1) / (2 * (KAPPA - 1)))
    area = pi / 4 * 0.010**2
    tau = 0.85 / (area * per_area * 286.5 * sqrt(293.0))
    circuit = built("reservoir tank: volume 850 L, rated 10 bar, role service\n")
    options = replace(EXACT, altitude=111.0, temperature=293.0)  # 100 kPa up there
    script = Script((leak("tank", 0.010 / sqrt(0.65), 0.0),), pressures={"tank": 600e3 + ATMOSPHERE - 100e3})
    trace = simulate(circuit, script, 70.0, options=options)
    assert trace.pressure("tank", 0.0) == pytest.approx(600e3, abs=50)
    against = table.against(
        "closed form",
        "tank, hole and gas of a published listing of a tank that empties; "
        "heat passing freely, its R = 286.5 against our 287.05",
    )
    against(
        "850 L from 600 to 200 kPa through a hole of 10 mm",
        outside=tau * log(3),
        unit="s",
        percent=0.3,
        ours=trace.first_time("tank", 200e3, rising=False),
    )


def test_a_leak_that_just_passes_the_inspection(table):
    """75 L that lose 2 psi in a minute at 120 psi: C = V (dp/dt)/(p p_ref), here 0.0186 L/(s bar)."""
    against = table.against("closed form", "C = V (dp/dt)/(p p_ref) and p0 exp(-t/tau)")
    conductance = 0.075 * (2 * PSI / 60) / (gauge(120) * REFERENCE)
    wide = sqrt(conductance / (from_area(1.0) * 0.65 * pi / 4))
    against(
        "sharp hole that loses 2 psi a minute from 75 L at 120 psi",
        outside=0.43,
        ours=wide * 1e3,
        unit="mm",
        within=0.005,
    )
    circuit = built("reservoir tank: volume 75 L, rated 10 bar, role service\n")
    trace = simulate(circuit, Script((leak("tank", wide, 0.0),), pressures={"tank": gauge(120)}), 60.0, options=EXACT)
    tau = 0.075 / (conductance * REFERENCE)
    against(
        "75 L at 120 psi with that hole, loss in the first minute",
        outside=gauge(120) / PSI * (1 - exp(-60 / tau)),
        ours=(gauge(120) - trace.last("tank")) / PSI,
        unit="psi",
        within=2e-4,
    )


def test_two_tanks_even_out(table):
    circuit = built(
        "reservoir one: volume 10 L, rated 10 bar, role service\n"
        "reservoir two: volume 30 L, rated 10 bar, role service\n"
        "tube one -> two: size 3/8 in, length 2 m\n"
    )
    trace = simulate(circuit, Script(pressures={"one": 9 * BAR, "two": ATMOSPHERE}), 60.0, options=EXACT)
    half = pi / 8 * circuit.by_name["one -> two"].settings["bore"] ** 2 * 2.0
    against = table.against("closed form", "(p1 V1 + p2 V2)/(V1 + V2), half the line's volume at each end")
    for name in ("one", "two"):
        against(
            f"10 L at 9 bar and 30 L at 1 atm joined: {name} after 60 s",
            ours=trace.last(name) / 1e3,
            unit="kPa",
            within=5e-4,
            outside=(9 * BAR * (10e-3 + half) + ATMOSPHERE * (30e-3 + half)) / (40e-3 + 2 * half) / 1e3,
        )
    assert abs(trace.balance.drift) < 1e-12


def test_a_compressor_fills_a_tank(table):
    """In a run, and by the short formula that the rules use; dead space of 5 % that expands with n = 1.25."""
    circuit = built(
        "reservoir tank: volume 73.7 L, rated 10 bar, role supply\n"
        "compressor pump: displacement 15.9 cfm, clearance 5 %, efficiency 85 %\n"
        "fit pump.2 -> tank\nplug pump.4\n"
    )
    trace = simulate(circuit, Script(), 240.0, start="empty", engine=Engine(True), options=EXACT)
    volume, swept = 73.7e-3 + 50e-6, 15.9 * 0.3048**3 / 60

    def seconds(start, end, exponent=1.25, steps=20_000):
        """The midpoint rule for V dp over pa, swept volume and efficiency."""
        wide = (end - start) / steps / ATMOSPHERE
        ratios = (start / ATMOSPHERE + (n + 0.5) * wide for n in range(steps))
        return volume / swept * sum(wide / (0.85 * (1.05 - 0.05 * ratio ** (1 / exponent))) for ratio in ratios)

    times = [trace.first_time("tank", gauge(p)) for p in (85, 100, 120)]
    against = table.against("closed form", "quadrature of V dp/(pa S e(p/pa)) with the efficiency of a dead space")
    against(
        "15.9 cfm into 73.7 L, 0 to 120 psi, a run",
        outside=seconds(ATMOSPHERE, gauge(120)),
        ours=times[2],
        unit="s",
        percent=1e-3,
    )
    against(
        "15.9 cfm into 73.7 L, 85 to 100 psi, a run",
        outside=seconds(gauge(85), gauge(100)),
        ours=times[1] - times[0],
        unit="s",
        percent=1e-3,
    )
    against(
        "15.9 cfm into 73.7 L, 85 to 100 psi, the formula of the rules",
        outside=seconds(gauge(85), gauge(100)),
        unit="s",
        ours=filling_time(volume, gauge(85), gauge(100), swept, 0.05, 0.85),
        percent=1e-3,
    )
    against = table.against("closed form", "V dp/(pa S), no dead space")
    against(
        "15.9 cfm into 73.7 L, 85 to 100 psi, no dead space",
        outside=10.0247,
        unit="s",
        percent=0.01,
        ours=filling_time(73.7e-3, gauge(85), gauge(100), swept, 0.0, 1.0),
    )


def test_repeated_applications_fall_as_a_power(table):
    """A volume that is there from the start is filled to the tank's pressure and vented, eight times."""
    circuit = built(
        "reservoir tank: volume 12 L, rated 10 bar, role service\nfoot-valve foot: full-delivery 20 bar\n"
        'consumer can: use "a bag", volume 1 L\nfit tank -> foot.1\nfit foot.2 -> can\n'
    )
    actions = []
    for n in range(8):
        actions += [move("foot", "pedal", 1.0, 8.0 * n), move("foot", "pedal", 0.0, 8.0 * n + 4.0)]
    trace = simulate(
        circuit, Script(tuple(actions), pressures={"tank": gauge(100)}), 64.0, options=Options(engine="plain")
    )
    chamber, tank = 1e-3 + 50e-6 + 10e-6, 12e-3 + 20e-6 + 10e-6
    against = table.against("closed form", "p0 (Vr/(Vr + Vc))^n of gauge pressures")
    for n in (1, 5, 8):
        against(
            f"12 L at 100 psi after filling 1 L {n} time{'s'[n < 2 :]}, gauge",
            outside=100 * (tank / (tank + chamber)) ** n,
            ours=(trace.pressure("tank", 8.0 * n - 0.5) - ATMOSPHERE) / PSI,
            unit="psi",
            percent=0.3,
        )
