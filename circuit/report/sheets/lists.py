"""The parts list, the tube schedule, the settings sheet and the list of assumptions."""

from circuit.declaring.traits import Role, Trait
from circuit.draw.collect import collect
from circuit.draw.roles import assign
from circuit.model.circuit import Circuit
from circuit.model.devices import CONFIRMED, SPACE_OUTSIDE, Device, Given
from circuit.report.table import Table
from circuit.units import shown, value_in

_SIZES = ("type", "size", "volume", "displacement", "stroke", "deliveries", "reads-to", "line", "end", "role")
"""Settings that tell which part to take from the shelf."""
_SET = frozenset({"pressure", "difference", "fraction", "bound", "any", "ratio"})
"""Dimensions of what is set on a part."""
_RATINGS = frozenset({"rated", "tested-to", "reads-to", "rated-to"})


def parts_list(circuit: Circuit) -> Table:
    """Every part that is no line."""
    rows = []
    for device in circuit.devices:
        if device.is_line:
            continue
        used, free = [], []
        for port in device.kind.ports:
            key = (device.name, port.number)
            if key in circuit.plugged:
                free.append(f"{port.number} plugged")
            elif circuit.used.get(key):
                used.append(port.number if circuit.used[key] == 1 else f"{port.number} ({circuit.used[key]})")
            elif port.role is Role.EXHAUST and circuit.space.get(key) == SPACE_OUTSIDE:
                free.append(f"{port.number} exhaust")
            elif port.required and device.host is None:
                free.append(f"{port.number} open")
        where = " ".join(str(device.settings[name]) for name in ("axle", "side", "placed") if device.settings.get(name))
        if device.host is not None:
            where = f"on {device.host[0]}" + (f", {where}" if where else "")
        rows.append((device.name, device.kind.title, _given(device, _SIZES), "1", ", ".join(used), ", ".join(free),
                     _given(device, tuple(sorted(_RATINGS - {"reads-to"}))), where, "", "", ""))
    blank = ("approval mark", "supplier reference", "mounting position")
    return Table(
        "parts", "Parts list",
        ("part", "kind", "size or type", "quantity", "ports used", "ports not used", "rating", "where", *blank),
        tuple(rows), ("A size or rating with * is assumed: the design does not write it.",), frozenset(blank),
        frozenset({"quantity"}), frozenset({"kind"}), marks=tuple((row[0],) for row in rows),
        assumed=any("*" in row[2] + row[6] for row in rows),
    )


def _given(device: Device, names: tuple[str, ...]) -> str:
    """Some settings as written, `*` behind an assumed one."""
    return ", ".join(f"{name} {_text(device.given[name])}" for name in names
                     if name in device.given and device.settings.get(name) is not None)


def _text(given: Given) -> str:
    return given.text.strip('"') + (" *" if given.assumed else "")


def tube_schedule(circuit: Circuit) -> Table:
    """Every line, from the upper end to the lower as written, with what its air is for."""
    drawn = collect(circuit)
    roles = assign(circuit, drawn)
    titles = {member.number: member.title for member in roles.circuits}
    use = {run.line.name: (roles.run_role[wire.number, place], titles[wire.circuit])
           for wire in drawn.wires for place, run in enumerate(wire.runs) if run.line is not None}
    rows = []
    for number, line in enumerate((d for d in circuit.devices if d.is_line), 1):
        assert line.ends is not None
        settings = line.settings
        role, member = use.get(line.name, ("", ""))
        rows.append((
            str(number), str(settings.get("name") or ""), *(circuit.port_name(key) for key in line.ends), role, member,
            line.kind.title, _cell(line, "size"), _millimetres(settings.get("bore")), _metres(settings.get("length")),
            _cell(line, "ends"), _cell(line, "material"), _cell(line, "elbows"), _cell(line, "rated"), _cell(line, "near"),
            "", "", "",
        ))
    totals: dict[tuple[str, str], float] = {}
    for line in circuit.devices:
        if line.is_line and line.settings.get("length"):
            bore = _cell(line, "size") or f"bore {_millimetres(line.settings.get('bore'))} mm"
            key = (line.kind.title, bore.removesuffix(" *"))
            totals[key] = totals.get(key, 0.0) + float(line.settings["length"])
    notes = ("Lengths together, without waste: " + "; ".join(f"{kind} {size} {length:.2f} m"
                                                            for (kind, size), length in sorted(totals.items())) + ".",
             "A value with * is assumed.") if totals else ()
    blank = ("bend radius", "support spacing", "heat shield")
    return Table(
        "tubes", "Tube schedule",
        ("no.", "name", "from", "to", "role", "circuit", "kind", "size", "bore mm", "length m", "ends", "material", "elbows",
         "rated", "near", *blank),
        tuple(rows), notes, frozenset(blank), frozenset({"no.", "bore mm", "length m"}), frozenset({"kind", "from", "to"}),
        assumed=any("*" in cell for row in rows for cell in row),
    )


def _cell(device: Device, name: str) -> str:
    return _text(device.given[name]) if name in device.given and device.settings.get(name) is not None else ""


def _millimetres(value: float | None) -> str:
    return f"{value_in(value, 'mm', 'length'):.2f}" if value else ""


def _metres(value: float | None) -> str:
    return f"{value:.2f}" if value else ""


def settings_sheet(circuit: Circuit) -> Table:
    """Every pressure or share that is set on a part."""
    rows = []
    assumed = False
    for device in circuit.devices:
        for name, given in device.given.items():
            setting = device.kind.setting(name)
            value = device.settings.get(name)
            if device.is_line or setting is None or value is None or setting.dimension not in _SET or name in _RATINGS:
                continue
            assumed |= given.assumed
            both = shown(value, setting.dimension) if setting.dimension in ("pressure", "difference", "fraction") and \
                isinstance(value, float) else ""
            rows.append((device.name, device.kind.title, name, setting.says, given.text, both,
                         f"assumed: {given.source}" if given.assumed else "declared", "", ""))
    blank = ("as found", "set by, date")
    return Table("settings", "Settings sheet",
                 ("part", "kind", "setting", "what it is", "value", "in both units", "basis", *blank), tuple(rows),
                 ("Declared is what the design writes; nothing here was measured.",) if rows else (),
                 frozenset(blank), frozenset(), frozenset({"what it is", "basis", "kind"}), assumed,
                 tuple((row[0],) for row in rows))


def assumptions(circuit: Circuit) -> Table:
    """Every value taken for one the design leaves out, and who has to confirm it."""
    safety = {id(device) for device in circuit.devices if device.kind.traits - {Trait.LINE, Trait.JOINS}}
    rows = tuple((_confirms(device, name), device.title, name, given.text, given.source, "", "")
                 for device, name, given in circuit.assumed)
    return Table("assumptions", "Assumptions",
                 ("who must confirm it", "part", "setting", "taken as", "source", "confirmed value", "confirmed by, date"),
                 rows, ("Results hang on these values; whoever signs has to confirm or replace each. Written into the "
                        "design they are assumed no longer.",) if rows else ("No value was assumed.",),
                 frozenset({"confirmed value", "confirmed by, date"}), wide=frozenset({"part", "source"}),
                 assumed=any(id(device) in safety for device, _, _ in circuit.assumed),
                 marks=tuple((device.name,) for device, _, _ in circuit.assumed), bands=("who must confirm it",),
                 joined="part")


def confirmed(circuit: Circuit) -> Table:
    """Every value that somebody has confirmed, with who, when and what from; without rows where nobody has."""
    rows = tuple((device.title, name, given.text, given.source.removeprefix(CONFIRMED)) for device in circuit.devices
                 for name, given in device.given.items() if given.is_confirmed)
    return Table("confirmed", "Confirmed values", ("part", "setting", "value", "confirmed by, when, from what"), rows,
                 ("As the design writes it; nobody here has seen the evidence.",) if rows else (),
                 wide=frozenset({"part", "confirmed by, when, from what"}))


_BY_CHOICE = frozenset({"word", "text", "name", "names", "reference", "count", "size", "bore", "chamber"})
_BY_MEASURING = frozenset({"pressure", "length", "time"})


def _confirms(device: Device, name: str) -> str:
    """Who can know a value: whoever draws, whoever makes the part, or whoever measures on the vehicle."""
    setting = device.kind.setting(name)
    if setting is None or setting.dimension in _BY_CHOICE:
        return "the designer, by choosing"
    if setting.dimension in _BY_MEASURING:
        return "the fitter, by measuring on the vehicle"
    return "the maker of the part, from its data"
