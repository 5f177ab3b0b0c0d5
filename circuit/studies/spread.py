"""What a figure becomes over the range of everything that is not known exactly, and what of that decides it.

Plausible vehicles are drawn by Latin hypercube, so that each value is taken evenly along its range. Parts of one kind with
the same assumed value count as one batch and are off alike. All are played in one batch of the engine.
"""

from collections.abc import Sequence
from functools import lru_cache
from math import sqrt
from typing import Any, NamedTuple

from circuit.cache import kept
from circuit.declaring.ranges import Range
from circuit.judging.assumed import titles_of
from circuit.model.circuit import Circuit
from circuit.model.draws import Draws
from circuit.model.plausible import plausible
from circuit.sim import Options
from circuit.sim.drawn import EXPONENT, LINES, OPENING, TEMPERATURE, Cause
from circuit.studies.band import BESIDE
from circuit.units import shown

OURS = "our choice"
GENERAL = (
    Cause(LINES, Range(0.9, 1.0, 1.1, "log", "friction of lines, within 8 % of adiabatic flow with friction; " + OURS)),
    Cause(TEMPERATURE, Range(273.15, 293.15, 313.15, "even", OURS + ": 0 to 40 °C")),
    Cause(OPENING, Range(10e3, 15e3, 20e3, "even", "common practice, no source: 10 to 20 kPa")),
)
QUICK_HEAT = Cause(EXPONENT, Range(1.1, 1.2, 1.38, "even", "between all heat passing and none; common practice, 1.15 to 1.25"))
_IN_WORDS = {LINES: "flow of lines", TEMPERATURE: "temperature of the air", OPENING: "opening of valves",
             EXPONENT: "heat passing (exponent)"}
COLUMNS = 64
"""Causes that one plan is drawn for; further ones have a plan of their own."""
TELLS = 0.01
"""Share of the variance that a cause is named for; our choice."""


class Samples(tuple[Any, ...]):
    """A figure in every run, None where it is never reached; too many to be told."""


class Weight(NamedTuple):
    """What a cause does to a figure. what: in words. low, high: its range, in words. swing: by how much the figure changes from
    the 5 % to the 95 % point of the cause alone, in the figure's unit. share: of the variance."""

    what: str
    low: str
    high: str
    swing: float
    share: float


class Spread(NamedTuple):
    """A figure over its range; None where it is never reached. value: its median. quick, slow: its 5 % and 95 % points.
    typical: with every value as assumed. runs: how many vehicles were drawn. causes: what decides it, the first first."""

    value: float | None
    slow: float | None
    quick: float | None
    typical: float | None
    runs: int
    samples: Samples
    causes: tuple[Weight, ...]

    def within(self, limit: float, counted: Any = None) -> float:
        """The share of runs that keep a limit, 0 to 1. counted: how a clause counts a figure."""
        kept_by = [each for each in self.samples if each is not None and (counted(each) if counted else each) <= limit]
        return len(kept_by) / len(self.samples)


def sampling_error(share: float, runs: int) -> float:
    """The standard error of a share of some runs, by Wilson's interval, so that it is never nothing.

    >>> round(sampling_error(0.9, 200), 3), round(sampling_error(1.0, 200), 4)
    (0.021, 0.0025)
    """
    return sqrt(share * (1 - share) / runs + 0.25 / runs**2) / (1 + 1 / runs)


def causes_of(circuit: Circuit, options: Options) -> tuple[Cause, ...]:
    """Everything in a circuit that may be off: alike parts together, then what is no setting and no option says."""
    said = circuit.vehicle.conditions.ambient
    asked = {TEMPERATURE: options.temperature if said is None else said, EXPONENT: options.exponent, OPENING: options.opening}
    general = [cause for cause in (*GENERAL, QUICK_HEAT) if asked.get(cause.what, 1.0) == cause.range.typical]
    found: dict[tuple[str, str, str, Range], list[tuple[str, str]]] = {}
    for device in circuit.devices:
        for setting in device.kind.settings:
            if setting.name in BESIDE:
                continue
            around = plausible(device, setting.name)
            if around is not None and around.wide:
                key = (device.kind.name, setting.name, setting.dimension, around)
                found.setdefault(key, []).append((device.name, setting.name))
    parts = [Cause(f"{name} of {titles_of([circuit.by_name[device].title for device, _ in places])}", around, tuple(places),
                   "length" if dimension == "bore" else dimension)
             for (_, name, dimension, around), places in found.items()]
    return (*parts, *general)


def plan(draws: Draws, causes: int) -> list[list[float]]:
    """A row of shares, from 0 to 1, for each run, with one for each cause: a Latin hypercube.
    One run alone is the vehicle as assumed."""
    if draws.runs == 1:
        return [[0.5] * causes]
    blocks = [_block(draws, number) for number in range(-(-causes // COLUMNS))]
    return [[share for block in blocks for share in block[run]][:causes] for run in range(draws.runs)]


def _block(draws: Draws, number: int) -> list[list[float]]:
    def make() -> list[list[float]]:
        from scipy.stats import qmc

        found: list[list[float]] = qmc.LatinHypercube(COLUMNS, rng=1000 * draws.seed + number).random(draws.runs).tolist()
        return found

    drawn: list[list[float]] = kept(f"draws-{draws.runs}-{draws.seed}-{number}", f"latin hypercube of {COLUMNS}", make)
    return drawn


def spread(samples: Sequence[float | None], typical: float | None, causes: Sequence[Cause],
           shares: Sequence[Sequence[float]]) -> Spread:
    """A figure of all runs as median, ends and causes. typical: of the run with every value as assumed."""
    order = sorted(samples, key=lambda each: (each is None, each))
    last = len(order) - 1
    return Spread(order[last // 2], order[round(0.95 * last)], order[round(0.05 * last)], typical, len(order),
                  Samples(samples), weights(samples, causes, shares))


def weights(samples: Sequence[float | None], causes: Sequence[Cause], shares: Sequence[Sequence[float]]
            ) -> tuple[Weight, ...]:
    """What decides a figure, by least squares over all runs, the first first; nothing where too few runs reach it."""
    good = [number for number, each in enumerate(samples) if each is not None]
    if len(good) < max(20, len(causes) + 10):
        return ()
    return _weights(tuple(samples), tuple(causes), tuple(map(tuple, shares)))


@lru_cache(maxsize=8)
def _values(causes: tuple[Cause, ...], shares: tuple[tuple[float, ...], ...]) -> Any:
    """The value of each cause in every run, and how far each goes from its 5 % to its 95 % point."""
    import numpy

    values = numpy.array([[cause.range.at(share) for cause, share in zip(causes, row)] for row in shares])
    return values, numpy.array([cause.range.at(0.95) - cause.range.at(0.05) for cause in causes])


@lru_cache(maxsize=64)
def _weights(samples: tuple[float | None, ...], causes: tuple[Cause, ...], shares: tuple[tuple[float, ...], ...]
             ) -> tuple[Weight, ...]:
    import numpy

    good = [number for number, each in enumerate(samples) if each is not None]
    figures = numpy.array([samples[number] for number in good], dtype=float)
    every, wide = _values(causes, shares)
    values = every[good]
    table = numpy.column_stack([(values - values.mean(axis=0)) / wide, numpy.ones(len(good))])
    swings = numpy.linalg.lstsq(table, figures, rcond=None)[0][:-1]
    explained = swings**2 * table[:, :-1].var(axis=0)
    whole = max(float(explained.sum()), float(figures.var()), 1e-300)
    found = [Weight(in_words(cause), *_ends(cause), float(swing), float(part) / whole)
             for cause, swing, part in zip(causes, swings, explained)]
    return tuple(sorted((each for each in found if each.share >= TELLS), key=lambda each: -each.share))


def in_words(cause: Cause) -> str:
    return _IN_WORDS.get(cause.what, cause.what)


def _ends(cause: Cause) -> tuple[str, str]:
    low, high = (cause.range.at(share) for share in (0.05, 0.95))
    name = cause.parts[0][1] if cause.parts else cause.what
    return _value(name, cause, low), _value(name, cause, high)


def _value(name: str, cause: Cause, value: float) -> str:
    if name == TEMPERATURE:
        return f"{value - 273.15:.0f} °C"
    if name == OPENING:
        return f"{value / 1e3:.0f} kPa"
    return f"{value:.2f}" if not cause.parts else shown(value, cause.dimension)
