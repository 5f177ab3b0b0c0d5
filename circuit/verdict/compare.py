"""What changed between two versions of a design, and what that did to the clauses; matched by names, not by rows."""

from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

from circuit.judging.volumes import shares
from circuit.model.changing import IN_FORCE
from circuit.model.circuit import Circuit
from circuit.model.devices import Axle, Device, PortKey
from circuit.units import DIMENSIONS, alike, shown
from circuit.verdict.demands import Dropped, asked, dropped
from circuit.verdict.judge import Verdict
from circuit.verdict.line_changes import cut, of_length
from circuit.verdict.renames import called, renamed, written
from circuit.verdict.outcomes import Outcome, outcomes


class Change(NamedTuple):
    """One thing that is other than before.

    what: added, removed, replaced, renamed, re-routed, cut, lengthened, shortened, moved, set, declared, volume, or ratio.
    thing: its name. says: the change in words. before, after: the two values where it has two, else "". line: the row that
    made it so in the new design, or in the old one for what is gone; 0 where it has none. row_file: that of the row, "" where it
    is the design itself.
    """

    what: str
    thing: str
    says: str
    before: str = ""
    after: str = ""
    line: int = 0
    row_file: str = ""


class Comparison(NamedTuple):
    """old, new: the two files. dropped: what is not asked any more. vehicles: for combinations, the comparison of each vehicle
    that both have; one that the new one has no more is dropped.
    """

    old: str
    new: str
    changes: tuple[Change, ...]
    outcomes: tuple[Outcome, ...]
    dropped: tuple[Dropped, ...] = ()
    vehicles: "tuple[tuple[str, Comparison], ...]" = ()

    @property
    def is_worse(self) -> bool:
        """Whether there is a finding that was not there before, or something is not asked any more."""
        return self.has_more or self.asks_less

    @property
    def is_other(self) -> bool:
        """Whether there is anything to tell."""
        return bool(self.changes or self.outcomes or self.dropped) or any(own.is_other for _, own in self.vehicles)

    @property
    def has_more(self) -> bool:
        """Whether there is a finding that was not there before, or that weighs more."""
        return any(outcome.what in ("new", "worse") for outcome in self.outcomes) or any(own.has_more for _, own in self.vehicles)

    @property
    def asks_less(self) -> bool:
        """Whether something is asked no more, or less sharply."""
        return bool(self.dropped) or any(outcome.what == "unasked" for outcome in self.outcomes) \
            or any(own.asks_less for _, own in self.vehicles)


def compare(old: Verdict, new: Verdict) -> Comparison:
    """What changed from one judged design to another; of a vehicle and a combination that it is in, of the vehicle alone."""
    old, new = _alone(old, new), _alone(new, old)
    names = renamed(old.circuit, new.circuit)
    parts = _Parts(old.circuit, new.circuit, names)
    changes = (*parts.changes(), *_declarations(old.circuit, new.circuit, names), *_volumes(old, new, names))
    before, after = dict(old.vehicles), dict(new.vehicles)
    own = tuple((name, compare(before[name], after[name])) for name in after if name in before)
    gone = tuple(Dropped("vehicle", name, f"vehicle {name} is gone: it is not checked any more", name)
                 for name in before if name not in after)
    own_files = (old.circuit.source.name, new.circuit.source.name)
    changes = tuple(each._replace(row_file="") if each.row_file in own_files else each for each in changes)
    return Comparison(old.circuit.source.name, new.circuit.source.name, tuple(changes), tuple(outcomes(old, new, names)),
                      (*dropped(_asked(old, names), _asked(new, {})), *gone), own)


def _alone(one: Verdict, other: Verdict) -> Verdict:
    """Of a combination the vehicle that the other design is, by most of its things; else the verdict as it is."""
    if not one.circuit.is_combination or other.circuit.is_combination or not one.vehicles:
        return one
    known = set(other.circuit.by_name)
    _, best = max(one.vehicles, key=lambda each: len(known & set(each[1].circuit.by_name)))
    return best if 2 * len(known & set(best.circuit.by_name)) > len(known) else one


def _asked(verdict: Verdict, names: Mapping[str, str]) -> dict[str, object]:
    return asked(verdict.circuit, (each.name for each in verdict.sets), names)


def _row(device: Device) -> tuple[int, str]:
    """The row that made it what it is, and the file of that: the last one that changed it."""
    at = [device.span, *(row for row, what in device.changed if what == IN_FORCE)][-1].outermost
    return at.line, at.source.name


# --- parts and lines ----------------------------------------------------------------------------------------------


class _Parts:
    """The things and lines of two versions side by side. names: old names to new ones."""

    def __init__(self, old: Circuit, new: Circuit, names: Mapping[str, str]) -> None:
        self.old, self.new, self.names = old, new, names

    def key(self, key: PortKey) -> PortKey:
        """A port of the old design by its new name."""
        return self.names.get(key[0], key[0]), key[1]

    def changes(self) -> Iterator[Change]:
        back = {new: old for old, new in self.names.items()}
        for device in self.old.devices:
            if not device.is_line:
                twin = self.new.by_name.get(self.names.get(device.name, device.name))
                if twin is None:
                    yield Change("removed", device.name, f"{device.kind.name} {device.name} is gone", "", "", *_row(device))
                else:
                    yield from self._thing(device, twin)
        for device in self.new.devices:
            if not device.is_line and device.name not in self.old.by_name and device.name not in back:
                yield Change("added", device.name, f"{device.kind.name} {device.name} is new", "", "", *_row(device))
        yield from self._lines()
        yield from self._plugs()

    def _thing(self, old: Device, new: Device) -> Iterator[Change]:
        if old.name != new.name:
            yield Change("renamed", new.name, f"{old.kind.name} {old.name} is now called {new.name}", old.name,
                         new.name, *_row(new))
        if old.kind.name != new.kind.name:
            yield Change("replaced", new.name, f"{new.name} was a {old.kind.name} and is a {new.kind.name}",
                         old.kind.name, new.kind.name, *_row(new))
            return
        if old.host is not None and new.host is not None and self.key(old.host) != new.host:
            before, after = self.old.port_name(old.host), self.new.port_name(new.host)
            yield Change("moved", new.name, f"{new.name} sat on {before} and sits on {after}", before, after,
                         *_row(new))
        yield from _settings(old, new)

    def _lines(self) -> Iterator[Change]:
        """Lines matched by both ends, then by one end and their make: these are re-routed."""
        old = [d for d in self.old.devices if d.ends]
        new = [d for d in self.new.devices if d.ends]
        for line in tuple(old):
            twin = next((d for d in new if self._ends(line) == frozenset(d.ends or ())), None)
            if twin is not None:
                old.remove(line)
                new.remove(twin)
                if line.kind.name != twin.kind.name:
                    yield Change("replaced", twin.name, f"{twin.name} was a {line.kind.name} and is a {twin.kind.name}",
                                 line.kind.name, twin.kind.name, *_row(twin))
                else:
                    yield from _settings(line, twin)
        for line in tuple(old):
            found = cut(line, tuple(map(self.key, line.ends or ())), new, self.old.by_name)
            if found is not None:
                part, first, second = found
                old.remove(line)
                new.remove(first)
                new.remove(second)
                yield Change("cut", line.name, f"{line.title} is cut for {part}: {_shown(line, 'length')} before, "
                             f"{_shown(first, 'length')} and {_shown(second, 'length')} now", line.name,
                             f"{first.name} and {second.name}", *_row(first))
        pairs = sorted(((one, other) for one in old for other in new
                        if self._ends(one) & frozenset(other.ends or ()) and one.kind.name == other.kind.name),
                       key=lambda pair: sum(written(pair[0]).get(k) != v for k, v in written(pair[1]).items()))
        for line, twin in pairs:
            if line in old and twin in new:
                old.remove(line)
                new.remove(twin)
                yield self._rerouted(line, twin)
                yield from _settings(line, twin)
        for line in old:
            yield Change("removed", line.name, f"{line.title} is gone", "", "", *_row(line))
        for line in new:
            yield Change("added", line.name, f"{line.title} is new", "", "", *_row(line))

    def _ends(self, line: Device) -> frozenset[PortKey]:
        return frozenset(self.key(end) for end in line.ends or ())

    def _rerouted(self, line: Device, twin: Device) -> Change:
        kept = self._ends(line) & frozenset(twin.ends or ())
        fixed = self.new.port_name(min(kept))
        before = next(self.old.port_name(end) for end in line.ends or () if self.key(end) not in kept)
        after = next(self.new.port_name(end) for end in twin.ends or () if end not in kept)
        return Change("re-routed", twin.name, f"the {twin.kind.name} on {fixed} led to {before} and leads to {after}",
                      line.name, twin.name, *_row(twin))

    def _plugs(self) -> Iterator[Change]:
        before = {self.key(key): key for key in self.old.plugged}
        for key, span in self.new.plugged.items():
            if key not in before:
                yield Change("added", self.new.port_name(key), f"{self.new.port_name(key)} is plugged", line=span.line)
        for key, own in before.items():
            if key not in self.new.plugged and key[0] in self.new.by_name:
                yield Change("removed", self.old.port_name(own), f"the plug in {self.old.port_name(own)} is gone",
                             line=self.old.plugged[own].line)


def _settings(old: Device, new: Device) -> Iterator[Change]:
    """Settings whose values differ; a value that is only written otherwise, in another unit, is no change."""
    dimensions = {setting.name: setting.dimension for setting in new.kind.settings}
    for name in dict.fromkeys((*old.given, *new.given)):
        one, other = old.settings.get(name), new.settings.get(name)
        if name == "on" or _plain(one) == _plain(other) or _reads_alike(one, other, dimensions.get(name, "")):
            continue
        before, after = _shown(old, name), _shown(new, name)
        long = of_length(old, new) if name == "length" and new.is_line else None
        if long is not None:
            yield Change(long[0], new.name, long[1], before, after, *_row(new))
            continue
        yield Change("set", new.name, f"{new.title}: {name} was {before} and is {after}", before, after, *_row(new))


def _reads_alike(one: object, other: object, dimension: str) -> bool:
    """Whether two values differ by less than anybody is shown, as one rounded to another unit does."""
    known = dimension in DIMENSIONS and isinstance(one, float) and isinstance(other, float)
    return known and alike(shown(one, dimension), shown(other, dimension))  # type: ignore[arg-type]


def _plain(value: object) -> object:
    if isinstance(value, float):
        return round(value, 9 if abs(value) < 1 else 3)
    if isinstance(value, tuple):
        return tuple(getattr(each, "text", each) for each in value)
    return getattr(value, "text", value)


def _shown(device: Device, name: str) -> str:
    given = device.given.get(name)
    if given is None:
        return "not written"
    return f"{given.text} (assumed)" if given.assumed else given.text


# --- what the designs say of themselves ---------------------------------------------------------------------------


def _declarations(old: Circuit, new: Circuit, names: Mapping[str, str]) -> Iterator[Change]:
    def now(words: Iterable[str]) -> tuple[str, ...]:
        return tuple(called(word, names) for word in words)

    one, other = old.vehicle, new.vehicle
    for word, before, after in (("class", one.vehicle_class, other.vehicle_class), ("title", one.title, other.title),
                                ("tows", "yes" if one.tows else "no", "yes" if other.tows else "no"),
                                ("rules", _all(old.rule_sets), _all(new.rule_sets))):
        if before != after:
            yield Change("declared", other.name, f"{word} was {before} and is {after}", before, after, other.span.line)
    groups: tuple[tuple[str, Mapping[str, str], Mapping[str, str]], ...] = (
        ("axle", {a.name: _axle(a) for a in old.axles}, {a.name: _axle(a) for a in new.axles}),
        ("circuit", {i.name: _meant(i.role, now(i.reservoirs), i.axles) for i in old.intents},
         {i.name: _meant(i.role, i.reservoirs, i.axles) for i in new.intents}),
        ("waiver", {f"{w.rule} at {names.get(w.at, w.at)}": w.because for w in old.waivers},
         {f"{w.rule} at {w.at}": w.because for w in new.waivers}),
        ("coupling", {" - ".join(sorted(c.ends)): "coupled" for c in old.couplings},
         {" - ".join(sorted(c.ends)): "coupled" for c in new.couplings}),
        ("trial", {t.name: str([(s.action, now(s.names), s.settings) for s in t.steps]) for t in _trials(old)},
         {t.name: str([tuple(step[:3]) for step in t.steps]) for t in _trials(new)}),
    )
    for word, before_all, after_all in groups:
        for name in dict.fromkeys((*before_all, *after_all)):
            mine, theirs = before_all.get(name), after_all.get(name)
            if mine is None:
                yield Change("declared", name, f"{word} {name} is new")
            elif theirs is None:
                yield Change("declared", name, f"{word} {name} is gone")
            elif mine != theirs:
                both = "" if word == "trial" else f": was {mine}, is {theirs}"
                yield Change("declared", name, f"{word} {name} is another{both}")


def _trials(circuit: Circuit):  # type: ignore[no-untyped-def]
    return [trial for trial in circuit.trials if trial is not None]


def _all(words: Iterable[str]) -> str:
    return " and ".join(words) or "none"


def _axle(axle: Axle) -> str:
    return (f"position {axle.position}" + ", hydraulic service brakes" * axle.hydraulic
            + ", parked by a cable" * axle.by_cable)


def _meant(role: str, reservoirs: tuple[str, ...], axles: tuple[str, ...]) -> str:
    return f"{role}, reservoirs {_all(reservoirs)}, axles {_all(axles)}"


# --- volumes ------------------------------------------------------------------------------------------------------


def _volumes(old: Verdict, new: Verdict, names: Mapping[str, str]) -> Iterator[Change]:
    """Volumes and ratios of the shares that both versions have."""
    before = {"+".join(names.get(n, n) for n in share.name.split("+")): share for share in shares(old.evidence)}
    for share in shares(new.evidence):
        was = before.get(share.name)
        if was is None:
            continue
        for word, mine, theirs in (("reservoirs", was.tank_volume, share.tank_volume),
                                   ("chambers", was.chamber_volume, share.chamber_volume)):
            if abs(mine - theirs) > 1e-7:
                texts = shown(mine, "volume"), shown(theirs, "volume")
                if alike(*texts):
                    continue
                yield Change("volume", share.name, f"{word} of {share.name}: {texts[0]} before, {texts[1]} now", *texts)
        if abs(was.ratio - share.ratio) > 0.005:
            ratios = f"{was.ratio:.2f}", f"{share.ratio:.2f}"
            yield Change("ratio", share.name,
                         f"reservoirs to chambers of {share.name}: {ratios[0]} before, {ratios[1]} now", *ratios)
