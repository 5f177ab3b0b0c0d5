"""What the verdict says of single edits that nobody chose by the rules: found, harmless when played, or unexplained.

Run from the root: `python tests/benchmarks/single_edits.py [--count 400] [--seed 1] [--only EXAMPLE] [--on shapes]`. The last
line is one JSON object. Edits are drawn by seed (tests/edits.py: ports and settings only) from all examples that are no
combination, or from correct designs of other shapes, which nobody tuned a rule on (tests/shapes.py).

found: a finding that the unedited design has not. harmless: none, and played through pedal, release, parking and each store
lost, no brake, spring, head or user comes to another pressure by 0.6 bar and 15 %. unexplained: none, and one does.
first_at_edit: of the found, the share whose first new finding shows a row that the edit wrote, or of what it joined.
disagreements: of unedited and edited designs, places where the settled circuit has air and the played one none, or the other
way about. folded: the share of new findings that stand under another one. false_errors: errors on unedited designs, those edited
and 60 of other shapes.
"""

import argparse
import json
import sys
import time
from collections import Counter
from pathlib import Path
from random import Random

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from circuit.judging.evidence import Evidence  # noqa: E402
from circuit.judging.rule import Judgement  # noqa: E402
from circuit.model.circuit import Circuit  # noqa: E402
from circuit.units import ATMOSPHERE  # noqa: E402
from circuit.verdict.judge import judge  # noqa: E402
from tests.behaviour import differs, places, played  # noqa: E402
from tests.edits import Design, Edit, edits  # noqa: E402
from tests.shapes import shape  # noqa: E402

SHAPES = 60


def main() -> None:
    options = argparse.ArgumentParser()
    options.add_argument("--count", type=int, default=400)
    options.add_argument("--seed", type=int, default=1)
    options.add_argument("--only", default="")
    options.add_argument("--show", action="store_true", help="print each edit with what came of it")
    options.add_argument("--on", choices=("examples", "shapes"), default="examples")
    given = options.parse_args()
    designs = _shapes() if given.on == "shapes" else _examples(given.only)
    chance, total = Random(given.seed), Counter[str]()
    each = -(-given.count // len(designs))
    began = time.time()
    for design in designs:
        _one(design, edits(design, chance), each, total, given.show)
        print(f"{design.path}: {dict(total)}, {time.time() - began:.0f} s", flush=True)
    if given.on == "examples":
        for design in _shapes():
            total["false_errors"] += _errors(design)
    found = total["found"]
    print(json.dumps({
        "edits": total["edits"], "found": found, "harmless": total["harmless"], "unexplained": total["unexplained"],
        "disagreements": total["disagreements"], "first_at_edit": round(total["first"] / max(1, found), 3),
        "folded": round(total["folded"] / max(1, total["folded"] + total["top"] - found), 3),
        "false_errors": total["false_errors"]}))


def _examples(only: str) -> list[Design]:
    paths = [path for path in sorted(ROOT.glob("examples/*/design.air"))
             if "combination" not in path.parent.name and only in path.parent.name]
    return [Design(str(path), path.read_text(encoding="utf-8")) for path in paths]


def _shapes() -> list[Design]:
    return [Design(f"shape-{seed}.air", shape(seed)) for seed in range(SHAPES)]


def _errors(design: Design) -> int:
    """Errors on a design that nobody edited. The teaching board has one, which it is there to show."""
    assert design.circuit is not None
    found = judge(design.circuit).findings
    return sum(one.is_open and one.severity == "error" for one in found) - ("teaching-board" in design.path)


def _one(design: Design, every: list[Edit], count: int, total: "Counter[str]", show: bool) -> None:
    assert design.circuit is not None
    judged = judge(design.circuit)
    known = {_key(each) for one in judged.findings for each in one.each()}
    total["false_errors"] += _errors(design)
    before = played(design.circuit)
    total["disagreements"] += len(_apart(design.circuit, before))
    done = 0
    for edit in every:
        if done == count:
            return
        circuit = design.load(edit.text)
        if circuit is None:
            continue
        done += 1
        total["edits"] += 1
        new = [one for one in judge(circuit).findings if one.is_open and any(_key(each) not in known for each in one.each())]
        if new:
            first = _shows(new[0], edit)
            total["found"] += 1
            total["top"] += len(new)
            total["folded"] += sum(len(one.follows) for one in new)
            total["first"] += first
            if show:
                print("    found" if first else "    FIRST ELSEWHERE", edit.sort, edit.says, "->", new[0].rule.name,
                      new[0].answer.thing, f"(+{len(new) - 1})")
            continue
        after = played(circuit)
        apart = differs(before, after)
        total["disagreements"] += len(_apart(circuit, after))
        total["unexplained" if apart else "harmless"] += 1
        if show:
            print("    UNEXPLAINED" if apart else "    harmless", edit.sort, edit.says, "->", "; ".join(apart[:3]))


def _key(one: Judgement) -> tuple[str, str]:
    return one.rule.name, one.answer.thing


def _shows(one: Judgement, edit: Edit) -> bool:
    spans = (one.answer.at, *(span for span, _ in one.answer.also))
    return any(span.outermost.line in edit.rows for span in spans)


def _apart(circuit: Circuit, found: dict[tuple[str, str], float]) -> list[str]:
    """Where the circuit at rest has air and the played one none, or the other way about."""
    evidence = Evidence(circuit)
    airs = {"driving": evidence.driving, "pedal": evidence.braking}
    result = []
    for (state, place), value in found.items():
        air = airs.get(state)
        if air is not None and not place.endswith("user"):
            rest = air.level.get(places(circuit)[place], ATMOSPHERE) - ATMOSPHERE
            if (rest > 1.5e5 and value < 0.3e5) or (rest < 0.3e5 and value > 1.5e5):
                result.append(f"{place} {state}: {rest / 1e5:.1f} at rest, {value / 1e5:.1f} played")
    return result


if __name__ == "__main__":
    main()
