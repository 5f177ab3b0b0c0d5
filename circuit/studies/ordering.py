"""What a shop orders and cuts: a fitting at every line end, lines cut to length with an allowance, clips, plugs, parts grouped.

Sizes of threads, allowances and spacings are those of shared/trade.toml where neither design nor shop says otherwise: common
practice, no source. The parts at hand decide.
"""

from collections.abc import Mapping
from math import ceil, pi
from typing import Any, NamedTuple

from circuit.declaring.traits import Trait
from circuit.model.changing import IN_FORCE
from circuit.model.circuit import Circuit
from circuit.model.devices import Device, PortKey
from circuit.tables import table, trade_size, tubes
from circuit.units import value_in

KINDS = ("type", "volume", "displacement", "stroke", "deliveries", "reads-to", "line", "cut-in", "cut-out", "opens-at",
         "on-below", "pops-out-at")
"""Settings that tell apart two parts of one kind on a shelf, as far as a design writes them."""


class Fitting(NamedTuple):
    """One end of a line. line: as the design calls it. at: the port. what: the sort of fitting. size: of the line; thread: of the
    port."""

    line: str
    at: str
    what: str
    size: str
    thread: str


class Cut(NamedTuple):
    """One piece of line, m. kind, size: of the line. laid: as the design has it; allowance: cut longer by. clips: how many
    hold it."""

    line: str
    kind: str
    size: str
    laid: float
    allowance: float
    clips: int

    @property
    def length(self) -> float:
        """What is cut, m."""
        return self.laid + self.allowance


class Item(NamedTuple):
    """One row of an order. item: what; by this name the shop's prices are looked up. quantity, unit: pieces or m. mass: kg, None
    where nothing is known. price: of all of it, None where the shop's list has none. for_: what it is for."""

    item: str
    quantity: float
    unit: str
    mass: float | None
    price: float | None
    for_: str


class Order(NamedTuple):
    """fittings: one for each end of each line. cuts: one for each line that is cut. items: what is ordered, grouped. unlong:
    lines whose length nobody has written."""

    circuit: Circuit
    fittings: tuple[Fitting, ...]
    cuts: tuple[Cut, ...]
    items: tuple[Item, ...]
    unlong: tuple[str, ...]

    @property
    def metres(self) -> Mapping[str, float]:
        """m that are cut of each size of line."""
        return _summed((f"{cut.kind} {cut.size}", cut.length) for cut in self.cuts)

    @property
    def mass(self) -> float:
        """kg of everything whose mass is known."""
        return sum(item.mass for item in self.items if item.mass is not None)

    @property
    def price(self) -> float | None:
        """Of everything; None where a price is missing."""
        prices = [item.price for item in self.items]
        return None if None in prices else sum(price for price in prices if price is not None)


def order(circuit: Circuit, prices: Mapping[str, float] | None = None, threads: Mapping[str, str] | None = None,
          added: bool = False) -> Order:
    """prices: of a piece or a metre, by item. threads: the shop's own for a part's port, by `PART.PORT` or by size of line.
    added: only what the design's own file brings or changes, on a chassis that is there."""
    devices = [device for device in circuit.devices if not added or is_added(circuit, device)]
    lines = [device for device in devices if device.is_line and not device.has(Trait.DIRECT)]
    fittings = tuple(fitting for line in lines for fitting in _fittings(circuit, line, threads or {}))
    cuts = tuple(_cut(line) for line in lines if line.settings.get("length"))
    unlong = tuple(line.title for line in lines if not line.settings.get("length"))
    return Order(circuit, fittings, cuts, tuple(_items(circuit, devices, fittings, cuts, prices or {})),
                 unlong)


def is_added(circuit: Circuit, device: Device) -> bool:
    """Whether a part or line is written, or changed, in the design's own file and not in its base alone."""
    rows = (device.span, *(row for row, what in device.changed if what == IN_FORCE))
    return any(row.outermost.source is circuit.source for row in rows)


def _size(line: Device) -> str:
    """A line's size as the trade says it."""
    if "size" in line.given and line.settings.get("bore"):
        size = trade_size(line.settings["size"], line.settings["bore"])
        return size if "x" in size else f"{size} in" if size else line.given["size"].text
    return " ".join(line.given["bore"].text.split()) if "bore" in line.given else ""


def _is_stock(line: Device) -> bool:
    """Whether a line is cut from stock by its size; a hose is made up with its ends."""
    return line.has(Trait.STIFF)


def _across(line: Device) -> float:
    """mm by which fittings, clips and allowances go: outside of a tube, bore of a hose."""
    size = _size(line).removesuffix(" in")
    across = tubes()[size][0] if size in tubes() else line.settings.get("bore") or 0.0
    return float(across) * 1e3


def _row(name: str, across: float) -> dict[str, Any]:
    """The first row of a table of shared/trade.toml that holds a size."""
    rows: list[dict[str, Any]] = table("trade")[name]
    return next((row for row in rows if across <= row["to_mm"] + 1e-9), rows[-1])


def _fittings(circuit: Circuit, line: Device, threads: Mapping[str, str]) -> list[Fitting]:
    assert line.ends is not None
    size = _size(line)
    metric = "mm" in size or "x" in size
    usual = str(_row("thread", _across(line))["metric" if metric else "inch"])
    what = "connector" if _is_stock(line) else "hose end"
    return [Fitting(line.title, _place(circuit, end), what, size, threads.get(_place(circuit, end), threads.get(size, usual)))
            for end in line.ends]


def _place(circuit: Circuit, end: PortKey) -> str:
    return circuit.port_name(end)


def _cut(line: Device) -> Cut:
    row, laid = _row("cut", _across(line)), float(line.settings["length"])
    if not _is_stock(line):
        return Cut(line.title, line.kind.name, _size(line), laid, 0.0, 0)
    return Cut(line.title, line.kind.name, _size(line), laid, row["allowance_mm"] / 1e3, max(1, ceil(laid / row["clip_m"]) - 1))


def _summed(pairs: Any) -> dict[str, float]:
    found: dict[str, float] = {}
    for name, much in pairs:
        found[name] = found.get(name, 0.0) + much
    return found


# --- the order -----------------------------------------------------------------------------------------------------------


def _items(circuit: Circuit, devices: list[Device], fittings: tuple[Fitting, ...], cuts: tuple[Cut, ...],
           prices: Mapping[str, float]) -> list[Item]:
    mass = table("trade")["mass"]
    found: list[Item] = []

    def add(item: str, quantity: float, unit: str, each: float | None, for_: str) -> None:
        found.append(Item(item, quantity, unit, None if each is None else each * quantity,
                          prices[item] * quantity if item in prices else None, for_))

    parts: dict[str, list[Device]] = {}
    for device in devices:
        if not device.is_line:
            parts.setdefault(_shelf(device), []).append(device)
    for item, alike in sorted(parts.items()):
        add(item, len(alike), "pieces", _mass(alike[0], mass), ", ".join(device.name for device in alike))
    tubes_: dict[tuple[str, str], list[Cut]] = {}
    hoses: dict[tuple[str, str, float], list[Cut]] = {}
    for cut in cuts:
        if cut.clips:
            tubes_.setdefault((cut.kind, cut.size), []).append(cut)
        else:
            hoses.setdefault((cut.kind, cut.size, cut.laid), []).append(cut)
    for (kind, size), of in sorted(tubes_.items()):
        add(f"{kind} {size}", sum(cut.length for cut in of), "m",
            line_mass(size, 1.0) if size.removesuffix(" in") in tubes() else None, f"{len(of)} pieces")
    for (kind, size, laid), of in sorted(hoses.items()):
        add(f"{kind} {size} of {laid:g} m", len(of), "pieces", line_mass(size, laid), ", ".join(cut.line for cut in of[:3])
            + (" and more" if len(of) > 3 else ""))
    for (what, size, thread), count in sorted(_counted(fittings).items()):
        add(f"{what} {size} to {thread}", count, "pieces", mass["fitting"], "line ends")
    for size, clips in sorted(_summed((cut.size, float(cut.clips)) for cut in cuts if cut.clips).items()):
        add(f"clip {size}", clips, "pieces", None, "holding lines")
    plugged = [key for key in circuit.plugged if circuit.by_name[key[0]] in devices]
    if plugged:
        add("plug", len(plugged), "pieces", None, ", ".join(circuit.port_name(key) for key in plugged))
    return found


def _counted(fittings: tuple[Fitting, ...]) -> dict[tuple[str, str, str], int]:
    found: dict[tuple[str, str, str], int] = {}
    for each in fittings:
        key = (each.what, each.size, each.thread)
        found[key] = found.get(key, 0) + 1
    return found


def _shelf(device: Device) -> str:
    """What tells a part apart on a shelf: its kind, and what the design writes of it."""
    told = [f"{name} {device.given[name].text}" for name in KINDS if name in device.given and not device.given[name].assumed]
    return ", ".join((device.kind.name, *told))


def _mass(device: Device, mass: Mapping[str, Any]) -> float | None:
    if device.has(Trait.STORES_AIR) and device.settings.get("volume"):
        return float(mass["reservoir_kg_L"]) * value_in(device.settings["volume"], "L", "volume")
    return float(mass[device.kind.name]) if device.kind.name in mass else None


def line_mass(size: str, length: float) -> float:
    """kg of a line: of a trade size of tube by its section, else as hose."""
    mass, plain = table("trade")["mass"], size.removesuffix(" in")
    if plain not in tubes():
        return float(mass["hose_kg_m"]) * length
    outside, bore = tubes()[plain]
    return float(mass["polyamide_kg_m3"]) * pi / 4 * (outside**2 - bore**2) * length
