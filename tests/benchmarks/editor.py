"""How an editor is served while a design is half written: `python tests/benchmarks/editor.py` (`--quick`: a tenth of it).

450 texts are spoilt by seed: cut off, 1 to 120 letters deleted, the rest of a row deleted, a stray quote, brace or line end, a
half-typed row. `speak`: the share of those with mistakes in which at least half of what the rules decided of the whole design
(of a text that was cut off: of the parts that are left) is decided still; `made_up`: findings in them that the whole design does
not have. `few_mistakes`: the share with at most five. `warm_ratio`: of truck, bus and train the largest median, over the
keystrokes by which a row is typed and a figure is changed, of the processor time to what is shown, divided by that of a whole
cold process that checks the design. `completion`: the share of words, at places by seed, that are among the first five offered
before a letter of them is typed; names and figures that a writer makes up are left out. The last line is a JSON object.
"""

import argparse
import json
import re
import resource
import statistics
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from random import Random

from circuit import pipeline
from circuit.editor.completing import offers
from circuit.editor.desk import Desk
from circuit.judging.rule import Result
from circuit.source import Source

ROOT = Path(__file__).resolve().parent.parent.parent
EXAMPLES = sorted((ROOT / "examples").glob("*/design.air"))
TYPED = {"truck-6x4": "tube pri -> foot.11: size 1/2 in, length 2 m", "city-bus": "tube pri -> foot.11: size 1/2 in, length 2 m",
         "combination-train": "couple tractor.supply-head -> semi.supply-head"}


def spoilt(text: str, chance: Random) -> tuple[str, str]:
    """How a text was spoilt, and what came of it."""
    sort = chance.choice(["cut off", "deleted", "rest of row", "quote", "brace", "line end", "half a row"])
    at, rows = chance.randrange(len(text)), text.split("\n")
    if sort == "cut off":
        return sort, text[:at]
    if sort == "deleted":
        return sort, text[:at] + text[at + chance.randint(1, 120):]
    if sort == "rest of row":
        end = text.find("\n", at)
        return sort, text[:at] + (text[end:] if end >= 0 else "")
    if sort == "half a row":
        row, place = chance.choice([row for row in rows if row.strip()]), chance.randrange(len(rows))
        return sort, "\n".join([*rows[:place], row[:chance.randint(1, len(row))], *rows[place:]])
    return sort, text[:at] + {"quote": '"', "brace": chance.choice("{}"), "line end": "\n"}[sort] + text[at:]


Decided = dict[tuple[str, str], Result]


def decided(verdict) -> Decided:
    return {(one.rule.name, one.answer.thing): one.result for head in verdict.judgements for one in (head, *head.follows)}


def half_written(count: int, chance: Random) -> dict[str, float | int]:
    """What rules still say of spoilt texts, and how many mistakes they have."""
    paths = [path for path in EXAMPLES if "combination" not in path.parent.name]
    whole = {path: decided(pipeline.judged(pipeline.load(str(path)))) for path in paths}
    few = spoke = wrong = made_up = 0
    shares: list[float] = []
    for number in range(count):
        path = paths[number % len(paths)]
        sort, text = spoilt(path.read_text(encoding="utf-8"), chance)
        known = pipeline.as_far(Source(str(path), text))
        few += len(known.mistakes) <= 5
        if not known.mistakes:
            continue
        wrong += 1
        verdict = pipeline.standing(known)
        now = decided(verdict) if verdict else {}
        there = known.circuit.by_name if known.circuit else {}
        before = [key for key, result in whole[path].items() if result is not Result.UNDECIDED
                  and (sort != "cut off" or key[1] in there)]
        kept = sum(now.get(key, Result.UNDECIDED) is not Result.UNDECIDED for key in before)
        shares.append(kept / max(1, len(before)))
        spoke += shares[-1] >= 0.5
        if sort != "cut off":
            made_up += sum(result is Result.NOT_MET and whole[path].get(key) is not Result.NOT_MET for key, result in now.items())
    return {"speak": round(spoke / wrong, 3), "few_mistakes": round(few / count, 3), "with_mistakes": wrong, "made_up": made_up,
            "median_share_decided": round(statistics.median(shares), 3)}


def warm(rounds: int) -> dict[str, float]:
    """For each design the median of a keystroke's processor time over that of a cold check."""
    found: dict[str, float] = {}
    for name, row in TYPED.items():
        path = ROOT / "examples" / name / "design.air"
        cold = statistics.median(_cold(path) for _ in range(rounds))
        rows = path.read_text(encoding="utf-8").split("\n")
        place = len(rows) // 2
        texts = ["\n".join([*rows[:place], row[:typed], *rows[place:]]) for typed in range(1, len(row) + 1)]
        texts += _figures(rows)
        desk = Desk()
        desk.put(str(path), "\n".join(rows))
        desk.verdict(str(path))
        times = []
        for text in texts:
            start = time.process_time()
            desk.put(str(path), text)
            desk.known(str(path))
            desk.verdict(str(path))
            times.append(time.process_time() - start)
        found[name] = round(statistics.median(times) / cold, 3)
        found[f"{name} p90"] = round(statistics.quantiles(times, n=10)[-1] / cold, 3)
        print(f"{name}: cold {1000 * cold:.0f} ms, keystroke {1000 * statistics.median(times):.0f} ms, nine in ten below "
              f"{1000 * statistics.quantiles(times, n=10)[-1]:.0f} ms of processor time", flush=True)
    return found


def _figures(rows: list[str]) -> list[str]:
    """Texts in which one figure is another each time: a design that stays whole."""
    texts = []
    for number, row in enumerate(rows):
        figure = re.search(r"length (\d+(?:\.\d+)?) m", row)
        if figure and len(texts) < 12:
            changed = f"{row[:figure.start(1)]}{float(figure[1]) * 1.1:.2f}{row[figure.end(1):]}"
            texts.append("\n".join([*rows[:number], changed, *rows[number + 1:]]))
    return texts


def _cold(path: Path) -> float:
    """s of processor time of a process that checks one design with nothing kept."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-m", "circuit", "check", "--no-cache", "-q", "-j", "1", str(path)], capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


_WORD = re.compile(r"->|[\w./-]+|[,:]")
_USED = ("rules", "plug", "couple", "press", "release", "start", "expect", "feed", "uncouple", "fail", "push", "pull")
"""Words behind which a name stands that another row gave."""


def completion(count: int, chance: Random) -> float:
    """The share of words that stand among the first five offers."""
    desk, asked, found = Desk(), 0, 0
    missed: Counter[str] = Counter()
    while asked < count:
        path = chance.choice(EXAMPLES)
        rows = path.read_text(encoding="utf-8").split("\n")
        number = chance.randrange(len(rows))
        code = rows[number].split("#")[0]
        words = [word for word in _WORD.finditer(code) if word.group() not in (",", ":", "->")]
        if '"' in code or not words:
            continue
        word = chance.choice(words)
        before = code[:word.start()]
        is_new = ":" not in before and word is not words[0] and "->" not in code and words[0].group() not in _USED
        if is_new or re.fullmatch(r"[-+]?\d[\d./x-]*", word.group()):
            continue
        desk.put(str(path), "\n".join([*rows[:number], before, *rows[number + 1:]]))
        first = [each.text for each in offers(desk, str(path), number + 1, word.start() + 1)][:5]
        asked += 1
        is_there = any(text == word.group() or text.split()[0] == word.group() for text in first)
        found += is_there
        if not is_there:
            missed["where a row begins" if word is words[0] else "name" if ":" not in before else "setting or value"] += 1
    print(f"not among the first five: {dict(missed)}", flush=True)
    return round(found / count, 3)


def main() -> None:
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--quick", action="store_true", help="a tenth of it")
    parser.add_argument("--seed", type=int, default=20)
    options = parser.parse_args()
    part = 10 if options.quick else 1
    ratios = warm(3)
    found = half_written(450 // part, Random(options.seed))
    found["warm_ratio"] = max(value for name, value in ratios.items() if "p90" not in name)
    found["completion"] = completion(2000 // part, Random(options.seed))
    print(json.dumps({**found, "ratios": ratios}))


if __name__ == "__main__":
    main()
