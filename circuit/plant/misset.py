"""Mistakes of setting and laying: a pressure, a state or a word of a line that is wrong."""

from collections.abc import Iterator
from random import Random

from circuit import kinds
from circuit.declaring.traits import Trait
from circuit.model.devices import Device
from circuit.plant.bed import Bed
from circuit.plant.planting import Operator, Site
from circuit.plant.rows import Add, Edit, rows_of, setting_text, swapped, with_setting
from circuit.tables import bends, tubes
from circuit.units import split, to_si, value_in


def _set(bed: Bed, device: Device, setting: str, value: str) -> tuple[Edit, ...]:
    """One setting of one thing of this text changed."""
    found = bed.written(device)
    assert found is not None
    return with_setting(found[0], found[1], setting, value)


def _pressure(bed: Bed, device: Device, setting: str, pascal: float) -> str:
    """A pressure in the unit that the design uses there. pascal: absolute."""
    text = device.given[setting].text if setting in device.given else "1 bar"
    unit = split(text).unit
    number = value_in(pascal, unit, "pressure")
    return f"{round(number, 0 if unit == 'psi' else 1):g} {unit}"


def _psi(number: float) -> float:
    return to_si(f"{number} psi", "pressure")


def _cut_in_low(bed: Bed, chance: Random) -> Iterator[Site]:
    clause = bed.asked("governor-set-low", "cut_in_psi")
    if clause is None:
        return
    limit = clause.values["cut_in_bus_psi" if bed.circuit.vehicle.vehicle_class == "bus" else "cut_in_psi"]
    for governor in bed.own(Trait.GOVERNS):
        value = _pressure(bed, governor, "cut-in", _psi(limit - chance.choice((4, 8, 15, 30))))
        yield Site(_set(bed, governor, "cut-in", value), (governor.name,), f"{governor.name} cuts in at {value}")


def _gap(bed: Bed, chance: Random) -> Iterator[Site]:
    clause = bed.asked("governor-gap-unusual", "least_gap_psi")
    for governor in bed.own(Trait.GOVERNS):
        if clause is not None:
            gap = clause.values["least_gap_psi"] * chance.choice((0.2, 0.4, 0.6)) * 6894.757
            value = _pressure(bed, governor, "cut-in", governor.settings["cut-out"] - gap)
            yield Site(_set(bed, governor, "cut-in", value), (governor.name,), f"{governor.name} cuts in at {value}")


def _cut_out_high(bed: Bed, chance: Random) -> Iterator[Site]:
    clause = bed.asked("governor-set-high", "cut_out_psi")
    for governor in bed.own(Trait.GOVERNS):
        if clause is not None:
            value = _pressure(bed, governor, "cut-out", _psi(clause.values["cut_out_psi"] + chance.choice((4, 10, 25))))
            yield Site(_set(bed, governor, "cut-out", value), (governor.name,), f"{governor.name} cuts out at {value}")


def _rod_long(bed: Bed, chance: Random) -> Iterator[Site]:
    """A brake so far out of adjustment that its push rod travels nearly the full stroke."""
    for chamber in bed.own(Trait.SERVICE_ACTUATOR):
        if chamber.kind.setting("slack-length") and chamber.kind.setting("working-stroke"):
            value = f"{chamber.settings['stroke'] / 0.0254 * chance.choice((0.9, 0.95)):.2f} in"
            yield Site(_set(bed, chamber, "working-stroke", value), (chamber.name,), f"{chamber.name} travels {value}")


def _relief_high(bed: Bed, chance: Random) -> Iterator[Site]:
    for valve in bed.own(Trait.RELIEVES):
        zone = bed.evidence.zone(bed.circuit.store(valve))
        filled = bed.evidence.could_reach(frozenset())
        near = [t for t in bed.circuit.reservoirs if bed.circuit.store(t) in zone]
        tanks = near or [t for t in bed.circuit.reservoirs if bed.circuit.store(t) in filled]
        others = [v for v in bed.circuit.having(Trait.RELIEVES) if v is not valve
                  and bed.circuit.store(v) in zone]
        if tanks and not others:
            highest = max(tank.settings["rated"] for tank in tanks)
            value = _pressure(bed, valve, "opens-at", highest + chance.choice((0.7e5, 1.5e5, 3e5)))
            yield Site(_set(bed, valve, "opens-at", value), (valve.name,), f"{valve.name} opens at {value}")


def _relief_low(bed: Bed, chance: Random) -> Iterator[Site]:
    governors = bed.circuit.having(Trait.GOVERNS)
    for valve in bed.own(Trait.RELIEVES):
        if governors and bed.circuit.store(valve) in bed.evidence.could_reach(frozenset()):
            low = governors[0].settings["cut-out"] - chance.choice((0.2e5, 0.6e5, 1e5))
            value = _pressure(bed, valve, "opens-at", low)
            yield Site(_set(bed, valve, "opens-at", value), (valve.name,), f"{valve.name} opens at {value}")


def _warning_late(bed: Bed, chance: Random) -> Iterator[Site]:
    clause = bed.asked("no-low-pressure-warning", "warning_psi")
    for group in bed.evidence.stores:
        zone = bed.evidence.zone(bed.circuit.store(group[0]))
        seeing = [s for s in bed.circuit.having(Trait.WARNS_LOW) if bed.circuit.store(s) in zone]
        if clause is not None and len(seeing) == 1 and bed.statement(seeing[0]):
            late = _psi(clause.values["warning_psi"] - chance.choice((5, 15, 30)))
            value = _pressure(bed, seeing[0], "on-below", late)
            yield Site(_set(bed, seeing[0], "on-below", value), (seeing[0].name, group[0].name),
                       f"{seeing[0].name} warns below {value} only")


def _protection_low(bed: Bed, chance: Random) -> Iterator[Site]:
    warnings = [switch.settings["on-below"] for switch in bed.circuit.having(Trait.WARNS_LOW)]
    for valve in bed.own(Trait.KEEPS_BACK):
        if warnings:
            value = _pressure(bed, valve, "shuts-at", min(max(warnings), valve.settings["shuts-at"])
                              - chance.choice((0.3e5, 0.8e5, 1.4e5)))
            yield Site(_set(bed, valve, "shuts-at", value), (valve.name,), f"{valve.name} shuts at {value} only")


def _lamp_late(bed: Bed, chance: Random) -> Iterator[Site]:
    clause = bed.asked("stop-lamp-not-lit", "lamp_psi")
    for switch in bed.own(Trait.LIGHTS_STOP_LAMP):
        if clause is not None:
            value = _pressure(bed, switch, "on-above", _psi(clause.values["lamp_psi"] + chance.choice((3, 8, 15))))
            yield Site(_set(bed, switch, "on-above", value), (switch.name,), f"{switch.name} lights above {value} only")


def _towing_wrong(bed: Bed, chance: Random) -> Iterator[Site]:
    clause = bed.asked("towing-protection-set-wrong", "least_psi")
    leading = bed.evidence.braking.commanding(bed.circuit.store(head) for head in bed.evidence.rear_heads)
    for valve in bed.own(Trait.PROTECTS_TOWING):
        for passage in valve.kind.passages:
            if clause is None or not passage.keeps or bed.circuit.space_of(valve, passage.end) not in leading:
                continue
            for wrong in (clause.values["least_psi"] - 8, clause.values["most_psi"] + 12):
                value = _pressure(bed, valve, passage.keeps, _psi(wrong))
                edits = _set(bed, valve, passage.keeps, value)
                yield Site(edits, (valve.name,), f"{valve.name} acts at {value}")


def _cock_shut(bed: Bed, chance: Random) -> Iterator[Site]:
    """A cock left shut in front of what must have air."""
    circuit, evidence = bed.circuit, bed.evidence
    ends = [circuit.store(tank) for tank in circuit.reservoirs]
    ends += [circuit.service_space(c) for c in evidence.chambers] + [circuit.spring_space(s) for s in evidence.springs]
    for cock in circuit.having(Trait.SHUTS_BY_HAND):
        if cock.settings["state"] != "open":
            continue
        inlets = frozenset(circuit.space[cock.name, port.number] for port in cock.kind.ports[:1])
        for air in (evidence.driving, evidence.braking):
            behind = frozenset().union(*(air.fed_by(circuit.space[cock.name, port.number], inlets)
                                         for port in cock.kind.ports[1:] if circuit.space[cock.name, port.number] >= 0
                                         and air.is_charged(circuit.space[cock.name, port.number])))
            edits = _stands(bed, cock, "shut") if behind & frozenset(ends) else None
            if edits:
                yield Site(edits, (cock.name,), f"{cock.name} stands shut")
                break


def _stands(bed: Bed, cock: Device, state: str) -> tuple[Edit, ...] | None:
    """A cock set otherwise, in a combination by a row of its own."""
    if bed.statement(cock):
        return _set(bed, cock, "state", state)
    last = [*bed.of_kind("vehicle"), *bed.of_kind("couple"), *bed.of_kind("set")]
    written = [s for s in bed.of_kind("set") if any(n.text == cock.name for n in s.names)]
    if not bed.circuit.is_combination or not last or written:
        return None
    below = max(rows_of(statement)[-1] for statement in last)
    return (Add(below, f"set {cock.name}: state {state}"),)


def _dips(bed: Bed, chance: Random) -> Iterator[Site]:
    for line in bed.evidence.discharge_lines:
        if bed.statement(line) and line.kind.setting("run") and line.settings["run"] == "falling":
            yield Site(_set(bed, line, "run", "dipping"), (line.name,), f"{line.title} dips")


def _hot(bed: Bed, chance: Random) -> Iterator[Site]:
    for line in bed.own(Trait.MELTS):
        if line not in bed.evidence.discharge_lines and line.settings["near"] in (None, "nothing"):
            yield Site(_set(bed, line, "near", "heat"), (line.name,), f"{line.title} passes heat")


def _plastic_discharge(bed: Bed, chance: Random) -> Iterator[Site]:
    """The compressor's discharge line of plastic tube."""
    plastic = next((kind for kind in kinds.every() if Trait.MELTS in kind.traits), None)
    size = max((name for name in tubes() if "x" not in name), key=lambda name: tubes()[name][1], default="")
    for line in bed.evidence.discharge_lines:
        statement = bed.statement(line)
        if plastic is None or statement is None or line.has(Trait.MELTS) or not statement.settings:
            continue
        kept = [setting_text(s) for s in statement.settings if plastic.setting(s.name.text)]
        whole = statement.settings[0].span.to(statement.settings[-1].span)
        if whole.line == statement.settings[-1].span.line:
            row = ", ".join([f"size {size} in", *kept])
            yield Site((swapped(statement.kind.span, plastic.name), swapped(whole, row)), (line.name,),
                       f"the discharge line {line.name} is plastic")


def _moving(bed: Bed, chance: Random) -> Iterator[Site]:
    for line in bed.own(Trait.STIFF):
        if line.settings["ends"] == "fixed":
            yield Site(_set(bed, line, "ends", "moving"), (line.name,), f"the two ends of {line.title} move")


def _bent(bed: Bed, chance: Random) -> Iterator[Site]:
    for line in bed.own(Trait.MELTS):
        least = next((held for size, (held, _) in bends().items() if size in line.given["size"].text.removesuffix(" in")
                      and line.given["size"].text.removesuffix(" in") == size), None)
        if least is not None and line.settings["bend"] is None:
            value = f"{round(least * 1000 * chance.choice((0.4, 0.6, 0.8)))} mm"
            yield Site(_set(bed, line, "bend", value), (line.name,), f"{line.title} is bent to {value}")


def _rated_low(bed: Bed, chance: Random) -> Iterator[Site]:
    for line in bed.own(Trait.LINE):
        seen = max(air.level.get(bed.circuit.space_of(line, end), 0.0)
                   for air in (bed.evidence.driving, bed.evidence.braking) for end in ("1", "2"))
        if line.kind.setting("rated") and line.settings["rated"] is None and seen > 5e5:
            unit = "psi" if "bar" not in bed.source.text else "bar"
            value = f"{round(value_in(seen, unit, 'pressure') * chance.choice((0.5, 0.7, 0.9)), 1):g} {unit}"
            yield Site(_set(bed, line, "rated", value), (line.name,), f"{line.title} is rated for {value} only")


def _drain_high(bed: Bed, chance: Random) -> Iterator[Site]:
    for drain in bed.own(Trait.DRAINS_WATER):
        space = bed.circuit.store(drain)
        lowest = [d for d in bed.circuit.on_space(space, Trait.DRAINS_WATER) if d.settings["placed"] == "lowest"]
        tanks = bed.circuit.on_space(space, Trait.STORES_AIR)
        if lowest == [drain] and len(bed.circuit.on_space(space, Trait.DRAINS_WATER)) == 1 and tanks:
            value = chance.choice(("end", "side"))
            yield Site(_set(bed, drain, "placed", value), (drain.name, tanks[0].name),
                       f"{drain.name} sits at the {value}")


OPERATORS = (
    Operator("cut-in-low", "the governor cuts in too late", ("governor-set-low",), "cut-in, governor", _cut_in_low),
    Operator("governor-gap", "cut-in too near the cut-out", ("governor-gap-unusual",), "gap, governor", _gap),
    Operator("cut-out-high", "the governor cuts out too high", ("governor-set-high", "safety-valve-set-wrong"),
             "cut-out, governor, too high", _cut_out_high, ("line-rated-too-low",)),
    Operator("rod-long", "a push rod beyond its stroke limit", ("stroke-beyond-limit",),
             "stroke, travel, adjust", _rod_long),
    Operator("relief-high", "a safety valve set above a rating", ("safety-valve-set-wrong",),
             "safety valve, set, rating", _relief_high),
    Operator("relief-low", "a safety valve set below the cut-out", ("safety-valve-set-wrong",),
             "safety valve, set, cut-out", _relief_low),
    Operator("warning-late", "a low-pressure switch set too low", ("no-low-pressure-warning",),
             "warning, switch, late, low", _warning_late),
    Operator("protection-low", "a protection valve that shuts too low", ("protection-valve-shuts-late",),
             "protection, shuts, late", _protection_low),
    Operator("lamp-late", "a stop-lamp switch set too high", ("stop-lamp-not-lit",),
             "stop lamp, late, lamp", _lamp_late),
    Operator("towing-set-wrong", "the towing protection set wrong", ("towing-protection-set-wrong",),
             "set, pressure, acts", _towing_wrong),
    Operator("cock-shut", "a cock left shut",
             ("reservoir-not-filled", "brake-not-applied", "spring-not-held-off"), "shut, closed, cock", _cock_shut),
    Operator("discharge-dips", "a discharge line that dips", ("discharge-line-dips",), "dip, falling, water", _dips),
    Operator("tube-hot", "plastic tube near heat", ("plastic-tube-too-hot",), "heat, hot, melts", _hot),
    Operator("discharge-plastic", "a discharge line of plastic", ("plastic-tube-too-hot",),
             "plastic, heat, hot, melts", _plastic_discharge),
    Operator("tube-moves", "a stiff tube where its ends move", ("tube-where-ends-move",),
             "move, moving, hose", _moving),
    Operator("tube-bent", "a tube bent too tight", ("line-bent-too-tight",), "bend, bent, tight", _bent),
    Operator("line-weak", "a line rated too low", ("line-rated-too-low",), "rated, rating, burst", _rated_low),
    Operator("drain-high", "a drain not at the lowest point", ("drain-not-lowest",), "drain, lowest", _drain_high),
)
