"""What each thing that can be wrong with a vehicle would make a fitter read at its commissioning: played once, in batches.

Faults that only leak are one family for each space they empty, with holes of several sizes: which part it is no gauge tells.
Values are SI, pressures absolute Pa; None for what never comes.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import ceil, log, pi, sqrt
from random import Random
from typing import Any, NamedTuple

from circuit import cache
from circuit.declaring.kind import OUTSIDE, Failure
from circuit.declaring.traits import Trait
from circuit.faults.failing import failing
from circuit.faults.single import LEAK, Fault, single
from circuit.faults.whole import Whole
from circuit.gas.flow import SHARP_HOLE, from_area
from circuit.model.air import Air
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.sim import Variant, simulate, simulate_many
from circuit.sim.variants import extras_of
from circuit.studies.commission import Commission, commission, read
from circuit.studies.steps import OPTIONS
from circuit.units import ATMOSPHERE, shown

BATCH = 30
STEP = 1.75
"""From one size of hole to the next, diameters: about three times the area; our choice."""
SOUND_ONES, SEED = 60, 18
"""How many sound vehicles are played whose parts scatter as parts do; our choice."""
FLOW, DELIVERY, STROKE, SET = 0.2, 0.1, 0.15, 1e4
"""How far parts scatter: what they let through, what a compressor makes, how far a rod travels, as shares; and at what pressure
a governor, a switch or a knob acts, Pa. Our choice; the first as in `studies.band`."""
BEYOND = 7e4
"""Pa by which a set pressure is taken to be wrong where it is a thing that explains readings; our choice, ten psi."""
WEAK = 0.7
"""What a compressor makes that is worn, as a share; our choice."""

Signature = tuple[float | None, ...]


class Entry(NamedTuple):
    """One thing that explains readings. sort: `designed`, `fault`, `leak` or `assumed`. members: the faults it stands for, by
    name. failures, sizes, settings, delivery: as a `Variant` has them. signature: what is read with it. hole: of a leak, the
    diameter of a sharp hole that lets out as much, m."""

    name: str
    sort: str
    members: tuple[str, ...]
    failures: tuple[tuple[str, str], ...]
    sizes: tuple[tuple[str, str, float], ...]
    settings: tuple[tuple[str, str, float], ...]
    delivery: float
    signature: Signature
    hole: float = 0.0

    @property
    def variant(self) -> Variant:
        return Variant(self.name, self.failures, sizes={(device, failure): size for device, failure, size in self.sizes},
                       settings={(device, setting): value for device, setting, value in self.settings}, delivery=self.delivery)


class Library(NamedTuple):
    """entries: the vehicle as designed first. sound: what is read on sound vehicles whose parts scatter. silent: faults that act
    on nothing that is read."""

    commission: Commission
    entries: tuple[Entry, ...]
    sound: tuple[Signature, ...]
    silent: tuple[str, ...]


def library(circuit: Circuit, made_of: str = "", tell: Callable[[str], None] = lambda words: None) -> Library:
    """The library of a circuit. made_of: all that it depends on, to keep it between runs; "" keeps nothing. Raises CannotAsk."""
    asked = commission(circuit)

    def make() -> Any:
        found, silent = _entries(circuit, asked, tell)
        return [tuple(entry) for entry in found], sound_ones(asked), silent

    entries, sound, silent = cache.kept(f"library-{_short(made_of)}", made_of, make) if made_of else make()
    return Library(asked, tuple(Entry(*entry) for entry in entries), tuple(map(tuple, sound)), tuple(silent))


def _short(text: str) -> str:
    from hashlib import sha256

    return sha256(text.encode("utf-8", "surrogateescape")).hexdigest()[:32]


def signatures(asked: Commission, variants: Sequence[Variant], idle: Sequence[Sequence[str]] = ()) -> list[Signature]:
    """What is read with each variant. idle: instruments that have failed in each."""
    found: list[Signature] = []
    for first in range(0, len(variants), BATCH):
        traces = simulate_many(asked.circuit, asked.script, variants[first: first + BATCH], asked.until, start=asked.start,
                               engine=asked.engine, options=OPTIONS, watch=asked.watched)
        for number, trace in enumerate(traces, first):
            found.append(read(asked, trace, idle[number] if idle else ()))
    return found


def sound_ones(asked: Commission, count: int = SOUND_ONES, seed: int = SEED) -> list[Signature]:
    """What is read on sound vehicles whose parts scatter, by a seed."""
    return signatures(asked, [scattered(asked.circuit, Random(f"{seed} {number}")) for number in range(count)])


def scattered(circuit: Circuit, draw: Random, of: Variant = Variant()) -> Variant:
    """A variant with parts that scatter as parts do."""
    ways: dict[tuple[str, str, str] | str, float] = {
        device.name: draw.uniform(1 - FLOW, 1 + FLOW) for device in circuit.devices
            if any(passage.conductance or device.is_line for passage in device.kind.passages)}
    settings: dict[tuple[str, str], object] = {}
    for device, name in _set_pressures(circuit):
        settings[device.name, name] = device.settings[name] + draw.uniform(-SET, SET)
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        if chamber.settings.get("working-stroke"):
            settings[chamber.name, "working-stroke"] = chamber.settings["working-stroke"] * draw.uniform(1 - STROKE, 1 + STROKE)
    return of._replace(conductances=ways, settings={**settings, **of.settings},
                       delivery=of.delivery * draw.uniform(1 - DELIVERY, 1 + DELIVERY))


def _set_pressures(circuit: Circuit) -> Iterator[tuple[Device, str]]:
    """The settings at which governors, warnings and knobs act."""
    for device in circuit.devices:
        for setting in device.kind.settings:
            acts = (device.has(Trait.GOVERNS) or device.has(Trait.WARNS_LOW) or setting.name.endswith("pops-out-at"))
            if acts and setting.dimension == "pressure" and device.settings.get(setting.name) is not None:
                yield device, setting.name


# --- the entries -------------------------------------------------------------------------------------------------------


def _entries(circuit: Circuit, asked: Commission, tell: Callable[[str], None]) -> tuple[list[Entry], list[str]]:
    whole = Whole(circuit)
    faults = single(circuit)
    leaks = [fault for fault in faults if _is_leak(circuit, fault)]
    acting = [fault for fault in faults if fault not in set(leaks) and fault.parts
              and any(_failure(circuit, *part).acts for part in fault.parts) and not fault.exchanged and not fault.holds]
    apart = [fault for fault in faults if fault.exchanged or fault.holds]
    silent = [fault.name for fault in faults if fault.parts and not any(_failure(circuit, *part).acts for part in fault.parts)]
    bare = [_entry("as designed", "designed", ()), *(_entry(fault.name, "fault", (fault.name,), fault.parts) for fault in acting),
            *_leaks(circuit, whole, leaks), *_assumed(circuit)]
    tell(f"diagnose: {len(bare) + len(apart) + SOUND_ONES} commissionings of {circuit.vehicle.name}")
    read_of = signatures(asked, [entry.variant for entry in bare], [tuple(idle_with(circuit, entry)) for entry in bare])
    found = [entry._replace(signature=signature) for entry, signature in zip(bare, read_of)]
    return [*found, *(_played_apart(circuit, asked, fault) for fault in apart)], silent


def _entry(name: str, sort: str, members: Iterable[str], failures: tuple[tuple[str, str], ...] = (),
           sizes: tuple[tuple[str, str, float], ...] = (), settings: tuple[tuple[str, str, float], ...] = (),
           delivery: float = 1.0) -> Entry:
    return Entry(name, sort, tuple(members), failures, sizes, settings, delivery, ())


def _failure(circuit: Circuit, device: str, name: str) -> Failure:
    return next(failure for failure in circuit.by_name[device].kind.failures if failure.name == name)


def _is_leak(circuit: Circuit, fault: Fault) -> bool:
    """Whether a fault does nothing but let air out through a small hole."""
    if len(fault.parts) != 1 or fault.exchanged or fault.holds:
        return False
    failure = _failure(circuit, *fault.parts[0])
    device = circuit.by_name[fault.parts[0][0]]
    others = failure.shuts or failure.stops or failure.holds or failure.idle or failure.jams or failure.scales
    return bool(failure.opens) and not others and failure.share <= LEAK and all(
        OUTSIDE in way or circuit.space_of(device, way[1]) < 0 or circuit.space_of(device, way[0]) < 0 for way in failure.opens)


def _leaks(circuit: Circuit, whole: Whole, leaks: Iterable[Fault]) -> Iterator[Entry]:
    """One family for each zone that leaks: holes of some sizes at the first of its members."""
    families: dict[object, list[tuple[Fault, float]]] = {}
    for fault in leaks:
        name, failure_name = fault.parts[0]
        device = circuit.by_name[name]
        spaces = {circuit.space_of(device, port) for way in _failure(circuit, name, failure_name).opens for port in way
                  if port != OUTSIDE} - {-1}
        zone = frozenset(space for each in spaces for space in whole.zone(each))
        families.setdefault(zone, []).append((fault, _hole(circuit, fault)))
    for members in families.values():
        first, own = members[0]
        least, most = min(hole for _, hole in members) / STEP, max(hole for _, hole in members) * STEP
        count = max(3, ceil(log(most / least) / log(STEP)) + 1)
        for number in range(count):
            hole = least * (most / least) ** (number / (count - 1))
            part = first.parts[0]
            yield _entry(leak_name(hole, first.name), "leak", (fault.name for fault, _ in members), first.parts,
                         ((*part, (hole / own) ** 2),))._replace(hole=hole)


def leak_name(hole: float, first: str) -> str:
    """What a leak is called. hole: m. first: one of the parts that it may be at."""
    return f"leak like a hole of {1e3 * hole:.2f} mm: {first}"


def _hole(circuit: Circuit, fault: Fault) -> float:
    """The diameter of a sharp hole, m, that lets out as much as a leak."""
    flow = sum(extra.conductance for extra in extras_of(circuit, Variant("", fault.parts)))
    return sqrt(flow / from_area(SHARP_HOLE * pi / 4))


def _assumed(circuit: Circuit) -> Iterator[Entry]:
    """What is set or made otherwise than the design says, farther than parts scatter."""
    for device, name in _set_pressures(circuit):
        for word, more in (("higher", BEYOND), ("lower", -BEYOND)):
            yield _entry(f"{device.name}: {name} {shown(ATMOSPHERE + BEYOND, 'pressure')} {word} than written", "assumed",
                         (f"{device.name}: {name}",), settings=((device.name, name, device.settings[name] + more),))
    if circuit.having(Trait.COMPRESSES):
        yield _entry(f"the compressor makes {100 * WEAK:.0f} % of what is assumed", "assumed", ("compressor: worn",),
                     delivery=WEAK)


def idle_with(circuit: Circuit, entry: Entry) -> Iterator[str]:
    """The instruments that an entry's failures put out of work."""
    for device, name in entry.failures:
        if _failure(circuit, device, name).idle and circuit.by_name[device].kind.traits & {
                Trait.SHOWS_PRESSURE, Trait.WARNS_LOW, Trait.TESTS_PRESSURE}:
            yield device


def _played_apart(circuit: Circuit, asked: Commission, fault: Fault) -> Entry:
    """A fault that is no variant: lines on each other's place, no current."""
    wrong, _, _ = failing(circuit, fault, Air(circuit, "driving", {}, {}))
    trace = simulate(wrong, asked.script, asked.until, start=asked.start, engine=asked.engine, options=OPTIONS)
    signature = read(replace_circuit(asked, wrong), trace)
    return _entry(fault.name, "fault", (fault.name,))._replace(signature=signature)


def replace_circuit(asked: Commission, circuit: Circuit) -> Commission:
    """The commissioning of a circuit that is joined otherwise: the same readings at the spaces of the same places."""
    moved = []
    for reading in asked.readings:
        key = min(asked.circuit.ports_of[reading.space])
        moved.append(reading._replace(space=circuit.space[key]))
    return asked._replace(circuit=circuit, readings=tuple(moved))
