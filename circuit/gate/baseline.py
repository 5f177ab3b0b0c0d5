"""What was known of designs before: findings that do not count again, and what was asked, that may not become less."""

import os
from collections.abc import Iterable, Mapping
from typing import Any, NamedTuple

from circuit.gate.governed import LESS, POLICY
from circuit.gate.place import Misruled
from circuit.judging.rule import Judgement
from circuit.model.accepting import place
from circuit.model.circuit import Circuit
from circuit.verdict.demands import asked
from circuit.verdict.judge import Verdict


class Known(NamedTuple):
    """findings: rule and place of each finding. asked: as `verdict/demands` gives it."""

    findings: tuple[tuple[str, str], ...]
    asked: dict[str, Any]


def read(path: str) -> dict[str, Known]:
    """By design, as `name_in` calls it. Raises Misruled for a file that is no baseline."""
    import json

    try:
        with open(path, encoding="utf-8") as file:
            data = json.load(file)
        return {name: Known(tuple((one["rule"], one["place"]) for one in each["findings"]), each["asked"])
                for name, each in data["designs"].items()}
    except OSError as trouble:
        raise Misruled(f"{path} cannot be read: {(trouble.strerror or str(trouble)).lower()}; airwright check "
                       "--write-baseline FILE writes one") from None
    except (ValueError, KeyError, TypeError, AttributeError):
        raise Misruled(f"{path} is no baseline: airwright check --write-baseline FILE writes one") from None


def entries(verdict: Verdict, path: str) -> dict[str, Any]:
    """What a baseline in this file knows of a verdict: open findings and what is asked, of a combination's vehicles too."""
    return {name_in(path, each.circuit.source.name): _entry(each) for each in _each(verdict)}


def text(designs: Mapping[str, Any]) -> str:
    """The file itself."""
    import json

    head = {"tool": "airwright", "baseline": 1, "designs": dict(sorted(designs.items()))}
    return json.dumps(head, indent=1, ensure_ascii=False) + "\n"


def name_in(path: str, design: str) -> str:
    """A design as a baseline calls it: from the baseline's own folder, with slashes."""
    return os.path.relpath(os.path.realpath(design), os.path.dirname(os.path.realpath(path))).replace(os.sep, "/")


def key(judgement: Judgement, circuit: Circuit) -> tuple[str, str]:
    """Rule and place, by which a finding is the same after rows have moved."""
    return judgement.rule.name, place(judgement.answer.thing, circuit.by_name, circuit.vehicle.name)


def _each(verdict: Verdict) -> Iterable[Verdict]:
    yield verdict
    for _, own in verdict.vehicles:
        yield from _each(own)


def _entry(verdict: Verdict) -> dict[str, Any]:
    open_ones = [each for one in verdict.findings if one.is_open and one.rule.name not in (POLICY, LESS)
                 for each in (one, *one.follows)]
    findings = dict.fromkeys(key(one, verdict.circuit) for one in open_ones)
    what = asked(verdict.circuit, (each.name for each in verdict.sets))
    return {"findings": [{"rule": rule, "place": where} for rule, where in findings], "asked": what}
