"""Mistakes of size and declaration: reservoirs, chambers, plugs, and what the circuits are said to serve."""

from collections.abc import Iterator
from random import Random

from circuit.declaring.traits import Role, Trait
from circuit.judging.volumes import Share, counted_volume, shares
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.plant.bed import Bed
from circuit.plant.planting import Operator, Site
from circuit.plant.rows import Add, Edit, rows_of, setting_text, swapped, with_setting
from circuit.tables import Chamber, chambers
from circuit.units import ATMOSPHERE, split, value_in


def _judged(bed: Bed) -> tuple[Share, ...]:
    """The shares that the volume clause judges."""
    return tuple(share for share in shares(bed.evidence) if share.rule_total is True or bed.circuit.is_towed)


def _shrunk(bed: Bed, chance: Random) -> Iterator[Site]:
    clause = bed.asked("reservoirs-too-small", "ratio")
    if clause is None:
        return
    for share in _judged(bed):
        if any(c.settings["rated-volume"] is None and c.settings["holds"] is None for c in share.chambers):
            continue
        for tank in share.tanks:
            found, spare = bed.written(tank), share.tank_volume - clause.values["ratio"] * share.chamber_volume
            most = tank.settings["volume"] - spare
            if found is None or most < 2e-3:
                continue
            unit = split(tank.given["volume"].text).unit
            number = value_in(most * chance.choice((0.6, 0.8, 0.95)), unit, "volume")
            value = f"{number:.0f} {unit}" if number >= 20 else f"{number:.1f} {unit}"
            things = tuple(dict.fromkeys((tank.name, *(t.name for t in share.tanks))))
            yield Site(with_setting(*found, "volume", value), things, f"{tank.name} holds {value} only")


def _retyped(bed: Bed, device: Device, row: Chamber) -> tuple[Edit, ...] | None:
    """A chamber made another trade size, and its stroke too where that size has no such stroke.

    None where it is not written so that both can be changed. An assembly is changed where it is placed.
    """
    found = bed.written(device)
    if found is None or found[0].setting("type") is None:
        return None
    rest = device.settings["type"].partition("/")[2]
    edits = with_setting(*found, "type", f"{row.type}/{rest}" if rest else str(row.type))
    if _fits(device, row):
        return edits
    if len(found[0].names) > 1 or found[0].setting("stroke") is None:
        return None
    return (*edits, *with_setting(*found, "stroke", f"{row.strokes[0] / 0.0254:g} in"))


def _fits(device: Device, row: Chamber) -> bool:
    return bool(row.strokes[0] - 1e-6 <= device.settings["stroke"] <= row.strokes[1] + 1e-6)


def _upsized(bed: Bed, chance: Random) -> Iterator[Site]:
    """All chambers of an axle, or all of one size, made larger, the reservoirs not."""
    clause = bed.asked("reservoirs-too-small", "ratio")
    sets = [[c for c in bed.evidence.chambers if c.settings["axle"] == axle.name] for axle in bed.circuit.axles]
    sets += [[c for c in bed.evidence.chambers if c.settings["type"] == kind]
             for kind in dict.fromkeys(c.settings["type"] for c in bed.evidence.chambers)]
    if clause is None:
        return
    for mine in sets:
        if not mine or any(c.settings["rated-volume"] is None or c.settings["holds"] for c in mine):
            continue
        for row in chambers().values():
            edits = [_retyped(bed, c, row) for c in mine]
            extra = sum(row.rated - counted_volume(c) for c in mine)
            short = [share for share in _judged(bed) if all(c in share.chambers for c in mine) and share.tank_volume
                     < clause.values["ratio"] * (share.chamber_volume + extra)]
            if extra > 0 and short and all(edits):
                axles = " and ".join(dict.fromkeys(c.settings["axle"] for c in mine))
                yield Site(tuple(edit for each in edits for edit in each or ()),
                           tuple(t.name for share in short for t in share.tanks) + tuple(c.name for c in mine),
                           f"axle {axles} has type {row.type} chambers, too large for the reservoirs")


def _unequal(bed: Bed, chance: Random) -> Iterator[Site]:
    for chamber in bed.evidence.chambers:
        twins = [c for c in bed.evidence.chambers if c.settings["axle"] == chamber.settings["axle"]
                 and c.settings["side"] != chamber.settings["side"]]
        own = int(chamber.settings["type"].split("/")[0])
        others = [row for row in chambers().values() if row.type < own and _fits(chamber, row)]
        edits = _retyped(bed, chamber, chance.choice(others)) if others and twins else None
        apart = all(bed.written(twin) != bed.written(chamber) for twin in twins)
        if edits and apart:
            yield Site(edits, (chamber.settings["axle"], chamber.name),
                       f"axle {chamber.settings['axle']} has different chambers left and right")


def _exhaust_plugged(bed: Bed, chance: Random) -> Iterator[Site]:
    for device in bed.own():
        for port in device.kind.ports_as(Role.EXHAUST):
            statement = bed.statement(device)
            if statement and bed.circuit.space[device.name, port.number] == SPACE_OUTSIDE and not device.kind.small:
                name = f"{device.name}.{port.number}"
                yield Site((Add(rows_of(statement)[-1], f"plug {name}"),), (device.name,),
                           f"the exhaust {name} is plugged")


def _axles_exchanged(bed: Bed, chance: Random) -> Iterator[Site]:
    """Two circuits declared to serve each other's axles."""
    meant = {intent.name: intent for intent in bed.circuit.intents if intent.role == "service"}
    rows = [s for s in bed.of_kind("circuit") if len(s.names) == 1 and s.names[0].text in meant and s.setting("axles")]
    for place, one in enumerate(rows):
        for other in rows[place + 1:]:
            pair = one.setting("axles"), other.setting("axles")
            names = one.names[0].text, other.names[0].text
            if pair[0] and pair[1] and meant[names[0]].reservoirs != meant[names[1]].reservoirs \
                    and meant[names[0]].axles != meant[names[1]].axles:
                yield Site((swapped(pair[0].span, setting_text(pair[1])), swapped(pair[1].span, setting_text(pair[0]))),
                           names, f"circuits {names[0]} and {names[1]} are declared to serve each other's axles")


def _compressor_small(bed: Bed, chance: Random) -> Iterator[Site]:
    """A compressor that would be too slow even if it lost nothing."""
    clause = bed.asked("air-builds-slowly", "to_psi")
    total = next((share for share in shares(bed.evidence) if share.rule_total), None)
    pumps = bed.circuit.having(Trait.COMPRESSES)
    if clause is None or total is None or len(pumps) != 1 or not bed.statement(pumps[0]):
        return
    filled = sum(float(tank.settings["volume"]) for tank in bed.circuit.reservoirs
                 if tank.settings["role"] != "auxiliary")
    rise = (clause.values["to_psi"] - clause.values["from_psi"]) * 6894.757
    longer = total.tank_volume / (clause.values["ratio"] * total.chamber_volume) if "ratio" in clause.values else 1.0
    flow = filled * rise / ATMOSPHERE / (clause.values["within_s"] * longer) * chance.choice((0.5, 0.7, 0.9))
    found = bed.written(pumps[0])
    assert found is not None
    unit = split(pumps[0].given["displacement"].text).unit
    value = f"{value_in(flow, unit, 'flow'):.2g} {unit}"
    yield Site(with_setting(*found, "displacement", value), (pumps[0].name,), f"{pumps[0].name} makes {value} only")


OPERATORS = (
    Operator("reservoir-small", "a reservoir too small", ("reservoirs-too-small",),
             "too small, volume, ratio", _shrunk),
    Operator("chambers-large", "chambers up-sized, reservoirs not", ("reservoirs-too-small",),
             "too large, too small, volume, ratio", _upsized, ("air-builds-slowly",)),
    Operator("chambers-unequal", "different chambers left and right", ("unequal-chambers",),
             "unequal, different, not the same", _unequal),
    Operator("exhaust-plugged", "an exhaust plugged", ("exhaust-blocked",), "plug, exhaust, blocked", _exhaust_plugged),
    Operator("axles-exchanged", "circuits declared for each other's axles", ("circuit-not-as-declared",),
             "declared, axle", _axles_exchanged),
    Operator("compressor-small", "a compressor too small", ("air-builds-slowly",),
             "compressor, too small, slow", _compressor_small),
)
