"""What `explain` shows of real designs, written to `shared/samples.toml`: a row of each kind, and the rules that look at it.

Run as `python -m tests.examples.samples`. A rule looks at a kind where it has answered about a part of that kind, whatever it
answered, in an example, a start or its own cases in `tests/rules`. `tests/report/test_kind_pages.py` holds the file to it.
"""

import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

from circuit import kinds, rules
from circuit.mistake import Unreadable
from circuit.model.circuit import Circuit
from circuit.pipeline import judged, load, load_source
from circuit.source import Source
from circuit.verdict.lesson import lesson_of
from tests.designs import completed, design_of
from tests.rules.test_cases import CASES

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*/design.air"))
STARTS = sorted((ROOT / "shared" / "starts").glob("*.air"))
MOST = 100
"""Letters of a row that is shown."""


def rows() -> dict[str, tuple[str, str]]:
    """Of each kind that stands in an example the row with the most settings, and its folder."""
    found: dict[str, list[tuple[int, int, str, str]]] = defaultdict(list)
    for path in EXAMPLES:
        for row in path.read_text(encoding="utf-8").splitlines():
            row = row.split("#")[0].strip()
            kind = kinds.find(row.split(" ", 1)[0]) if re.match(r"[a-z0-9-]+ [a-z]", row) else None
            if kind is not None and len(row) <= MOST and "<" not in row and not row.endswith("{"):
                found[kind.name].append((-row.count(","), len(row), row, path.parent.name))
    return {name: min(each)[2:] for name, each in found.items()}


def circuits() -> Iterator[Circuit]:
    """Every design that a rule answers about."""
    for path in (*EXAMPLES, *STARTS):
        yield load(str(path))
    texts = [design_of(case.read_text(encoding="utf-8")) for case in CASES]
    texts += [completed(text) for rule in rules.every() for text in lesson_of(rule.name)[4:]]
    for text in texts:
        try:
            yield load_source(Source("case.air", text))
        except Unreadable:
            continue


def looks() -> dict[str, list[str]]:
    """Each kind with the rules that have answered about a part of it."""
    found: dict[str, set[str]] = defaultdict(set)
    for circuit in circuits():
        standing = {(device.span.outermost.source.name, device.span.outermost.line): device for device in circuit.devices}
        for judgement in judged(circuit).judgements:
            spans = (judgement.answer.at, *(span for span, _ in judgement.answer.also))
            named = [circuit.by_name.get(word) for word in re.split(r"[ ,]+", judgement.answer.thing)]
            shown = [standing.get((span.outermost.source.name, span.outermost.line)) for span in spans]
            for device in filter(None, (*named, *shown)):
                found[device.kind.name].add(judgement.rule.name)
    return {name: sorted(found[name]) for name in sorted(found)}


def written() -> str:
    """The file."""
    lines = ["# Frozen output of `python -m tests.examples.samples`: a row of each kind out of the examples, and the rules that",
             "# have answered about a part of that kind in an example, a start or a case of the tests.", ""]
    real, seen = rows(), looks()
    for kind in kinds.every():
        lines.append(f"[kind.{kind.name}]")
        if kind.name in real:
            lines += [f"row = '{real[kind.name][0]}'", f'from = "{real[kind.name][1]}"']
        lines += ["rules = [", *(f'  "{name}",' for name in seen.get(kind.name, ())), "]", ""]
    return "\n".join(lines)


if __name__ == "__main__":
    (ROOT / "shared" / "samples.toml").write_text(written(), encoding="utf-8")
