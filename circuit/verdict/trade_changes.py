"""What a shop could change about a design that misses something: sizes of the trade for what is on the way to it, a valve put in,
a setting. Each change is a row of the language, with what it costs.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from circuit.declaring.traits import Role, Trait
from circuit.judging.rule import Figure
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.studies.ordering import line_mass
from circuit.tables import table, trade_size
from circuit.units import gauge, value_in

WIDER, THINNER = 3, 1
"""Sizes up and down that are tried; our choice: a wider line is not always a faster one."""
LONG = 3.0
"""m of a signal line from which a valve is put in near its end; our choice."""
NEAR = 0.3
"""m from a valve that is put in to what it serves, and of its own feed 1 m: the shop measures; our choice."""
PUT_IN = "advised"


class Change(NamedTuple):
    """One thing done. of: what it is done to; two changes of one thing exclude each other. rows: of the language. says: in words.
    parts: how many parts and lines are new. mass: kg, and metres: of line, of what is new. items: what is bought, by name, with
    how much of it."""

    of: str
    rows: tuple[str, ...]
    says: str
    parts: int
    mass: float
    metres: float
    items: tuple[tuple[str, float], ...]


Prices = dict[str, float]


def cost(changes: Iterable[Change], prices: Prices) -> tuple[float, float, float]:
    """What changes cost, to be compared: by the shop's prices where it has any, else by how many parts, then kg, then m."""
    every = tuple(changes)
    if prices:
        return sum(prices.get(name, 0.0) * much for each in every for name, much in each.items), len(every), 0.0
    return float(sum(each.parts for each in every)), sum(each.mass for each in every), sum(each.metres for each in every)


def of_lines(circuit: Circuit, names: Iterable[str]) -> Iterator[Change]:
    """Other sizes for lines, and valves put into long ones that carry a signal."""
    for number, name in enumerate(dict.fromkeys(names), 1):
        line = circuit.by_name.get(name)
        if line is None or line.ends is None or line.settings.get("length") is None:
            continue
        yield from _sizes(line)
        if line.settings["length"] >= LONG:
            yield from _valves(circuit, line, number)


def _subject(line: Device) -> str:
    return str(line.settings.get("name") or line.name)


def _sizes(line: Device) -> Iterator[Change]:
    series, word, written = _series(line)
    if written not in series:
        return
    place = series.index(written)
    for size in series[max(0, place - THINNER): place + WIDER + 1]:
        if size != written:
            length = line.settings["length"]
            shown = size if word == "bore" or "x" in size else f"{size} in"
            yield Change(line.name, (f"set {_subject(line)}: {word} {shown}",), f"{line.title} in {shown} instead of "
                         f"{line.given[word].text}", 1, line_mass(size, length), length,
                         ((f"{line.kind.name} {shown}", length), (f"fitting {shown}", 2.0)))


def _series(line: Device) -> tuple[list[str], str, str]:
    """The sizes of a line's trade, which setting says it, and which it has."""
    series = table("trade")["series"]
    if "size" in line.given:
        size = trade_size(line.settings["size"], line.settings["bore"])
        return list(series["tube_metric" if "x" in size else "tube_inch"]), "size", size
    if "bore" in line.given:
        written = " ".join(line.given["bore"].text.split())
        return list(series["hose_inch" if written.endswith("in") else "hose_metric"]), "bore", written
    return [], "", ""


def _valves(circuit: Circuit, line: Device, number: int) -> Iterator[Change]:
    """A quick release or a relay before the control port that a long line leads to. number: to call it by."""
    assert line.ends is not None
    mass, put_in, long = table("trade")["mass"], table("trade")["put_in"], line.settings["length"]
    for end, start in (line.ends, line.ends[::-1]):
        port = circuit.by_name[end[0]].kind.port(end[1])
        if port is None or port.role is not Role.CONTROL:
            continue
        cut = f"cut {circuit.port_name(start)} -> {circuit.port_name(end)}: put-in "
        lengths = f"first {long - NEAR:g} m, second {NEAR:g} m"
        kind, (one, other) = put_in["releases"]["kind"], put_in["releases"]["ports"]
        valve = f"{PUT_IN}-release-{number}"
        yield Change(f"into {line.name}", (f"{kind} {valve}: deliveries 1", f"{cut}{valve}.{one} and {valve}.{other}, {lengths}"),
                     f"a {kind} into {line.title}, {NEAR:g} m before {end[0]}", 1, mass[kind], 0.0,
                     ((kind, 1.0), (f"fitting {line.kind.name}", 2.0)))
        store = _source(circuit, end[0])
        if store is not None:
            repeats, valve = put_in["repeats"], f"{PUT_IN}-relay-{number}"
            kind, (one, other, air), feed, size = repeats["kind"], repeats["ports"], repeats["feed"], repeats["size"]
            rows = (f"{kind} {valve}: deliveries 1", f"{cut}{valve}.{one} and {valve}.{other}, {lengths}",
                    f"{feed} {store} -> {valve}.{air}: size {size} in, length 1 m")
            yield Change(f"into {line.name}", rows, f"a {kind} into {line.title}, {NEAR:g} m before {end[0]}, fed from {store}",
                         2, mass[kind] + line_mass(size, 1.0), 1.0,
                         ((kind, 1.0), (f"{feed} {size} in", 1.0), (f"fitting {size} in", 4.0)))


def _source(circuit: Circuit, name: str) -> str | None:
    """The reservoir that feeds a valve straight, or None."""
    for line in circuit.devices:
        if line.ends and name in (line.ends[0][0], line.ends[1][0]):
            for other, _ in line.ends:
                device = circuit.by_name[other]
                if device.has(Trait.STORES_AIR) and device.settings.get("role") in ("service", "supply"):
                    return other
    return None


def of_air(circuit: Circuit) -> Iterator[Change]:
    """Larger reservoirs and compressors."""
    trade = table("trade")
    for tank in circuit.reservoirs_for("supply", "service"):
        has = value_in(tank.settings["volume"], "L", "volume")
        for litres in [each for each in trade["series"]["reservoir_L"] if each > has + 1e-6][:4]:
            yield Change(tank.name, (f"set {tank.name}: volume {litres} L",),
                         f"{tank.name} of {litres} L instead of {has:g} L", 1,
                         trade["mass"]["reservoir_kg_L"] * litres, 0.0, ((f"reservoir {litres} L", 1.0),))
    for pump in circuit.having(Trait.COMPRESSES):
        makes = value_in(pump.settings["displacement"], "cfm", "flow")
        for cfm in [each for each in trade["series"]["compressor_cfm"] if each > makes + 1e-6][:4]:
            yield Change(pump.name, (f"set {pump.name}: displacement {cfm:g} cfm",), f"{pump.name} of {cfm:g} cfm instead of "
                         f"{makes:.1f} cfm", 1, 0.0, 0.0, ((f"compressor {cfm:g} cfm", 1.0),))


def of_setting(circuit: Circuit, thing: str, figure: Figure) -> Iterator[Change]:
    """The setting of a part that a figure was found to be, put to the limit."""
    device = circuit.by_name.get(thing)
    if device is None or figure.dimension != "pressure":
        return
    for setting in device.kind.settings:
        value = device.settings.get(setting.name)
        if setting.dimension == "pressure" and value is not None and abs(value - figure.found) < 1.0:
            bar = gauge(figure.limit) / 1e5
            tidy = -(-bar * 10 // 1) / 10 if figure.at_least else (bar * 10 // 1) / 10
            yield Change(f"{device.name} {setting.name}", (f"set {device.name}: {setting.name} {tidy:.1f} bar",),
                         f"{device.name} set to {setting.name} {tidy:.1f} bar instead of {device.given[setting.name].text}",
                         0, 0.0, 0.0, ())


def on_the_way(circuit: Circuit, legs: Iterable[str]) -> Iterator[str]:
    """The lines on a way, and those that feed the valves on it."""
    by: Callable[[str], Device | None] = circuit.by_name.get
    for name in legs:
        device = by(name)
        if device is None:
            continue
        if device.is_line:
            yield name
            continue
        supplies = {(name, port.number) for port in device.kind.ports_as(Role.SUPPLY)}
        for line in circuit.devices:
            if line.ends and supplies & set(line.ends):
                yield line.name
