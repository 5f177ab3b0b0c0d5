"""Which parts stand together: the bands of a drawing that is too wide or too high for its medium.

A band is what is laid out by itself; a line between two bands is cut and ends in flags. Each vehicle begins as one
band. One that does not fit is cut in two where by stage or by purpose fewest lines cross, single parts then moving over
while that cuts fewer; at the end bands that fit together become one again.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from circuit.draw.collect import Whole
from circuit.draw.parts import Run, Slot, is_wheel, vehicle_of
from circuit.draw.roles import AUXILIARY, TRAILER_CONTROL, TRAILER_SUPPLY, Roles
from circuit.model.devices import Device

Fit = Callable[[frozenset[str]], float]
"""How large the parts are when laid out, in shares of the medium: 1 fills it."""
_LEAST_SHARE, _LEAST_PURPOSE = 0.22, 0.05
"""Of the parts of a band, that each half keeps; less where the halves differ by purpose."""
_TRIES = 4
_PER_CUT = 0.03
"""What a cut line is worth, in shares of the medium."""
_MOST_BANDS = 24
_FIRST = 1.5
"""Up to this stage air is made, or comes from the towing vehicle."""


@dataclass(slots=True)
class Net:
    """What may be moved: atoms, each some devices and tees that stay together, and how many lines join any two."""

    atoms: list[frozenset[str]]
    joined: list[dict[int, int]]
    stage: list[float]
    weight: list[float]
    vehicle: list[str]
    purpose: list[str] = field(default_factory=list)


def net_of(whole: Whole, roles: Roles) -> Net:
    """The atoms of a circuit: wheels of one axle together, and what is screwed to each other."""
    circuit = whole.circuit

    names = [body.device.name for body in whole.parts.bodies] + sorted(whole.tees)
    parent: dict[str, str] = {name: name for name in names}

    def root(name: str) -> str:
        while parent[name] != name:
            name = parent[name]
        return name

    wheels: dict[tuple[str, str], str] = {}
    for body in whole.parts.bodies:
        device = body.device
        axle = device.settings.get("axle")
        if isinstance(axle, str) and is_wheel(device):
            parent[root(device.name)] = root(wheels.setdefault((vehicle_of(circuit, device), axle), device.name))
    runs = [run for wire in whole.parts.wires for run in wire.runs]
    for run in runs:
        if run.line is None and not run.couples:
            one, other = (_name(end) for end in (run.start, run.end))
            parent[root(one)] = root(other)
    groups: dict[str, list[str]] = {}
    for name in names:
        groups.setdefault(root(name), []).append(name)
    atoms = [frozenset(group) for group in groups.values()]
    index = {name: number for number, atom in enumerate(atoms) for name in atom}
    joined: list[dict[int, int]] = [{} for _ in atoms]
    natures = {member.number: member.nature for member in roles.circuits}
    kinds: list[list[str]] = [[] for _ in atoms]
    for run in runs:
        a, b = index[_name(run.start)], index[_name(run.end)]
        for here, there in ((a, b), (b, a)):
            kinds[here].append(natures[whole.circuits[run.number]])
            if a != b:
                joined[here][there] = joined[here].get(there, 0) + 1
    of = circuit.by_name
    stages = [[whole.stage[name] for name in sorted(atom) if name in whole.stage] for atom in atoms]
    net = Net(atoms, joined, [max(own) if own else -1.0 for own in stages],
              [sum(_weight(of[name]) for name in sorted(atom)) for atom in atoms],
              [vehicle_of(circuit, of[min(atom)]) for atom in atoms])
    for number, own in enumerate(net.stage):  # a tee stands where what it feeds from does
        if own < 0:
            near = [net.stage[other] for other in joined[number] if net.stage[other] >= 0]
            net.stage[number] = sorted(near)[len(near) // 2] if near else 0.0
    net.purpose = [_purpose(own) for own in kinds]
    return net


def _name(end: Slot | str) -> str:
    return end if isinstance(end, str) else end.body.device.name


def _weight(device: Device) -> float:
    symbol = device.kind.symbol
    return 0.2 if symbol is not None and symbol.joint else 2.0 if is_wheel(device) else 1.0


def _purpose(kinds: list[str]) -> str:
    """What an atom is for, where it is nothing else."""
    if kinds and all(kind == AUXILIARY for kind in kinds):
        return AUXILIARY
    return "towing" if kinds and all(kind in (TRAILER_CONTROL, TRAILER_SUPPLY) for kind in kinds) else ""


def divide(net: Net, fit: Fit) -> list[frozenset[str]]:
    """The bands, in reading order, each as its devices and tees."""
    todo = [frozenset(n for n, own in enumerate(net.vehicle) if own == vehicle)
            for vehicle in dict.fromkeys(net.vehicle)]
    done: list[frozenset[int]] = []
    while todo:
        band = todo.pop(0)
        if len(band) < 2 or fit(names_of(net, band)) <= 1 or len(todo) + len(done) >= _MOST_BANDS:
            done.append(band)
        else:
            todo = [*_halves(net, band, fit), *todo]
    bands = [part for band in _joined_again(net, done, fit) for part in _pieces(net, band)]
    order = list(dict.fromkeys(net.vehicle))
    bands.sort(key=lambda band: (order.index(net.vehicle[min(band)]), min(net.stage[n] for n in band) > _FIRST,
                                 _mean_stage(net, band)))
    return [names_of(net, band) for band in bands]


def names_of(net: Net, band: frozenset[int]) -> frozenset[str]:
    """The devices and tees of a band."""
    return frozenset(name for number in band for name in net.atoms[number])


def cuts(net: Net, one: frozenset[int], other: frozenset[int]) -> int:
    """How many lines join two bands."""
    return sum(count for number in one for mate, count in net.joined[number].items() if mate in other)


def _pieces(net: Net, band: frozenset[int]) -> list[frozenset[int]]:
    """What of a band hangs together; a band that was one from the start stays one."""
    left, found = set(band), []
    while left:
        part, todo = set(), [min(left)]
        while todo:
            n = todo.pop()
            part.add(n)
            todo += [mate for mate in net.joined[n] if mate in left and mate not in part and mate not in todo]
        left -= part
        found.append(frozenset(part))
    whole = all(mate in band for n in band for mate in net.joined[n])
    return [band] if whole else found


def _mean_stage(net: Net, band: frozenset[int]) -> float:
    total = sum(net.weight[n] for n in band)
    return sum(net.stage[n] * net.weight[n] for n in band) / total


def _halves(net: Net, band: frozenset[int], fit: Fit) -> tuple[frozenset[int], frozenset[int]]:
    """A band in two, the better fitting of those with the fewest cuts."""
    found: dict[frozenset[int], int] = {}
    for first, least in _guesses(net, band):
        first = _moved(net, band, first, least)
        if first and first != band:
            found.setdefault(first, cuts(net, first, band - first))
    ranked = sorted(found, key=lambda first: (found[first] + 4 * abs(_share(net, first, band) - 0.5), sorted(first)))
    best: tuple[float, frozenset[int]] | None = None
    for first in ranked[:_TRIES]:
        sizes = [fit(names_of(net, part)) for part in (first, band - first)]
        cost = sum(max(0.0, size - 1) for size in sizes) + 0.1 * max(sizes) + _PER_CUT * found[first]
        if best is None or cost < best[0]:
            best = cost, first
    if best is None:
        ordered = sorted(band, key=lambda n: (net.stage[n], n))
        best = 0.0, frozenset(ordered[:len(ordered) // 2])
    return best[1], band - best[1]


def _share(net: Net, part: frozenset[int], band: frozenset[int]) -> float:
    return sum(net.weight[n] for n in part) / sum(net.weight[n] for n in band)


def _guesses(net: Net, band: frozenset[int]) -> Iterator[tuple[frozenset[int], float]]:
    """First guesses of one half, and how small a share a half may become: by stage, by purpose, and grown from wheels."""
    for at in sorted({net.stage[n] for n in band})[1:]:
        first = frozenset(n for n in band if net.stage[n] < at)
        if _LEAST_SHARE <= _share(net, first, band) <= 1 - _LEAST_SHARE:
            yield first, _LEAST_SHARE
    for purpose in (AUXILIARY, "towing"):
        first = frozenset(n for n in band if net.purpose[n] == purpose)
        if first and _LEAST_PURPOSE <= _share(net, first, band) <= 1 - _LEAST_SHARE:
            yield first, _LEAST_PURPOSE
    last = max(net.stage[n] for n in band)
    for seed in sorted(n for n in band if net.stage[n] >= min(last, 9)):
        yield _grown(net, band, seed), _LEAST_SHARE


def _grown(net: Net, band: frozenset[int], seed: int) -> frozenset[int]:
    """Half of a band around one atom: always what is joined to it most, in shares of its own lines."""
    part = {seed}
    while _share(net, frozenset(part), band) < 0.5:
        near = {mate for n in part for mate in net.joined[n] if mate in band and mate not in part}
        if not near:
            break

        def pull(n: int) -> float:
            lines = sum(net.joined[n].values())
            return sum(count for mate, count in net.joined[n].items() if mate in part) / lines

        part.add(max(sorted(near), key=pull))
    return frozenset(part)


def _moved(net: Net, band: frozenset[int], first: frozenset[int], least: float) -> frozenset[int]:
    """Atoms moved over, each once in a pass and the best moment of the pass kept, while fewer lines are cut."""
    now = set(first)
    for _ in range(4):
        start, gain, best, kept = set(now), 0, 0, set(now)
        free = set(band)
        while free:
            choice: tuple[int, int] | None = None
            for n in sorted(free):
                inside = n in now
                share = _share(net, frozenset(now - {n} if inside else now | {n}), band)
                if not least <= share <= 1 - least:
                    continue
                better = sum(count if (mate in now) != inside else -count
                             for mate, count in net.joined[n].items() if mate in band)
                if choice is None or better > choice[0]:
                    choice = better, n
            if choice is None:
                break
            gain += choice[0]
            now ^= {choice[1]}
            free.discard(choice[1])
            if gain > best:
                best, kept = gain, set(now)
        now = kept
        if now == start:
            break
    return frozenset(now)


def _joined_again(net: Net, bands: list[frozenset[int]], fit: Fit) -> list[frozenset[int]]:
    """Bands of one vehicle that fit into one, those with most lines between them first; then single atoms moved over."""
    bands = list(bands)
    tried: set[frozenset[int]] = set()
    while True:
        pairs = sorted(((cuts(net, a, b), i, j) for i, a in enumerate(bands) for j, b in enumerate(bands[:i])
                        if net.vehicle[min(a)] == net.vehicle[min(b)]), key=lambda p: (-p[0], p[1:]))
        for count, i, j in pairs:
            both = bands[i] | bands[j]
            if count and both not in tried and fit(names_of(net, both)) <= 1:
                bands = [band for place, band in enumerate(bands) if place not in (i, j)] + [both]
                break
            tried.add(both)
        else:
            break
    return _settled(net, bands, fit)


def _settled(net: Net, bands: list[frozenset[int]], fit: Fit) -> list[frozenset[int]]:
    """Single atoms in the band of their vehicle that most of their lines go to, as far as they fit there."""
    for _ in range(2):
        moved = False
        for n in range(len(net.atoms)):
            own = next(place for place, band in enumerate(bands) if n in band)
            if len(bands[own]) < 2:
                continue
            pulls = [sum(count for mate, count in net.joined[n].items() if mate in band) for band in bands]
            best = max(range(len(bands)), key=lambda place: (net.vehicle[min(bands[place])] == net.vehicle[n], pulls[place]))
            if pulls[best] > pulls[own] and fit(names_of(net, bands[best] | {n})) <= 1:
                bands[own] -= {n}
                bands[best] |= {n}
                moved = True
        if not moved:
            break
    return bands


def cut_runs(whole: Whole, bands: list[frozenset[str]]) -> list[Run]:
    """The lines that go from one band to another, in the order of the design."""
    of = {name: place for place, band in enumerate(bands) for name in band}
    runs = [run for wire in whole.parts.wires for run in wire.runs if of[_name(run.start)] != of[_name(run.end)]]
    return sorted(runs, key=lambda run: run.number)
