"""Filling and emptying of a tank through one opening, and other cases that have an exact solution.

All isothermal unless said. tau = V/(C p_ref), with p_ref = rho0 R T0. The closed forms were derived by hand from the
flow law of ISO 6358 with m = 0.5 and checked against quadrature; the smooth zone around no flow is made very small.
"""

from math import asin, exp, log, pi, sin, sqrt

import pytest

from circuit.gas.air import GAS_CONSTANT, REFERENCE_DENSITY, REFERENCE_TEMPERATURE, density
from circuit.sim import Engine, Options, Script, feed, move, open_up, simulate
from circuit.units import ATMOSPHERE
from tests.sim.designs import BAR, PSI, built, gauge

REFERENCE = REFERENCE_DENSITY * GAS_CONSTANT * REFERENCE_TEMPERATURE
EXACT = Options(method="rodas4", tolerance=0.01, laminar=1e-9, smallest=0.0, engine="plain")
TANK = (
    "reservoir tank: volume 10 L, rated 10 bar, role service\n"
    "drain tap: on tank, placed lowest, conductance 4 L/(s.bar)\n"
)
VOLUME = 10e-3 + 2e-6
"""m3; the drain's own 2 cm3 is on the tank."""
TAU = VOLUME / (4e-8 * REFERENCE)


def emptied(pressure=8 * BAR, until=3.0, options=EXACT):
    script = Script((open_up("tap", 0.0),), pressures={"tank": pressure})
    return simulate(built(TANK), script, until, options=options)


def test_choked_blow_down_is_an_exponential():
    trace = emptied(until=2.0)
    for time in (0.3, 1.0, 2.0):
        assert trace.pressure("tank", time) == pytest.approx(8 * BAR * exp(-time / TAU), abs=1.0)


def test_blow_down_into_the_subsonic_range():
    b, c = 0.3, 1 - 2 * 0.3

    def form(x):
        return -(1 / sqrt(c)) * log((2 * c + 2 * b * x + 2 * sqrt(c) * sqrt(c + 2 * b * x - x * x)) / x)

    choked = TAU * log(8 * BAR * b / ATMOSPHERE)
    trace = emptied(until=6.0)
    for low in (2.5 * BAR, 1.6 * BAR, 1.2 * BAR):
        expected = choked + (1 - b) * TAU * (form(ATMOSPHERE / low) - form(b))
        assert trace.first_time("tank", low, rising=False) == pytest.approx(expected, abs=2e-4)


def test_blow_down_to_5_psi_in_the_published_time():
    # 10 L, 4 L/(s bar), b = 0.3, 8 bar absolute: 4.595778 s to 5 psi, by the same closed form with the tank alone
    found = emptied(until=6.0).first_time("tank", gauge(5), rising=False)
    assert found * 10e-3 / VOLUME == pytest.approx(4.595778, abs=3e-4)


def test_filling_from_a_constant_source():
    circuit = built("reservoir tank: volume 10 L, rated 10 bar, role service\n")
    trace = simulate(circuit, Script((feed("tank", 8 * BAR, 0.0),), pressures={"tank": ATMOSPHERE}), 1.6, options=EXACT)
    tau, b, start = 10e-3 / (10e-8 * REFERENCE), 0.4, ATMOSPHERE / (8 * BAR)
    choked = (b - start) * tau
    for ratio in (0.2, 0.35):
        assert trace.first_time("tank", ratio * 8 * BAR) == pytest.approx((ratio - start) * tau, abs=1e-4)
    for time in (choked + 0.2, choked + 0.5):
        expected = 8 * BAR * (b + (1 - b) * sin((time - choked) / ((1 - b) * tau)))
        assert trace.pressure("tank", time) == pytest.approx(expected, abs=3.0)
    whole = tau * (b - start + (1 - b) * pi / 2)
    assert trace.pressure("tank", whole + 0.05) == pytest.approx(8 * BAR, abs=1.0)
    assert trace.first_time("tank", 0.9 * 8 * BAR) == pytest.approx(
        choked + (1 - b) * tau * asin((0.9 - b) / (1 - b)), abs=1e-4
    )


@pytest.mark.parametrize("exponent", [1.0, 1.2, 1.4])
def test_the_exponent_makes_a_choked_fall_faster(exponent):
    # dp/dt = -n p/tau while the air that leaves has the stated temperature; the drain's 2 cm3 counts with the tank
    from dataclasses import replace

    trace = emptied(until=1.0, options=replace(EXACT, exponent=exponent))
    assert trace.pressure("tank", 1.0) == pytest.approx(8 * BAR * exp(-exponent / TAU), abs=1.0)


def test_two_tanks_even_out():
    circuit = built(
        "reservoir one: volume 10 L, rated 10 bar, role service\n"
        "reservoir two: volume 30 L, rated 10 bar, role service\n"
        "tube one -> two: size 3/8 in, length 2 m\n"
    )
    trace = simulate(circuit, Script(pressures={"one": 9 * BAR, "two": ATMOSPHERE}), 60.0, options=EXACT)
    half = pi / 8 * circuit.by_name["one -> two"].settings["bore"] ** 2 * 2.0
    expected = (9 * BAR * (10e-3 + half) + ATMOSPHERE * (30e-3 + half)) / (40e-3 + 2 * half)
    assert trace.last("one") == pytest.approx(expected, abs=0.5) and trace.last("two") == pytest.approx(
        expected, abs=0.5
    )
    assert abs(trace.balance.drift) < 1e-12


def test_a_compressor_fills_a_tank_in_the_time_of_its_integral():
    circuit = built(
        "reservoir tank: volume 73.7 L, rated 10 bar, role supply\n"
        "compressor pump: displacement 15.9 cfm, clearance 5 %, efficiency 85 %\n"
        "fit pump.2 -> tank\nplug pump.4\n"
    )
    trace = simulate(circuit, Script(), 240.0, start="empty", engine=Engine(True), options=EXACT)
    volume, swept = 73.7e-3 + 50e-6, 15.9 * 0.3048**3 / 60

    def seconds(start, end, steps=20_000):
        """Of dp V/(R T) over the mass flow, by the midpoint rule."""
        total, wide = 0.0, (end - start) / steps
        for n in range(steps):
            ratio = (start + (n + 0.5) * wide) / ATMOSPHERE
            flow = density(ATMOSPHERE) * swept * 0.85 * (1.05 - 0.05 * ratio ** (1 / 1.25))
            total += wide * volume / (GAS_CONSTANT * 293.15) / flow
        return total

    times = [trace.first_time("tank", gauge(p)) for p in (85, 100, 120)]
    assert times[1] - times[0] == pytest.approx(seconds(gauge(85), gauge(100)), rel=1e-5)
    assert times[2] == pytest.approx(seconds(ATMOSPHERE, gauge(120)), rel=1e-5)


def test_the_shaft_turns_faster_and_the_air_is_thinner_up_there():
    circuit = built(
        "reservoir tank: volume 20 L, rated 10 bar, role supply\ncompressor pump: displacement 12 cfm\n"
        "fit pump.2 -> tank\nplug pump.4\n"
    )

    def made(speed, altitude):
        options = Options(engine="plain", altitude=altitude)
        return simulate(circuit, Script(), 5.0, start="empty", engine=Engine(True, speed), options=options).balance.made

    plain, twice = made(1250 / 60, 0.0), made(2500 / 60, 0.0)
    assert 1.85 < twice / plain < 2.0  # a little less than twice: the tank is fuller
    assert made(1250 / 60, 3000.0) / plain == pytest.approx(70.1 / 101.3, rel=0.02)


def test_repeated_applications_fall_as_a_power():
    # a chamber of fixed volume filled to tank pressure and vented: p_n = p_0 (Vr/(Vr + Vc))^n of the gauge pressure
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
    for n in (1, 5, 8):
        expected = 100 * PSI * (tank / (tank + chamber)) ** n
        assert trace.pressure("tank", 8.0 * n - 0.5) - ATMOSPHERE == pytest.approx(expected, rel=0.003)
