"""The compressor is too small for what it fills.

Why
---
Air that was used must be back before it is needed again. How long it takes follows from the compressor's displacement,
its efficiency, the dead space in its head and the volume behind it. More reservoirs, or door and suspension air added
later, make it longer.

What happens
------------
The driver waits for air, or drives off without enough of it; in traffic each stop takes more than comes back.

What is not checked
-------------------
Belt slip, leaks, heat, and the pressure lost in dryer and lines. The displacement counts at the speed it is stated for.

Bad
---
    compressor pump: displacement 2 cfm
    governor gov: cut-in 104 psi, cut-out 125 psi
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m

Good
----
    compressor pump: displacement 15 cfm
    governor gov: cut-in 104 psi, cut-out 125 psi
    reservoir dry: volume 46 L, rated 10 bar, role service
    hose pump.2 -> dry: bore 5/8 in, length 3 m
    foot-valve foot
    tube dry -> foot.1: size 1/2 in, length 5 m
    chamber left: type 30, stroke 2.5 in, axle front, side left
    tube foot.2 -> left: size 3/8 in, length 2 m
"""

from collections.abc import Iterator, Mapping

from circuit.declaring.traits import Trait
from circuit.judging.evidence import Evidence
from circuit.judging.limits import has, pressure, time
from circuit.judging.rule import AT_BEST, Answer, Figure, Rule, met, not_met, undecided
from circuit.judging.storage import compressor_fill, cut_out, draws, normal_pressure
from circuit.judging.volumes import shares
from circuit.units import ATMOSPHERE, gauge, shown

_BESIDE = ("auxiliary",)


def check(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    circuit = evidence.circuit
    vehicle = circuit.vehicle
    pumps = circuit.having(Trait.COMPRESSES)
    if not pumps or not circuit.reservoirs:
        what = "source of air" if not pumps else "reservoir"
        yield undecided(vehicle.name, vehicle.span, f"no {what} is written", f"the {what} and what it is joined to")
        return
    low, high = normal_pressure(evidence), cut_out(evidence)
    if low is None or high is None:
        yield undecided(vehicle.name, vehicle.span, "no governor is written", "a governor with its cut-in and cut-out")
        return
    if "trailer_bar_l_t" in limits and circuit.tows and vehicle.declared.get("trailer-load") is None:
        yield undecided(vehicle.name, vehicle.span, "how long it takes with a trailer is not known",
                        "`trailer-load` on the vehicle, the greatest load on its trailer's axles")
    if _auxiliary(evidence, limits) is not None:
        yield met(vehicle.name, vehicle.span,
                  f"auxiliary reservoirs hold {_auxiliary(evidence, limits):.0%} of the brakes' storage, no more than "
                  f"{limits['auxiliary_share']:.0%}: no time is asked with them")
    slow: list[tuple[str, Figure]] = []
    for start, end, limit, volume, says in _asked(evidence, limits, low, high):
        seconds = compressor_fill(evidence, volume, start, end)
        text = (f"{shown(volume, 'volume')} of reservoirs go from {shown(start, 'pressure')} to "
                f"{shown(end, 'pressure')} in {shown(seconds, 'time')}{says} (predicted)") if seconds < 1e6 else \
            f"{pumps[0].name} never reaches {shown(end, 'pressure')}"
        figure = Figure("time to build up", seconds, limit, "time", at_least=False)
        if figure.margin < 0:
            slow.append((text, figure))
        else:
            yield met(pumps[0].name, pumps[0].span, text, figure, remark=_remark(pumps))
    if slow:
        text, figure = max(slow, key=lambda each: each[1].found / each[1].limit)
        yield not_met(pumps[0].name, pumps[0].span, text, "a larger compressor, or less volume for it to fill",
                    figure=figure)


def _remark(pumps) -> str:  # type: ignore[no-untyped-def]
    assumed = [name for name in ("efficiency", "clearance", "speed") if any(p.given[name].assumed for p in pumps)]
    return f"{', '.join(assumed)} of {pumps[0].name} taken as typical" if assumed else ""


def _asked(evidence: Evidence, limits: Mapping[str, float], low: float, high: float):  # type: ignore[no-untyped-def]
    """What a clause asks: absolute pressure at the start and at the end, time limit, volume, and what to add."""
    circuit = evidence.circuit
    whole = sum(float(tank.settings["volume"]) for tank in circuit.reservoirs if tank.settings["role"] not in _BESIDE)
    if has(limits, "to"):
        factor, says = _for_larger_reservoirs(evidence, limits)
        if factor is not None:
            yield (pressure(limits, "from"), pressure(limits, "to"), factor * time(limits, "within"), whole,
                   says)
    elif "share_of_cut_out" in limits:
        yield (ATMOSPHERE, ATMOSPHERE + limits["share_of_cut_out"] * gauge(high), time(limits, "within"), whole, "")
    elif "applications" in limits:
        used = [(draw.volume, draw.after(high, int(limits["applications"]))[-1].left) for draw in draws(evidence)]
        if used:
            start = high - sum(volume * (high - left) for volume, left in used) / whole
            ways = [(start, high, time(limits, "within"), whole, "")]
            warnings = [switch.settings["on-below"] for switch in circuit.having(Trait.WARNS_LOW)]
            if has(limits, "from_warning") and warnings:
                ways.append((max(warnings), high, time(limits, "from_warning"), whole,
                             " from the end of the warning"))
            yield min(ways, key=lambda way: compressor_fill(evidence, whole, way[0], high) / way[2])
    else:
        yield from _from_nothing(evidence, limits, low, whole)


def _for_larger_reservoirs(evidence: Evidence, limits: Mapping[str, float]) -> tuple[float | None, str]:
    """How much longer it may take because the reservoirs are larger than required (571.121 S5.1.1)."""
    if "ratio" not in limits:
        return 1.0, ""
    total = next((share for share in shares(evidence) if share.rule_total), None)
    if total is None or not total.chamber_volume:
        return None, ""
    required = limits["ratio"] * total.chamber_volume
    says = f"; {shown(total.tank_volume, 'volume')} where {shown(required, 'volume')} are asked"
    return total.tank_volume / required, says


def _auxiliary(evidence: Evidence, limits: Mapping[str, float]) -> float | None:
    """What auxiliary reservoirs hold of the brakes' storage, where it is too little for a clause to ask about."""
    if "auxiliary_share" not in limits:
        return None
    volumes = [(float(t.settings["volume"]), t.settings["role"] in _BESIDE) for t in evidence.circuit.reservoirs]
    brakes = sum(volume for volume, beside in volumes if not beside)
    share = sum(volume for volume, beside in volumes if beside) / brakes if brakes else 1.0
    return share if share <= limits["auxiliary_share"] else None


def _from_nothing(evidence: Evidence, limits: Mapping[str, float], low: float, whole: float):  # type: ignore[no-untyped-def]
    """From empty to a share of the declared pressure and to the whole, alone and with a trailer where it tows one."""
    circuit = evidence.circuit
    if "auxiliary_share" in limits:
        if _auxiliary(evidence, limits) is not None:
            return
        whole += sum(float(tank.settings["volume"]) for tank in circuit.reservoirs if tank.settings["role"] in _BESIDE)
    load = circuit.vehicle.declared.get("trailer-load")
    trailers = [(0.0, "", "")]
    if circuit.tows and load is not None:
        # p V = 20 R with p in bar, V in litres and R in tonnes
        litres = limits["trailer_bar_l_t"] * load / 1e3 / (gauge(low) / 1e5)
        trailers.append((litres * 1e-3, "_towing", " with a trailer"))
    for vessel, towing, says in trailers:
        if has(limits, f"share{towing}"):
            partly = ATMOSPHERE + limits["share"] * gauge(low)
            yield ATMOSPHERE, partly, time(limits, f"share{towing}"), whole + vessel, says
        yield ATMOSPHERE, low, time(limits, f"whole{towing}"), whole + vessel, says


RULE = Rule("air-builds-slowly", "the compressor brings the air back in time", "error", check, AT_BEST)
