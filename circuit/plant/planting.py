"""What an operator is, what it plants, and how one mistake is chosen and planted by a seed.

An operator says from the circuit alone where its change would be a mistake; it never asks the rule that it expects.
"""

import random
from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from circuit.judging.rule import Judgement
from circuit.model.circuit import Circuit
from circuit.mistake import Unreadable
from circuit.pipeline import load_source
from circuit.plant.bed import Bed
from circuit.plant.rows import Edit, edited
from circuit.source import Source
from circuit.syntax.cut import without_comment


class Site(NamedTuple):
    """One place where an operator can plant.

    edits: what it changes. things: the names of what is then wrong. says: the mistake in one sentence.
    holds: asked of the spoilt circuit where only that shows whether the change is a mistake.
    """

    edits: tuple[Edit, ...]
    things: tuple[str, ...]
    says: str
    holds: Callable[[Circuit], bool] | None = None


class Operator(NamedTuple):
    """A class of mistakes.

    name: of the class. title: what people do. rules: those of which one is expected to find it, the likeliest first.
    words: what a student may call it, joined with commas. sites: every place where the change is a mistake.
    entails: further rules whose findings are true with it, though they show other places.
    """

    name: str
    title: str
    rules: tuple[str, ...]
    words: str
    sites: Callable[[Bed, random.Random], Iterator[Site]]
    entails: tuple[str, ...] = ()


class Planting(NamedTuple):
    """A spoilt design and what is wrong with it.

    things: names of what is wrong. lines: rows of the spoilt text that were changed or that declare those things.
    gone: rows of the good design that are no longer there.
    """

    operator: Operator
    source: Source
    circuit: Circuit
    things: tuple[str, ...]
    lines: tuple[int, ...]
    gone: tuple[str, ...]
    says: str


def rng(seed: int) -> random.Random:
    """The only source of chance; two runs with one seed are alike."""
    return random.Random(seed)


def sites(operator: Operator, bed: Bed, seed: int) -> tuple[Site, ...]:
    """Where an operator can plant in a design, none where no rule that holds for the design forbids it."""
    if not any(bed.asked(rule) for rule in operator.rules):
        return ()
    return tuple(operator.sites(bed, rng(seed)))


def planted(bed: Bed, operator: Operator, site: Site) -> Planting | None:
    """The design with the mistake of a site in it, or None where it turns out to be none, gives itself away, or is refused
    where it is written, as settings that order each other are."""
    result = edited(bed.source, site.edits)
    if result.text == bed.source.text:
        return None
    source = Source(bed.source.name, result.text)
    try:
        circuit = load_source(source)
    except Unreadable:
        return None
    if (site.holds is not None and not site.holds(circuit)) or _betrayed(bed.circuit, circuit, source):
        return None
    lines = {*result.changed, *_declaring(circuit, site.things)}
    return Planting(operator, source, circuit, site.things, tuple(sorted(lines)), result.gone, site.says)


def plantings(bed: Bed, operators: Iterable[Operator], seed: int) -> Iterator[Planting]:
    """Spoilt designs, each with one mistake, in the order of the seed.

    A class is chosen before a place, so that rare classes are not rare; then the next class, until each had its turn.
    """
    chance = rng(seed)
    order = sorted(operators, key=lambda operator: operator.name)
    chance.shuffle(order)
    left: dict[str, list[Site]] = {}
    while order:
        for operator in order:
            if operator.name not in left:
                left[operator.name] = _shuffled(sites(operator, bed, seed), chance)
            places = left[operator.name]
            found = next((p for p in (planted(bed, operator, places.pop()) for _ in tuple(places)) if p), None)
            if found is not None:
                yield found
        order = [operator for operator in order if left[operator.name]]


def _shuffled(places: tuple[Site, ...], chance: random.Random) -> list[Site]:
    order = list(places)
    chance.shuffle(order)
    return order


def _declaring(circuit: Circuit, things: tuple[str, ...]) -> Iterator[int]:
    """The rows of the spoilt text that declare what is wrong."""
    named = [device.span for name in things if (device := circuit.by_name.get(name)) is not None]
    named += [each.span for each in (*circuit.axles, *circuit.intents) if each.name in things]
    for span in named:
        if span.outermost.source is circuit.source:
            yield span.outermost.line


def _betrayed(before: Circuit, after: Circuit, source: Source) -> bool:
    """Whether a remark in the spoilt text still names a thing that is gone from it."""
    gone = [device.name for device in before.devices if not device.is_line and device.name not in after.by_name]
    remarks = " ".join(without_comment(row)[1] for row in source.rows)
    return any(name in remarks for name in gone)


def found_by(planting: Planting, judgement: Judgement) -> bool:
    """Whether a finding is of an expected rule, or has one under it, and names or shows the place that was changed."""
    rules = {each.rule.name for each in (judgement, *judgement.follows)}
    return not rules.isdisjoint(planting.operator.rules) and touches(planting, judgement)


def touches(planting: Planting, judgement: Judgement) -> bool:
    """Whether a finding names what is wrong or shows a changed row among its places."""
    statement = judgement.answer
    named = statement.thing.replace(",", " ").split()
    if any(word == thing or word.startswith(f"{thing}.") for word in named for thing in planting.things):
        return True
    spans = (statement.at, *(span for span, _ in statement.also))
    return any(span.outermost.source.name == planting.source.name and span.outermost.line in planting.lines
               for span in spans)
