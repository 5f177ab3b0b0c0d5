"""Parts and vehicles as documents, the trade and memory have them.

A band is given as its middle, and half of its width is what is allowed: the program's typical values are held to lie
inside. Where the trade or memory is the judge a row is a soft bound.
"""

from functools import cache
from math import pi

from circuit.gas.chamber import PUSHES_OUT, SPRING_STARTS, TAKES_UP, push, volume
from circuit.gas.compressor import delivery
from circuit.gas.constants import density
from circuit.gas.drawdown import filling_time
from circuit.sim import Engine, Options, Script, open_up, press, simulate
from circuit.studies.band import QUICK
from circuit.units import ATMOSPHERE
from tests.outside import whole
from tests.sim.designs import PSI, built, example, gauge

FOOT3, CFM, INCH, LBF = 0.3048**3, 0.3048**3 / 60, 0.0254, 4.4482216


def band(against, quantity, low, high, ours, unit):
    """A row for a range."""
    against(f"{quantity}, {low:g} to {high:g}", outside=(low + high) / 2, within=(high - low) / 2, ours=ours, unit=unit)


# --- documents --------------------------------------------------------------------------------------------------------


def test_receivers_of_handbooks(table):
    """Emptied at the difference of two flows in the handbooks; the same air fills them again in the same time."""
    against = table.against("published", "receiver sizing sheet: t (qo - qi) 14.7/(p1 - p2) gives 183.75 ft3")
    minutes = filling_time(183.75 * FOOT3, gauge(60), gauge(100), 100 * CFM, 0.0, 1.0) / 60
    against("100 cfm into 183.75 ft3, 60 to 100 psi", outside=5.0, ours=minutes, unit="min", percent=0.1)
    against = table.against("published", "data and formula of a fluid-power textbook; 660 gal worked out from them")
    minutes = filling_time(660 * 231 * INCH**3, gauge(80), gauge(100), 20 * CFM, 0.0, 1.0) / 60
    against("20 cfm into 660 gal, 80 to 100 psi", outside=6.0, ours=minutes, unit="min", percent=0.5)


def test_a_small_compressor(table):
    """About 300 cm3, more than 3000 rpm, 10 bar: the abstract rounds all of them."""
    swept = 300e-6 * 3000 / 60
    flow = delivery(swept, ATMOSPHERE + 10e5, ATMOSPHERE, density(ATMOSPHERE), 0.05, 0.85) / density(ATMOSPHERE)
    against = table.against(
        "published", "abstract of SAE 785136, a single-cylinder compressor; dead space and efficiency are ours"
    )
    against("free air of 300 cm3 at 3000 rpm and 10 bar", outside=500.0, ours=flow * 60e3, unit="L/min", percent=15.0)


def test_travel_of_adjusted_chambers(table):
    against = table.against("published", "healthy strokes at 100 psi with automatic adjusters, manual of a heavy truck")
    for number, words, stroke, low, high in ((20, "front", 2.25, 1.0, 1.75), (30, "rear", 2.5, 1.5, 2.0)):
        circuit = built(
            f"reservoir tank: volume 10 L, rated 10 bar, role service\nchamber can: type {number}, stroke "
            f"{stroke} in, axle front, side left\nfit tank -> can\n"
        )
        sizes = circuit.by_name["can"].settings
        travel = (volume(sizes, gauge(100)) - volume(sizes, ATMOSPHERE)) / sizes["area"]
        band(against, f"travel of a {words} chamber of type {number} at 100 psi", low, high, travel / INCH, "in")


def test_a_spring_brake(table):
    circuit = example("truck-6x4")
    against = table.against("published", "a province's manual for drivers of commercial vehicles")
    band(
        against,
        "push of a spring brake",
        1500,
        2000,
        circuit.by_name["d1-left.can"].settings["spring-force"] / LBF,
        "lbf",
    )


def test_axles_agree_in_steady_braking(table):
    """Two seconds after the pedal, both circuits from reservoirs that were alike."""
    _, trace = whole.application("truck-6x4")
    apart = (trace.pressure("front-left", 2.0) - trace.pressure("d1-left.service", 2.0)) / PSI
    against = table.against("published", "TM 5-3820-256-24-4: axles within 4 psi")
    against("truck-6x4: front less rear chamber in steady braking", outside=0.0, ours=apart, unit="psi", within=4.0)


def test_the_parking_valve_pops_out(table):
    """Both service reservoirs drained, the engine off."""
    script = Script((open_up("pri-drain", 0.0), open_up("sec-drain", 0.0)), pressures={"reservoirs": gauge(100)})
    trace = simulate(example("truck-6x4"), script, 60.0, options=whole.PLAIN)
    [popped] = [event for event in trace.events if event.device == "park"]
    against = table.against("published", "US commercial driver manual, section 5, as study pages quote it")
    band(
        against,
        "truck-6x4 drained: pressure at which the parking valve pops out, gauge",
        20,
        45,
        (trace.pressure("park.1", popped.time) - ATMOSPHERE) / PSI,
        "psi",
    )


def test_the_dryer_purges(table):
    """From the governor's cut-out, until 1 bar is left in the purge reservoir."""
    stored = {"reservoirs": ATMOSPHERE + 8.4e5}
    trace = simulate(example("truck-6x4"), Script(pressures=stored), 60.0, engine=Engine(True), options=whole.PLAIN)
    [cut_out] = [event.time for event in trace.events if event.device == "gov"]
    end = trace.first_time("purge-tank", ATMOSPHERE + 1e5, rising=False, after=cut_out)
    against = table.against("published", "dryer service manual: a purge of 30 s; which of its sizes is not said")
    against("truck-6x4: purge of the dryer from 5 L", outside=30.0, ours=end - cut_out, unit="s", percent=30.0)


@cache
def time_to_60(bore, length):
    """s of a chamber of type 20 behind a foot valve and a line; bore mm, length m."""
    circuit = built(
        "reservoir tank: volume 60 L, rated 10 bar, role service\nfoot-valve foot: full-delivery 12 bar\n"
        "fit tank -> foot.1\nchamber can: type 20, stroke 2.25 in, axle front, side left\n"
        f"hose foot.2 -> can: bore {bore} mm, length {length} m, ends moving\n"
    )
    script = Script((press("foot", 1.0, 0.0, 0.05),), pressures={"tank": gauge(100)})
    return simulate(circuit, script, 8.0, options=whole.PLAIN).first_time("can", gauge(60))


def test_what_a_parameter_study_of_brake_lines_found():
    """Applied Sciences 2017, 7(9), 941, conclusions: response time rises markedly with length; bore does little from
    7.5 to 12 mm; a line that is wide enough hurts by its own volume. No times are compared: its parts are not ours."""
    by_length = [time_to_60(9.0, length) for length in (1, 5, 10, 20)]
    assert by_length == sorted(by_length) and by_length[-1] > 1.8 * by_length[0]
    narrow, wide, huge = (time_to_60(bore, 10) for bore in (7.5, 12.0, 30.0))
    assert abs(wide / narrow - 1) < 0.4 < by_length[-1] / by_length[0] - 1
    assert huge > min(narrow, wide)


# --- the trade and memory ---------------------------------------------------------------------------------------------


def test_rules_of_the_trade(table):
    against = table.against("common practice", "no source")
    piston = pi / 4 * (4 * INCH) ** 2
    for psi, pounds in ((25, 314), (90, 1130)):
        against(
            f"push of a piston of 4 in at {psi} psi",
            outside=pounds,
            ours=push(psi * PSI, piston) / LBF,
            unit="lbf",
            percent=0.2,
        )
    band(against, "pressure at which a push rod starts to move, gauge", 2, 6, PUSHES_OUT / PSI, "psi")
    band(against, "pressure at which the clearance is taken up, gauge", 5, 12, TAKES_UP / PSI, "psi")
    band(against, "pressure below which a spring brake is fully applied, gauge", 20, 25, SPRING_STARTS / PSI, "psi")


def test_times_of_trucks(table):
    against = table.against("from memory", "usual times of trucks")
    trace = simulate(example("truck-6x4"), whole.APPLY, whole.END, options=Options(engine="plain", exponent=QUICK))
    for words, place, low, high in (
        ("front chamber, 3/8 in line", "front-left", 0.25, 0.45),
        ("rear chamber behind a relay", "d2-right.service", 0.2, 0.4),
    ):
        band(against, f"truck-6x4: {words}, to 60 psi", low, high, trace.first_time(place, gauge(60)), "s")
        released = trace.first_time(place, gauge(5), rising=False, after=2.0)
        band(against, f"truck-6x4: {words}, back to 5 psi from the release", 0.3, 0.6, released - 2.0, "s")
