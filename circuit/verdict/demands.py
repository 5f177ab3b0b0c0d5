"""What a design is asked, as plain data, and what an edit lets it be asked no more: deleting a question is no remedy."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, NamedTuple

from circuit.clauses import ALWAYS, rule_set
from circuit.model.circuit import Circuit
from circuit.model.trial_steps import Step
from circuit.units import shown
from circuit.verdict.renames import called



class Dropped(NamedTuple):
    """Something that a design is not asked any more, or asked less sharply.

    what: class, rules, clauses, circuit, trial or expectation. name: of what is concerned. says: in words. before, after: the
    two values where it has two.
    """

    what: str
    name: str
    says: str
    before: str = ""
    after: str = ""


def asked(circuit: Circuit, sets: Iterable[str], names: Mapping[str, str] | None = None) -> dict[str, Any]:
    """What a design is asked: its class, sets, clauses, circuits meant, trials. names: new ones of things that were renamed."""
    known = names or {}
    held = [name for name in dict.fromkeys(sets) if name != ALWAYS]
    return {
        "class": circuit.vehicle.vehicle_class,
        "rules": held,
        "clauses": sorted(clause.key for name in held for clause in rule_set(name).clauses if circuit.is_asked(clause)),
        "circuits": {each.name: {"role": each.role, "reservoirs": sorted(known.get(name, name) for name in each.reservoirs),
                                 "axles": sorted(each.axles)} for each in circuit.intents},
        "trials": {trial.name: [_step(step, known) for step in trial.steps] for trial in circuit.trials if trial is not None},
    }


def _step(step: Step, names: Mapping[str, str]) -> dict[str, Any]:
    """A step of a trial: who does what, and the figures."""
    said = {name: _plain(value) for name, value in step.settings.items() if value is not None}
    return {"do": step.action, "names": [called(name, names) for name in step.names], **said}


def _plain(value: Any) -> Any:
    """A value of a setting in JSON's own kinds, with the digits that a figure is told apart by."""
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    return float(f"{value:.9g}") if isinstance(value, float) else value


def dropped(before: Mapping[str, Any], after: Mapping[str, Any]) -> tuple[Dropped, ...]:
    """What was asked before and is not now, or less sharply."""
    return tuple(dict.fromkeys((*_classes(before, after), *_sets(before, after), *_circuits(before, after),
                                *_trials(before["trials"], after["trials"]))))


def _classes(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Dropped]:
    one, other = before["class"], after["class"]
    if one != other:
        yield Dropped("class", other, f"the class was {one} and is {other}: other clauses hold for it", one, other)


def _sets(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Dropped]:
    gone = [name for name in before["rules"] if name not in after["rules"]]
    for name in gone:
        yield Dropped("rules", name, f"rules {name} is gone: no clause of it is asked any more", name, "")
    lost: dict[str, list[str]] = {}
    for key in sorted(set(before["clauses"]) - set(after["clauses"])):
        name, _, number = key.partition("/")
        if name not in gone:
            lost.setdefault(name, []).append(number)
    for name, numbers in lost.items():
        some = ", ".join(numbers[:6]) + (f" and {len(numbers) - 6} more" if len(numbers) > 6 else "")
        yield Dropped("clauses", name, f"{len(numbers)} clause{'s' * (len(numbers) > 1)} of {name} not asked any more: {some}",
                      some, "")


def _circuits(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Dropped]:
    now = list(after["circuits"].values())
    for name, meant in before["circuits"].items():
        other = after["circuits"].get(name)
        if other is None and meant not in now:
            yield Dropped("circuit", name, f"circuit {name} is gone: it is not held to what it was meant for any more",
                          _meant(meant), "")
        elif other is not None and any(set(meant[word]) - set(other[word]) for word in ("reservoirs", "axles")):
            yield Dropped("circuit", name, f"circuit {name} was meant for {_meant(meant)} and is for {_meant(other)}",
                          _meant(meant), _meant(other))


def _meant(circuit: Mapping[str, Any]) -> str:
    return f"axles {' and '.join(circuit['axles']) or 'none'} on {' and '.join(circuit['reservoirs']) or 'no reservoir'}"


# --- trials --------------------------------------------------------------------------------------------------------------


def _trials(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[Dropped]:
    now = list(after.values())
    for name, steps in before.items():
        if name not in after:
            if steps not in now:
                yield Dropped("trial", name, f"trial {name} is gone", f"{_expectations(steps)}", "")
            continue
        yield from _compared(name, steps, after[name])


def _expectations(steps: Iterable[Mapping[str, Any]]) -> str:
    number = sum(step["do"] == "expect" for step in steps)
    return f"{number} expectation{'' if number == 1 else 's'}"


def _compared(name: str, before: list[dict[str, Any]], after: list[dict[str, Any]]) -> Iterator[Dropped]:
    """Expectations that are gone or loosened, and what is done otherwise, by which the same expectation may ask less."""
    left = [step for step in after if step["do"] == "expect"]
    for step in (one for one in before if one["do"] == "expect"):
        alike = [other for other in left if _of(other) == _of(step)]
        if not alike:
            yield Dropped("expectation", name, f"trial {name} does not expect {_said(step)} any more", _said(step), "")
            continue
        kept = min(alike, key=lambda other: len(list(_loosened(step, other))))
        left.remove(kept)
        for word, was, now in _loosened(step, kept):
            yield Dropped("expectation", name, f"trial {name}, {_of_words(step)}: {word} was {was} and is {now}", was, now)
    done, does = ([step for step in steps if step["do"] != "expect"] for steps in (before, after))
    if done != does and before != after:
        was, now = "; ".join(map(_said, done)), "; ".join(map(_said, does))
        yield Dropped("trial", name, f"trial {name} is played otherwise, so that what it expects asks something else: was {was}; "
                      f"is {now}", was, now)


def _of(step: Mapping[str, Any]) -> tuple[Any, ...]:
    """What an expectation is about, whatever its figures."""
    pressure = step.get("pressure")
    return tuple(step["names"]), pressure[0] if pressure else "", step.get("state", "")


def _of_words(step: Mapping[str, Any]) -> str:
    return f"expect {' and '.join(step['names'])}"


def _loosened(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[tuple[str, str, str]]:
    """Which figure of an expectation asks less than before, with both."""
    if before.get("pressure") and after.get("pressure"):
        bound, was = before["pressure"]
        now = after["pressure"][1]
        if (now < was if bound == "least" else now > was):
            yield f"pressure at {bound}", shown(was, "pressure"), shown(now, "pressure")
    within = before.get("within"), after.get("within")
    if within[0] is not None and (within[1] is None or within[1] > within[0]):
        yield "within", shown(within[0], "time"), shown(within[1], "time") if within[1] is not None else "no time"
    until = before.get("until"), after.get("until")
    if until[0] is not None and (until[1] is None or until[1] < until[0]):
        yield "until", shown(until[0], "time"), shown(until[1], "time") if until[1] is not None else "no time"


def _said(step: Mapping[str, Any]) -> str:
    """A step in words."""
    words = [f"{step['do']} {' and '.join(step['names'])}"]
    dimensions = {"at": "time", "within": "time", "until": "time", "hole": "length"}
    for name, value in step.items():
        if name in ("do", "names"):
            continue
        if isinstance(value, (list, tuple)):
            kind = str(value[0]) if value[0] in ("fraction", "pressure") else "pressure"
            bound = f"at {value[0]} " if value[0] in ("least", "most") else ""
            words.append(f"{name} {bound}{shown(value[1], kind)}")
        elif isinstance(value, float):
            words.append(f"{name} {shown(value, dimensions.get(name, 'pressure'))}")
        else:
            words.append(f"{name} {value}")
    return ", ".join(words)
