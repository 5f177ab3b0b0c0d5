"""One sentence of what a part does now and why, made from its openings: no text is written for a state.

The opening of the passage that is open is a weighted sum of pressures at this moment. Two ports in it are compared with
each other, one with the threshold, more are said as what is asked of the port that the air goes to or comes from.
"""

from collections.abc import Iterable, Mapping

from circuit.declaring.kind import OUTSIDE, Passage
from circuit.declaring.traits import Role
from circuit.draw.cutaway import LEVEL, SHUT
from circuit.report.inside.openings import Inside, shares
from circuit.report.inside.reasons import EMPTY, Why
from circuit.report.inside.working import working
from circuit.sections import way

KEPT_BACK = 0.3e5
"""Pa between the ends of a shut passage from which it is worth a word; our choice."""


def sentence(inside: Inside, unit: str = "bar", opened: Mapping[str, float] | None = None) -> str:
    """What it does now and why. opened: how far each way stands open where that is known otherwise."""
    if not inside.kind.passages:
        return working(inside, unit)
    return Saying(inside, unit, shares(inside) if opened is None else opened).sentence()


class Saying:
    """The words for one part at one moment."""

    def __init__(self, inside: Inside, unit: str, opened: Mapping[str, float]):
        self.inside, self.why, self.opened = inside, Why(inside, unit), opened
        self.vents = {port.number for port in inside.kind.ports_as(Role.EXHAUST)} | {OUTSIDE}

    def sentence(self) -> str:
        """What flows, what stands open without a flow, what is held."""
        standing = list(self._open())
        flowing = [passage for passage in standing if self._runs(passage)]
        still = [passage for passage in standing if not self._runs(passage)]
        told = [self._flowing(passage) for passage in flowing]
        busy = {port for passage in flowing for port in (passage.start, passage.end)} - self.vents
        told += self._still([passage for passage in still if not busy & {passage.start, passage.end}])
        busy |= {port for passage in still for port in (passage.start, passage.end)}
        told += self._kept_back(busy) if standing else []
        return "; ".join(dict.fromkeys((*told, *self._held(busy, bool(flowing or still)))))

    def _open(self) -> Iterable[Passage]:
        """The passages that stand open, one for each way and its reverse, that in which the air goes."""
        found: dict[frozenset[str], Passage] = {}
        for passage in self.inside.kind.passages:
            if self.opened.get(way(passage), 0.0) <= SHUT:
                continue
            pair = frozenset((passage.start, passage.end))
            if pair not in found or self._ahead(passage) > 0 >= self._ahead(found[pair]):
                found[pair] = passage
        return found.values()

    def _ahead(self, passage: Passage) -> float:
        return self.inside.pressure(passage.start) - self.inside.pressure(passage.end)

    def _runs(self, passage: Passage) -> bool:
        return abs(self._ahead(passage)) >= LEVEL and (passage.both_ways or self._ahead(passage) > 0)

    def _flowing(self, passage: Passage) -> str:
        """Why it is open, and which way the air goes."""
        start, end = passage.start, passage.end
        if self._ahead(passage) < 0:
            start, end = end, start
        to = self.inside.kind.port(end)
        if end == OUTSIDE:
            goes = f"air of {start} goes out"
        elif end in self.vents:
            goes = f"{start} vents to {end}"
        elif to is not None and to.role is Role.SUPPLY or (start, end) == (passage.end, passage.start):
            goes = f"air of {start} goes back to {end}"
        else:
            goes = f"{start} feeds {end}"
        return f"{goes}, by a way that is always open" if passage.opening is None else f"{self.why.opened(passage)}, so {goes}"

    def _still(self, passages: list[Passage]) -> Iterable[str]:
        """Open ways in which nothing flows: those that meet are said at once."""
        groups: list[set[str]] = []
        for passage in passages:
            ends = {passage.start, passage.end}
            if ends & self.vents:
                start = passage.start
                full = self.inside.pressure(start) > EMPTY
                yield f"{start} stands open to {passage.end or 'the air'}" + ("" if full else " and is empty")
                continue
            met = [group for group in groups if group & ends]
            groups = [group for group in groups if not group & ends] + [ends.union(*met)]
        for group in groups:
            ports = [port.number for port in self.inside.kind.ports if port.number in group]
            at = max(self.inside.pressure(port) for port in ports)
            how = f"at {self.why.pressure(at)}: nothing flows" if at > EMPTY else "and are empty"
            yield f"{', '.join(ports[:-1])} and {ports[-1]} stand open to each other {how}"

    def _kept_back(self, busy: set[str]) -> Iterable[str]:
        """The first shut passage that keeps air from where there is less of it, away from what flows."""
        for passage in self.inside.kind.passages:
            ends = {passage.start, passage.end}
            if (self.opened.get(way(passage), 0.0) <= SHUT and not ends & (busy | self.vents) and not passage.narrow
                    and self._ahead(passage) > KEPT_BACK):
                return [f"{self.why.shut(passage)}: {passage.start} to {passage.end} is shut"]
        return []

    def _held(self, busy: set[str], any_open: bool) -> Iterable[str]:
        """The deliveries that nothing feeds and nothing empties, and where all is shut why."""
        kept = [port.number for port in self.inside.kind.ports_as(Role.DELIVERY)
                if port.number not in busy and self.inside.pressure(port.number) > EMPTY]
        words = " and ".join(f"{port} is held at {self.why.pressure(self.inside.pressure(port))}" for port in kept)
        if any_open:
            return [words] if words else []
        reason = self.why.shut(self.inside.kind.passages[0])
        seats = "the seat is" if len({way(each) for each in self.inside.kind.passages}) == 1 else "all seats are"
        return [f"{reason}: {seats} shut" + (f", {words}" if words else "")]
