"""What a kind must have so that everybody may read it: the promises of its traits, and names that lead somewhere.

A reader outside the kinds may take from a kind what one of its traits promises, and nothing else without a default. A kind
that does not keep a promise is refused when it is loaded: a missing word would come to light in some command only.
"""

from collections.abc import Iterator

from circuit.declaring.kind import OUTSIDE, Kind
from circuit.declaring.traits import PROMISES, Trait


def broken(kind: Kind) -> Iterator[str]:
    """What a kind lacks, a sentence for each thing; nothing where it keeps everything."""
    for trait in sorted(kind.traits, key=lambda trait: trait.name):
        for promise in PROMISES.get(trait, ()):
            if not _kept(kind, promise):
                yield f"{kind.name} has the trait {trait.name}, which promises {promise}, and does not declare it"
    if Trait.DIRECT in kind.traits and (kind.passages or kind.stores or kind.failures):
        yield f"{kind.name} is DIRECT, so its two ports are one space: it keeps no air, lets none pass and does not fail"
    elif Trait.LINE in kind.traits and Trait.DIRECT not in kind.traits:
        for name in ("bore", "length"):
            if not _has_value(kind, name):
                yield f"{kind.name} is a line, and its {name} is neither a setting nor derived"
    ports = {port.number for port in kind.ports}
    yield from _passages(kind, ports)
    for port in kind.ports:
        if port.holes_from and kind.setting(port.holes_from) is None:
            yield f"{kind.name}.{port.number} takes its holes from the setting {port.holes_from}, which is not there"
    for store in kind.stores:
        if store.port not in ports:
            yield f"{kind.name} stores air at port {store.port}, which is not there"
    yield from _graduated(kind, ports)
    for name in {name for order in kind.orders for name in order[:2]}:
        if not _has_value(kind, name):
            yield f"{kind.name} says how {name} is ordered, which is neither a setting nor derived"
    for word, values in kind.positions.items():
        for name in values.keys() - kind.rest.keys():
            yield f"{kind.name} has a position {word} of {name}, and `rest` does not say how that stands"
    for failure in kind.failures:
        for name in sorted(failure.scales.keys() - {setting.name for setting in kind.settings}):
            yield f"{kind.name} fails by {failure.name}, which lets {name} drift, and that is no setting"
        for number in sorted({*failure.idle, *failure.jams} - ports):
            yield f"{kind.name} fails by {failure.name} at port {number}, which is not there"
    for latch in kind.latches:
        if latch.variable not in kind.rest:
            yield f"{kind.name} has a latch of {latch.variable}, and `rest` does not say how it stands"


def _passages(kind: Kind, ports: set[str]) -> Iterator[str]:
    for passage in kind.passages:
        way = f"{kind.name} has a passage from {passage.start} to {passage.end}"
        for end in {passage.start, passage.end} - ports - {OUTSIDE}:
            yield f"{way}, and no port {end}"
        for name in (passage.conductance or "bore", passage.keeps):
            if name and not _has_value(kind, name):
                yield f"{way} that takes {name}, which is neither a setting nor derived"


def _graduated(kind: Kind, ports: set[str]) -> Iterator[str]:
    for given in kind.graduated:
        named = {given.supply, given.delivery, *given.charged, *({given.by} - {""})}
        for name in sorted((named - ports - kind.rest.keys()) | (given.held.keys() - kind.rest.keys())):
            yield f"{kind.name} gives {given.delivery} by degrees with {name}, which is neither a port nor in `rest`"


def _kept(kind: Kind, promise: str) -> bool:
    what, _, name = promise.partition(":")
    if what == "port":
        return kind.port(name) is not None
    if what == "state":
        return name in kind.rest
    return kind.setting(name) is not None if what == "setting" else _has_value(kind, name)


def _has_value(kind: Kind, name: str) -> bool:
    """Whether a device of the kind has a value of that name: a setting, one that follows, or the bore of a tube's size."""
    return (kind.setting(name) is not None or name in kind.derives
            or name == "bore" and any(setting.dimension == "size" for setting in kind.settings))
