"""What explains the readings of a commissioning: each entry of a library weighed by how well what it predicts fits them.

The weight is a probability under a model: readings scatter with their instruments and with the parts of sound vehicles, half of
all vehicles are as designed, and a fault is one of the library. It ranks; it proves nothing.
"""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from math import log, log2, pi, sqrt
from typing import Any, NamedTuple

from circuit.faults.library import Entry, Library, Signature, leak_name, signatures
from circuit.sim import Variant
from circuit.studies.commission import Reading
from circuit.units import to_si

SOUND = 0.5
"""Share of the vehicles taken to be as designed before anything is read; our choice. With less, sound ones are called faulty."""
ODD = 0.02
"""Chance that something comes that should not, or does not come that should; our choice."""
SPAN = {"pressure": 1e6, "time": 600.0, "count": 60.0}
"""Over what a reading is spread that nothing predicts."""
ALIKE = 1.0
"""Standard deviations of instruments and parts, over all readings, below which two entries cannot be told apart; our choice."""
POOR = 4.0
"""Standard deviations beyond what is expected at which a fit is poor; our choice."""
HOPELESS = 8.0
"""The same of the best single explanation, from which on two at once are tried; our choice: sooner, they explain chance."""
PAIRED, PLAYED = 60, 8
"""Single entries of which pairs are tried by adding up what they do, and how many pairs are then played; our choice."""
WORTH = 0.1
"""Bits below which a further reading tells too little; our choice."""
PARTS = (0.2, 0.45, 0.7)
"""Where between two sizes of a leak that were played further ones are taken, as shares of the area; our choice."""
PHASE = 4e4
"""Pa by which it is uncertain where a governor stands when the engine is stopped, with a leak that makes it come and go: a
usual gap of 20 psi, evenly spread; our choice."""
STOPWATCH = 1.5
"""s by which a time is uncertain that is started and stopped at a moving gauge; our choice."""


class Errors(NamedTuple):
    """Standard deviations of the instruments: Pa, s at a chamber, and how often the pedal was pumped."""

    pressure: float = to_si("2 psi", "difference")
    time: float = 0.05
    times: float = 0.5

    def of(self, reading: Reading) -> float:
        if reading.dimension == "time":
            return self.time if reading.step in ("apply-time", "release-time") else max(self.time, STOPWATCH)
        return self.pressure if reading.dimension == "pressure" else self.times


class Explained(NamedTuple):
    """An explanation. names: all that reads the same, the likeliest first. share: its weight of all. distance: standard
    deviations between readings and prediction, and usual: what that is for the true explanation."""

    names: tuple[str, ...]
    sort: str
    share: float
    distance: float
    usual: float
    entry: Entry


class Further(NamedTuple):
    """A further reading, and how many bits it is expected to tell."""

    reading: Reading
    gain: float


class Weighed(NamedTuple):
    """What came of the readings. explained: the likeliest first; further: the best next reading first. far: readings that are
    farther from the design than instruments and parts scatter, with how many standard deviations."""

    explained: tuple[Explained, ...]
    further: tuple[Further, ...]
    far: tuple[tuple[Reading, float], ...]

    @property
    def is_as_designed(self) -> bool:
        """Whether the vehicle as designed is the likeliest and fits."""
        return self.explained[0].sort == "designed" and self.fits(self.explained[0])

    def fits(self, each: Explained) -> bool:
        """Whether an explanation is no farther from the readings than the true one can be."""
        return each.distance <= _poor(each.usual)


def weigh(library: Library, measured: Mapping[int, float | None], errors: Errors = Errors(), pairs: bool = True) -> Weighed:
    """The explanations of some readings. measured: number of a reading to what was noted, None for what never came."""
    model = _Model(library, errors)
    entries = [*library.entries, *_between(library.entries)]
    scored = [model.score(entry.signature, measured) for entry in entries]
    best = min((score.squared, score.compared) for score in scored)
    if pairs and best[0] > _poor(sqrt(best[1]), HOPELESS) ** 2:
        more = model.pairs(entries, scored, measured)
        entries += more
        scored += [model.score(entry.signature, measured) for entry in more]
    weights = _weights(entries, [score.likelihood for score in scored])
    order = sorted(range(len(entries)), key=lambda number: -weights[number])
    explained = tuple(_grouped(model, entries, scored, weights, order, tuple(measured)))
    further = _further(model, library, entries, weights, order, set(measured)) if explained else ()
    return Weighed(explained, further, model.far(measured))


def _between(entries: Sequence[Entry]) -> Iterable[Entry]:
    """Leaks of sizes between those that were played: what is read goes evenly with the area of the hole."""
    for one, other in pairwise(entries):
        if one.hole and one.members == other.members and one.hole < other.hole:
            for part in PARTS:
                hole = sqrt(one.hole**2 + part * (other.hole**2 - one.hole**2))
                between = tuple(None if a is None or b is None else a + part * (b - a)
                                for a, b in zip(one.signature, other.signature))
                size = one.sizes[0][2] * (hole / one.hole) ** 2
                yield one._replace(name=leak_name(hole, one.members[0]), hole=hole, signature=between,
                                   sizes=((*one.failures[0], size),))


def _poor(usual: float, beyond: float = POOR) -> float:
    """The distance beyond which a fit is poor. usual: the root of how many readings there are."""
    return float(sqrt(usual**2 + beyond * sqrt(2) * max(usual, 1.0)))


def _weights(entries: Sequence[Entry], likelihoods: Sequence[float]) -> list[float]:
    import numpy

    families: dict[tuple[str, ...], int] = {}
    for entry in entries:
        families[entry.members] = families.get(entry.members, 0) + 1
    faults = sum(max(1, len(members)) for members in families) or 1
    prior = [log(SOUND) if entry.sort == "designed" else
             log((1 - SOUND) * max(1, len(entry.members)) / families[entry.members] / faults)
             + (log(1e-3) if entry.sort == "two" else 0.0) for entry in entries]
    values = numpy.array(prior) + numpy.array(likelihoods)
    weights = numpy.exp(values - values.max())
    return [float(weight) for weight in weights / weights.sum()]


class _Score(NamedTuple):
    """likelihood: its logarithm. squared: of the distance. compared: how many readings."""

    likelihood: float
    squared: float
    compared: int


class _Model:
    """How readings scatter about what is predicted."""

    def __init__(self, library: Library, errors: Errors) -> None:
        import numpy

        self.library, self.errors, self.np = library, errors, numpy
        self.readings = library.commission.readings
        self.base = self.numbers(library.entries[0].signature)
        self.noise = numpy.array([errors.of(reading) for reading in self.readings])
        sound = numpy.array([self.numbers(each) for each in library.sound])
        middle = numpy.nanmean(numpy.where(numpy.isnan(sound), self.base, sound), axis=0)
        apart = numpy.nan_to_num(sound - middle)
        self.scatter = apart.T @ apart / max(1, len(sound) - 1)
        late = library.commission.moments["full"]
        self.late = numpy.array([reading.dimension == "pressure" and reading.at > late for reading in self.readings])
        self.counted = numpy.array([reading.step == "applications" for reading in self.readings])
        self.restarts = next((n for n, reading in enumerate(self.readings) if reading.step == "restarts"), -1)
        self._known: dict[tuple[int, ...], Any] = {}
        self.timed = numpy.array([reading.dimension == "time" for reading in self.readings])

    def numbers(self, signature: Signature) -> Any:
        return self.np.array([self.np.nan if value is None else value for value in signature])

    def score(self, signature: Signature, measured: Mapping[int, float | None]) -> _Score:
        np = self.np
        both = [n for n, value in measured.items() if value is not None and signature[n] is not None]
        odd = sum(log(ODD) - log(SPAN[self.readings[n].dimension]) for n, value in measured.items()
                  if value is not None and signature[n] is None)
        odd += sum(log(ODD) if signature[n] is not None else log(1 - ODD) for n, value in measured.items() if value is None)
        count = len(measured)
        missed = sum((value is None) != (signature[n] is None) for n, value in measured.items())
        if not both:
            return _Score(odd, 9.0 * missed, count)
        said = np.array([signature[n] for n in both], dtype=float)
        apart = np.array([measured[n] for n in both], dtype=float) - said
        base = np.where(np.isnan(self.base[both]), said, self.base[both])
        longer = np.where(self.timed[both], np.maximum(1.0, said / np.maximum(base, 1e-3)), 1.0)
        spread = self.scatter[np.ix_(both, both)] * np.outer(longer, longer) + np.diag(self.noise[both] ** 2)
        if signature[self.restarts] if self.restarts >= 0 else None:
            loose = np.where(self.late[both] & (said > 4e5), PHASE, 0.0) + np.where(self.counted[both], 2.0, 0.0)
            spread = spread + np.outer(loose, loose)
        lower = np.linalg.cholesky(spread)
        squared = float((np.linalg.solve(lower, apart) ** 2).sum())
        volume = 2 * float(np.log(np.diag(lower)).sum()) + len(both) * log(2 * pi)
        return _Score(-0.5 * (squared + volume) + odd, squared + 9.0 * missed, count)

    def apart(self, one: Signature, other: Signature, numbers: Iterable[int]) -> float:
        """How far two predictions are from each other over some readings, in standard deviations of instruments and parts."""
        both = []
        for n in numbers:
            if (one[n] is None) != (other[n] is None):
                return float("inf")
            if one[n] is not None:
                both.append(n)
        if not both:
            return 0.0
        off = self.np.array([one[n] for n in both], dtype=float) - self.np.array([other[n] for n in both], dtype=float)
        return float(self.np.sqrt(((self._whitening(tuple(both)) @ off) ** 2).sum()))

    def _whitening(self, numbers: tuple[int, ...]) -> Any:
        """What makes some readings of sound vehicles, as noted, independent of each other with a deviation of one."""
        if numbers not in self._known:
            np, some = self.np, list(numbers)
            spread = self.scatter[np.ix_(some, some)] + np.diag(self.noise[some] ** 2)
            self._known[numbers] = np.linalg.inv(np.linalg.cholesky(spread))
        return self._known[numbers]

    def far(self, measured: Mapping[int, float | None]) -> tuple[tuple[Reading, float], ...]:
        """The readings that are not as designed, the farthest first."""
        found = []
        for n, value in measured.items():
            said = self.library.entries[0].signature[n]
            if (said is None) != (value is None):
                found.append((self.readings[n], float("inf")))
            elif said is not None and value is not None:
                off = abs(value - said) / sqrt(float(self.scatter[n, n]) + float(self.noise[n]) ** 2)
                if off > 3.0:
                    found.append((self.readings[n], off))
        return tuple(sorted(found, key=lambda each: -each[1]))

    def pairs(self, entries: Sequence[Entry], scored: Sequence[_Score], measured: Mapping[int, float | None]) -> list[Entry]:
        """Two things at once: what both do added up for many, and then played for the best."""
        order = sorted(range(1, len(entries)), key=lambda n: -scored[n].likelihood)
        able = [entries[n] for n in order if entries[n].failures or entries[n].settings][:PAIRED]
        # What explains some of the readings may be far down by itself: take those that explain one reading best as well.
        for n in measured:
            value = measured[n]
            off = [(abs(said - value), each) for each in entries[1:] if each.failures and value is not None
                   and (said := each.signature[n]) is not None]
            able += [min(off, key=lambda each: each[0])[1]] if off else []
        able = list({each.name: each for each in able}.values())
        base = entries[0].signature
        tried = []
        for place, one in enumerate(able):
            for other in able[:place]:
                if one.members != other.members:
                    added = tuple(None if a is None or b is None else a if c is None else a + b - c
                                  for a, b, c in zip(one.signature, other.signature, base))
                    tried.append((self.score(added, measured).likelihood, one, other))
        best = sorted(tried, key=lambda each: -each[0])[:PLAYED]
        variants = [_both(one, other) for _, one, other in best]
        found = signatures(self.library.commission, variants) if variants else []
        return [Entry(variant.name, "two", (*one.members, "+", *other.members), variant.failures,
                      (*one.sizes, *other.sizes), (*one.settings, *other.settings), variant.delivery, signature)
                for variant, (_, one, other), signature in zip(variants, best, found)]


def _both(one: Entry, other: Entry) -> Variant:
    first, second = one.variant, other.variant
    return Variant(f"{one.name} + {other.name}", first.failures + second.failures, sizes={**first.sizes, **second.sizes},
                   settings={**first.settings, **second.settings}, delivery=first.delivery * second.delivery)


def _grouped(model: _Model, entries: Sequence[Entry], scored: Sequence[_Score], weights: Sequence[float], order: Sequence[int],
             numbers: tuple[int, ...]) -> Iterable[Explained]:
    """Entries that read the same are one explanation, and so are the sizes of one leak; the likeliest first."""
    groups: list[list[int]] = []
    for n in order:
        if weights[n] < 1e-6 and len(groups) >= 5:
            break
        for group in groups:
            if entries[group[0]].members == entries[n].members and entries[n].sort != "designed" or model.apart(
                    entries[group[0]].signature, entries[n].signature, numbers) < ALIKE:
                group.append(n)
                break
        else:
            groups.append([n])
    groups.sort(key=lambda group: -sum(weights[n] for n in group))
    for group in groups:
        designed = next((n for n in group if entries[n].sort == "designed"), None)
        lead = group[0] if designed is None else designed
        names = dict.fromkeys([entries[lead].name, *(name for n in group for name in (
            [entries[n].name] if entries[n].sort == "leak" and entries[n].members != entries[lead].members else [])),
            *(name for n in group for name in entries[n].members if entries[n].sort != "two" and name != entries[lead].name)])
        yield Explained(tuple(names), entries[lead].sort, sum(weights[n] for n in group), sqrt(scored[lead].squared),
                        sqrt(scored[lead].compared), entries[lead])


def _further(model: _Model, library: Library, entries: Sequence[Entry], weights: Sequence[float], order: Sequence[int],
             known: set[int]) -> tuple[Further, ...]:
    """The readings not taken yet by what they are expected to tell: entropy now less the mean entropy after."""
    likely = [n for n in order if weights[n] > 1e-3][:40]
    found = []
    for n, reading in enumerate(library.commission.readings):
        if n not in known and len(likely) > 1:
            wide = 2 * sqrt(float(model.scatter[n, n]) + float(model.noise[n]) ** 2)
            said = [(entries[k].signature[n], weights[k]) for k in likely]
            gain = (_gain(said, wide, 0.0) + _gain(said, wide, wide / 2)) / 2
            if gain > WORTH:
                found.append(Further(reading, gain))
    return tuple(sorted(found, key=lambda each: (-round(each.gain, 3), not each.reading.is_given, each.reading.name))[:3])


def _gain(said: Iterable[tuple[float | None, float]], wide: float, offset: float) -> float:
    """Bits that a reading tells whose predictions fall into bins of a width."""
    bins: dict[object, float] = {}
    for value, weight in said:
        mark = None if value is None else int((value + offset) // wide)
        bins[mark] = bins.get(mark, 0.0) + weight
    total = sum(bins.values())
    return -sum(weight / total * log2(weight / total) for weight in bins.values() if weight > 0.0)
