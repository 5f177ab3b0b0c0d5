"""How many planted mistakes the rules find at the right place, and how many errors they report that are none.

Run from the root: `python tests/benchmarks/planted_mistakes.py [HOW_MANY [SEED]]`. The last line is one JSON object.
Every base design takes its turn; on each, every class of mistakes takes its turn; no spoilt text is judged twice.

found: a finding of an expected rule names the thing or shows a changed row. false_errors: errors on good designs, other
than those known there, and errors on spoilt ones that neither name nor show anything of the mistake.
"""

import json
import sys
import time
from collections import Counter
from collections.abc import Iterator
from itertools import count
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from circuit.judging.rule import Judgement  # noqa: E402
from circuit.pipeline import load  # noqa: E402
from circuit.plant.bed import Bed  # noqa: E402
from circuit.plant.operators import OPERATORS  # noqa: E402
from circuit.plant.planting import Planting, found_by, plantings, touches  # noqa: E402
from circuit.verdict.judge import judge  # noqa: E402

KNOWN = {"teaching-board": {("circuits-not-separate", "dry")}}
"""What a base design is known to have, by its folder."""
DESIGNS = sorted([*ROOT.glob("examples/*/design.air"), *ROOT.glob("shared/starts/*.air")])


class Base:
    """One good design with its findings and its endless supply of distinct plantings."""

    def __init__(self, path: Path, seed: int) -> None:
        self.name = path.parent.name if path.stem == "design" else f"start {path.stem}"
        self.bed = Bed(load(str(path)))
        self.findings = [j for j in judge(self.bed.circuit).judgements if j.is_open]
        self.told = {_key(j) for j in self.findings}
        known = KNOWN.get(self.name, set())
        self.unknown = [j for j in self.findings if _key(j) not in known and j.severity == "error"]
        self.supply = self._distinct(seed)

    def _distinct(self, seed: int) -> Iterator[Planting]:
        seen = {self.bed.source.text}
        for turn in count(seed):
            fresh = 0
            for planting in plantings(self.bed, OPERATORS, turn):
                if planting.source.text not in seen:
                    seen.add(planting.source.text)
                    fresh += 1
                    yield planting
            if not fresh:
                return


def _key(judgement: Judgement) -> tuple[str, str]:
    return judgement.rule.name, judgement.answer.thing


def measured(how_many: int, seed: int = 1, designs: list[Path] = DESIGNS) -> dict[str, object]:
    """Plant that many mistakes and judge each."""
    started = time.perf_counter()
    bases = [Base(path, 1000 * seed + place) for place, path in enumerate(designs)]
    planted: Counter[str] = Counter()
    found: Counter[str] = Counter()
    per_design: Counter[str] = Counter()
    misses, elsewhere, further = [], [], 0
    open_bases = list(bases)
    while open_bases and planted.total() < how_many:
        for base in list(open_bases):
            planting = next(base.supply, None)
            if planting is None:
                open_bases.remove(base)
                continue
            if planted.total() >= how_many:
                break
            name = planting.operator.name
            planted[name] += 1
            per_design[base.name] += 1
            judged = [j for j in judge(planting.circuit).judgements if j.is_open]
            new = [j for j in judged if _key(j) not in base.told]
            if any(found_by(planting, j) for j in judged):
                found[name] += 1
            else:
                misses.append({"design": base.name, "mistake": name, "says": planting.says, "lines": planting.lines,
                               "reported": [f"{j.rule.name} at {j.answer.thing}" for j in new]})
            further += sum(not found_by(planting, j) for j in new)
            elsewhere += [{"design": base.name, "mistake": name, "says": planting.says, "rule": j.rule.name,
                           "reported": j.answer.says}
                          for j in new if j.severity == "error" and not touches(planting, j)
                          and j.rule.name not in planting.operator.entails]
    good = [{"design": base.name, "rule": j.rule.name, "reported": j.answer.says}
            for base in bases for j in base.unknown]
    total = planted.total()
    return {
        "planted": total, "found": found.total(), "recall": round(found.total() / total, 4) if total else None,
        "false_errors": len(good) + len(elsewhere), "classes": len(planted), "of_classes": len(OPERATORS),
        "designs": len(per_design), "further_findings": further, "seconds": round(time.perf_counter() - started, 1),
        "by_class": {name: f"{found[name]}/{planted[name]}" for name in sorted(planted)},
        "never_planted": sorted(o.name for o in OPERATORS if not planted[o.name]),
        "misses": misses, "errors_on_good_designs": good, "errors_elsewhere": elsewhere,
    }


def main() -> None:
    figures = measured(*map(int, sys.argv[1:] or ["2000"]))
    for title in ("misses", "errors_on_good_designs", "errors_elsewhere"):
        listed = figures[title]
        assert isinstance(listed, list)
        print(f"{title.replace('_', ' ')}: {len(listed)}")
        for entry in listed:
            print("  " + ", ".join(f"{key} {value}" for key, value in entry.items()))
    shown = {key: value for key, value in figures.items() if not isinstance(value, list) or key == "never_planted"}
    print(json.dumps(shown))


if __name__ == "__main__":
    main()
