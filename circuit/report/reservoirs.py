"""What was found of filling the reservoirs and of what they hold, as tables for people."""

import textwrap

from circuit.report.study_words import (
    WIDTH,
    between,
    cited,
    clock,
    head,
    held,
    page,
    pressure,
    table,
    tail,
    unheld,
)
from circuit.report.words import count
from circuit.studies.band import SPREAD, Band
from circuit.studies.charge import SCATTER, Charge
from circuit.studies.knobs import NOTHING, named
from circuit.studies.reserve import COUNTED, TRAVEL, Reserve


def charge(found: Charge) -> str:
    """Build-up, filling from empty, the governor's round and recovery."""
    lines = head("Charging", found.circuit)
    if found.build is not None:
        lines += [*_build(found, found.build), ""]
    fed = ("the governor's cut-in" if found.line is None else
           f"by a supply line held at {pressure(found.line)}")
    lines += [f"From empty, to 65 % and all of {pressure(found.rated)}, {fed}", ""]
    rows = [("reservoir", "role", "65 %", "100 %", "")]
    for tank in found.filled:
        remark = ""
        if tank.whole is None:
            remark = "stays empty: nothing feeds it" if tank.ends < NOTHING else f"comes to {pressure(tank.ends)}"
        rows.append((tank.name, tank.role, clock(tank.share), clock(tank.whole), remark))
    lines += table(rows)
    share = SPREAD if found.line else SCATTER
    lines.append(f"  band: each about {1 / (1 + share):.2f} to {1 / (1 - share):.2f} times as long, as "
                 + ("valves and lines let" if found.line else "compressors deliver")
                 + f" {100 * share:.0f} % more and less" + (" through" if found.line else ""))
    for each in found.pushed:
        lines += textwrap.wrap(f"at {clock(each.time)}, with that pressure in every brake reservoir that has filled, "
                               f"the driver pushes in {named(found.circuit, each)}: out until then", WIDTH - 2,
                               initial_indent="  ", subsequent_indent="  ")
    if found.limits[0] is not None and found.limits[1] is not None and (slowest := found.slowest):
        for what, limit, time in (("65 %", found.limits[0], slowest.share), ("100 %", found.limits[1], slowest.whole)):
            verdict = "met" if time is not None and time <= limit else "NOT MET"
            lines.append(f"  {what} in the slowest brake reservoir: limit {clock(limit)}, {clock(time)}: {verdict}")
    lines.append("")
    if found.line is None:
        lines += _round(found)
    lines += [*held(found.held), *cited((found.clause, found.filling_clause, *(each.clause for each in found.held))),
              *unheld(found.limit, *found.limits, *(each.figure.limit for each in found.held))]
    return page([*lines, *tail(found.assumed, found.notes)])


def _build(found: Charge, build: Band) -> list[str]:
    lines = [f"85 to 100 psi in every supply and service reservoir: {clock(build.value)}",
             f"  band {between(build)}: compressors that deliver {SCATTER * 100:.0f} % more and less"]
    if found.limit is not None:
        if found.margin is None:
            lines.append(f"  limit {clock(found.limit)}: NOT MET")
        else:
            spare, met = ("to spare", "met") if found.margin >= 0 else ("too slow", "NOT MET")
            lines.append(f"  limit {clock(found.limit)}, {abs(found.margin):.1f} s {spare}: {met}"
                         + _hangs(build, found))
    return lines


def _hangs(build: Band, found: Charge) -> str:
    met = [time is not None and found.limit is not None and time <= found.limit for time in build]
    return "" if all(met) or not any(met) else ", but it turns within the band"


def _round(found: Charge) -> list[str]:
    """The governor's round and the recoveries."""
    lines = []
    if found.cycle is None:
        lines.append("the governor never stops the compressor in this run")
    else:
        cycle = found.cycle
        lines += [f"Governor: {clock(cycle.pumping)} pumping, {clock(cycle.resting)} resting; the compressor works "
                  f"{cycle.duty * 100:.0f} % of the time" if cycle.resting else
                  "Governor: the compressor never catches up and works all the time",
                  f"  for one full application a minute ({60e3 * cycle.by_braking:.0f} g of air, taken evenly) and "
                  f"reservoirs that lose 2 psi a minute ({60e3 * cycle.by_leak:.0f} g)"]
    for each in found.recoveries:
        again = ("the compressor does not start" if each.again == 0 else "not full again" if each.again is None else
                 f"full again {clock(each.again)} after the last release")
        lines.append(f"After {count(each.applications, 'full application')} with the engine running: lowest service "
                     f"reservoir {pressure(each.lowest)}; {again}")
    return [*lines, ""]


def reserve(found: Reserve) -> str:
    """What is left after each application, beside the count by volumes."""
    lines = head("Reserve", found.circuit)
    lines += [f"Full applications with the engine off, from {pressure(found.start)}"
              + (f", {pressure(found.demand)} asked for" if found.demand else ""), ""]
    for store in found.stores:
        lines.append(f"{store.name}: ratio {store.ratio:.1f} to the chambers it serves by itself")
        rows = [("after", "left in the reservoir", "share", "by volumes alone", "given to the chambers",
                 "share of the first")]
        for number in (1, 2, 3, 4, 5, 6, COUNTED, COUNTED + 1, 12):
            rows.append((f"{number}", pressure(store.left[number]), f"{100 * store.share_left(number):.0f} %",
                         pressure(store.counted[number]), pressure(store.given[number - 1]),
                         f"{100 * store.share_given(number):.0f} %"))
        lines += table(rows)
        least, most = store.halves_band
        if found.stops_at is not None and found.stops_at <= store.halves:
            lines += [f"  from application {found.stops_at} on the brakes stay on by themselves and take no more; by "
                      f"volumes alone {count(store.counted_halves, 'application')} leave half the pressure or more", ""]
        else:
            lines += [f"  {count(store.halves, 'application')} leave half the pressure or more, {least} to {most} over "
                      f"the band; by volumes alone {store.counted_halves}", ""]
    lines += [*held(found.held), f"band: brakes that travel {100 * TRAVEL:.0f} % farther, and less far, than assumed",
              *cited(each.clause for each in found.held), *unheld(*(each.figure.limit for each in found.held)), ""]
    if found.happened:
        lines.append("on the way")
    for happening in found.happened:
        lines.append(f"  in application {happening.after}: {happening.what}")
    return page([*lines, *tail(found.assumed, found.notes)])
