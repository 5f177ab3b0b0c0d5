"""What a verdict leans on: the assumed settings that its figure was worked out from, and whether it turns within their range.

A rule is run once more on a circuit that notes which assumed settings are read for each answer. Where a figure is met
with little to spare, the rule is run again with each kind of assumed value at both ends of its range.
"""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import replace
from typing import Any, NamedTuple

from circuit.declaring.following import following
from circuit.judging.assumed import Assumed, Read, said
from circuit.judging.evidence import Evidence
from circuit.judging.rule import AT_BEST, Answer, Result, Rule
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.units import ATMOSPHERE

RANGE = 0.2
"""How far an assumed value is taken to be off, either way; our choice: part data without a source scatter so."""
SPARE = 0.3
"""A figure with more of its limit to spare is not tried at the ends; our choice."""
SETTLED = ("filling", "parked", "driving", "braking", "released", "park_applied", "park_applied_long", "_parked_later")
"""What the air at rest is worked out from is not noted, nor moved: only what the figure itself reads."""

class Leaning(NamedTuple):
    """What one answer leans on, and the value that turns it, if one does."""

    on: tuple[Assumed, ...] = ()
    turns: Assumed | None = None


class _Noting(dict[str, Any]):
    """Settings that note when an assumed one is read."""

    def __init__(self, device: Device, assumed: frozenset[str], log: set[Read]):
        super().__init__(device.settings)
        self.name, self.assumed, self.log = device.name, assumed, log

    def __getitem__(self, key: str) -> Any:
        if key in self.assumed:
            self.log.add((self.name, key))
        return super().__getitem__(key)

    def get(self, key: str, default: Any = None) -> Any:
        if key in self.assumed:
            self.log.add((self.name, key))
        return super().get(key, default)


def leanings(rule: Rule, limits: Mapping[str, float], evidence: Evidence) -> dict[tuple[object, ...], Leaning]:
    """For each answer of a rule that compares a figure, by `key`, what it leans on."""
    circuit = evidence.circuit
    found: dict[tuple[object, ...], Leaning] = {}
    kept: dict[Read, frozenset[tuple[str, str]]] = {}
    for answer, reads in _noted(rule, limits, evidence):
        figure = answer.figure
        if figure is None or not reads:
            continue
        turns = None
        if rule.bound != AT_BEST and answer.result is Result.MET and figure.margin <= SPARE * abs(figure.limit):
            for read in _groups(circuit, reads):
                group = circuit.by_name[read[0]].kind.name, read[1]
                if group not in kept:
                    kept[group] = _kept(rule, limits, evidence, read)
                if (answer.thing, figure.what) not in kept[group]:
                    turns = read
                    break
        found[key(answer)] = Leaning(said(circuit, reads), next(iter(said(circuit, (turns,))), None) if turns else None)
    return found


def key(answer: Answer) -> tuple[object, ...]:
    """What tells an answer from the others of its rule."""
    return answer.result, answer.thing, answer.says, answer.figure


def _noted(rule: Rule, limits: Mapping[str, float], evidence: Evidence) -> Iterator[tuple[Answer, frozenset[Read]]]:
    log: set[Read] = set()
    devices = []
    for device in evidence.circuit.devices:
        assumed = frozenset(name for name, given in device.given.items() if given.assumed and _is_number(device, name))
        devices.append(device._replace(settings=_Noting(device, assumed, log)) if assumed else device)
    noting = _settled_as(evidence, replace(evidence.circuit, devices=tuple(devices)))
    before: frozenset[Read] | None = None
    for answer in rule.check(noting, limits):
        own = frozenset(log)
        log.clear()
        if before is None:
            before = own
        # what was read before the first answer is for all, but for the same settings of the part that it is about
        mine = {setting for _, setting in own}
        yield answer, own | frozenset(read for read in before if read[1] not in mine)


def _settled_as(evidence: Evidence, circuit: Circuit) -> Evidence:
    """Evidence of a circuit whose air rests as that of another."""
    found = Evidence(circuit)
    found.__dict__.update({name: getattr(evidence, name) for name in SETTLED})
    return found


def _is_number(device: Device, setting: str) -> bool:
    return isinstance(device.settings.get(setting), float)


def _groups(circuit: Circuit, reads: frozenset[Read]) -> Iterator[Read]:
    """One of each kind and setting: like parts are off by as much."""
    seen = set()
    for name, setting in sorted(reads):
        group = circuit.by_name[name].kind.name, setting
        if group not in seen:
            seen.add(group)
            yield name, setting


def _kept(rule: Rule, limits: Mapping[str, float], evidence: Evidence, read: Read) -> frozenset[tuple[str, str]]:
    """Things and figures that are met at both ends of an assumed value's range, the air at rest being the same."""
    ends = [_settled_as(evidence, moved(evidence.circuit, read, factor)) for factor in (1.0 - RANGE, 1.0 + RANGE)]
    met = [{(other.thing, other.figure.what) for other in rule.check(end, limits)
            if other.result is Result.MET and other.figure is not None} for end in ends]
    return frozenset(met[0] & met[1])


def moved(circuit: Circuit, read: Read, factor: float) -> Circuit:
    """The circuit with an assumed setting of all parts of a kind times a factor; gauge pressures, not absolute ones."""
    name, setting = read
    kind = circuit.by_name[name].kind
    declared = kind.setting(setting)
    devices = []
    for device in circuit.devices:
        given = device.given.get(setting)
        if device.kind is kind and given is not None and given.assumed and _is_number(device, setting):
            zero = ATMOSPHERE if declared is not None and declared.dimension == "pressure" else 0.0
            settings = {**device.settings, setting: zero + factor * (device.settings[setting] - zero)}
            with suppress(ValueError):  # a value that its part cannot have is no end of its range
                device = device._replace(settings={**settings, **following(kind, settings)})
        devices.append(device)
    return replace(circuit, devices=tuple(devices))
