"""What was found of leaking down, of forces and of water, as tables for people."""

import textwrap

from circuit.report.study_words import WIDTH, cited, clock, head, names, page, pressure, table, tail
from circuit.studies.charge import SCATTER
from circuit.studies.force import TORQUE, Forces, Pushed
from circuit.studies.holding import all_holding
from circuit.studies.leak_down import HOLES, LeakDown
from circuit.studies.water import Water
from circuit.units import shown, value_in

LOW_AIR = ("us-federal/S5.1.5", "us-federal/5.3-spring-brakes", "us-federal/393.43(a)", "us-federal/393.43(d)",
           "un-r13/5.2.1.13.1", "un-r13/Annex 8 2.6")
DRAINS = ("us-federal/S5.1.2.4", "us-federal/S5.2.1.3", "us-federal/393.50(d)")
"""What a time line and a sum of water are worth looking at for; no limit of theirs is held here."""


def leak_down(found: LeakDown) -> str:
    """The time line."""
    lines = head("Leaking down with the engine off", found.circuit)
    holes = ", ".join(f"{name} {1e3 * size:.2f} mm" for name, size in found.holes)
    lines += textwrap.wrap(f"assumed: sharp holes ({holes}), each for a fall of {shown(found.rate, 'rate')} at "
                           f"{pressure(found.start)} if it leaked by itself", WIDTH)
    lines.append("")
    rows = [("after", "stored, lowest", "stored, highest", "what happens")]
    rows += [(clock(m.time), pressure(m.level[0]), pressure(m.level[1]), m.what) for m in found.moments]
    lines += table(rows) if len(rows) > 1 else ["nothing happens in the time watched"]
    lines += ["", *textwrap.wrap(
        f"band: with holes of {100 * HOLES:.0f} % more and less diameter each time is {(1 + HOLES)**-2:.1f} to "
        f"{(1 - HOLES)**-2:.1f} times as long; what leaks where, and how fast, is not known before it is measured",
        WIDTH)]
    if found.warned_first is not None:
        lines += ["", "a warning comes before any knob pops out or a spring is fully on" if found.warned_first else
                  "NO WARNING comes before a knob pops out or a spring is fully on"]
    lines += ["", *cited(all_holding(found.circuit, LOW_AIR))]
    return page([*lines, *tail(found.assumed, found.notes)])


def forces(found: Forces) -> str:
    """Force and torque at each pressure, alike chambers in one row."""
    lines = head("Push-rod force and brake torque", found.circuit)
    steps = [f"{value_in(step, 'psi', 'pressure'):.0f} psi" for step in found.steps]
    groups: dict[tuple[object, ...], list[Pushed]] = {}
    for each in found.chambers:
        groups.setdefault((each.type, *each[4:]), []).append(each)
    wheels = [(names(p.name for p in group), group[0]) for group in groups.values()]
    rows = [("push-rod force, lbf", "type", *steps, "spring alone")]
    rows += [(name, each.type, *(f"{value_in(force, 'lbf', 'force'):,.0f}" for force in each.forces),
              "-" if each.spring is None else f"{value_in(each.spring, 'lbf', 'force'):,.0f}") for name, each in wheels]
    lines += [*table(rows), ""]
    rows = [("torque at the camshaft, N.m", "slack", *steps)]
    rows += [(name, shown(each.slack, "length"), *(f"{torque:,.0f}" for torque in each.cam_torques))
             for name, each in wheels if each.slack is not None]
    lines += [*table(rows), ""] if len(rows) > 1 else []
    rows = [("brake torque per wheel, N.m", "per N", *steps, "spring alone")]
    rows += [(name, f"{each.gain:.3f} m", *(f"{torque:,.0f}" for torque in each.torques),
              "-" if each.spring_torque is None else f"{each.spring_torque:,.0f}")
             for name, each in wheels if each.gain is not None]
    lines += [*table(rows), ""] if len(rows) > 1 else []
    rows = [("force at the tyre, kN", "radius", *steps)]
    rows += [(name, shown(each.tyre, "length"), *(f"{force / 1e3:.1f}" for force in each.tyre_forces))
             for name, each in wheels if each.tyre is not None]
    lines += table(rows) if len(rows) > 1 else []
    lines += ["", f"band of torque and tyre force: {100 * TORQUE:.0f} % more and less, as linings, wear and losses "
              "scatter; from memory"] if len(rows) > 1 else []
    if found.unknown:
        lines += textwrap.wrap(f"no brake torque for {names(found.unknown)}: nothing says what is pushed", WIDTH)
    return page([*lines, *tail(found.assumed, found.notes)])


def water(found: Water) -> str:
    """Where the water of an hour goes."""
    lines = head("Water", found.circuit)
    lines += [f"{found.temperature - 273.15:.0f} °C, {found.humidity * 100:.0f} % relative humidity, "
              f"{pressure(found.pressure)}, compressor at work {found.duty * 100:.0f} % of the time: "
              f"{60e3 * found.free_air:.0f} L of free air a minute on average", ""]
    every = [("taken in as vapour", found.enters),
             ("liquid already where it reaches the dryer or first reservoir", found.before)]
    if found.has_dryer:
        every.append(("taken by the dryer, blown out at each purge", found.dried))
    every += [("settles in the reservoirs", found.settles), ("goes on as vapour", found.stays)]
    if found.has_dryer:
        every.append(("would settle in the reservoirs with the dryer worn out", found.unserved))
    rows = [("water", "g an hour", "band")]
    rows += [(what, f"{1e3 * kilograms:.0f}",
              f"{1e3 * (1 - SCATTER) * kilograms:.0f} to {1e3 * (1 + SCATTER) * kilograms:.0f}")
             for what, kilograms in every]
    lines += [*table(rows), "", f"band: compressors that deliver {SCATTER * 100:.0f} % more and less; what the weather "
              "does is more: ask again with --temperature and --humidity", ""]
    if found.has_dryer:
        lines.append(f"in eight hours {_litres(8 * found.settles)} settles with a sound dryer, "
                     f"{_litres(8 * found.unserved)} with a worn one: drain every day, and look at what comes")
    else:
        lines.append(f"in eight hours {_litres(8 * (found.settles + found.before))} of water lie in the reservoirs: "
                     "drain every day")
    lines += ["", *cited(all_holding(found.circuit, DRAINS))]
    return page([*lines, *tail((), found.notes)])


def _litres(kilograms: float) -> str:
    return "nothing" if kilograms < 5e-4 else f"{kilograms:.2f} L"
