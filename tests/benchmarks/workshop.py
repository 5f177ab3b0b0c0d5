"""The body builder's job measured: advice on spoilt designs, and diagnosis of planted faults.

    python tests/benchmarks/workshop.py [--quick]

advised: spoilt designs asked; cured: of them, met with the advice, judged whole; as_cheap_as_exhaustive: of made-up problems
by seed, those whose advice costs what trying every combination costs. top3: planted faults, each with parts and instruments
scattered by seed (2 psi, 0.05 s), whose true explanation, or one that no reading tells apart, is among the first three; first:
the first; false_alarms: sound vehicles not called as designed. CPU seconds beside. The vehicles come from the model
that ranks them, which is flattering.
"""

import json
import sys
from itertools import combinations
from pathlib import Path
from random import Random
from time import process_time

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from circuit.faults.diagnosis import asked_first  # noqa: E402
from circuit.faults.library import idle_with, library, scattered, signatures, sound_ones  # noqa: E402
from circuit.faults.ranking import Errors, _Model, weigh  # noqa: E402
from circuit.pipeline import judged, load, load_source  # noqa: E402
from circuit.source import Source  # noqa: E402
from circuit.verdict.advice import _Search, advise  # noqa: E402
from circuit.verdict.trade_changes import Change, cost  # noqa: E402

EXAMPLES = ("truck-6x4", "tractor-6x4", "semitrailer-tandem")
SPOILT = (
    (("foot.22 -> front-release.1: size 3/8 in", "foot.22 -> front-release.1: size 1/4 in"),),
    (("foot.21 -> rear-relay.4: size 3/8 in, length 8 m", "foot.21 -> rear-relay.4: size 1/4 in, length 14 m"),),
    (("reservoir pri: volume 50 L", "reservoir pri: volume 30 L"),),
    (("reservoir sec: volume 32 L", "reservoir sec: volume 20 L"), ("reservoir wet: volume 20 L", "reservoir wet: volume 12 L")),
    (("displacement 15 cfm", "displacement 10 cfm"),),
    (("tube sec -> foot.12: size 1/2 in", "tube sec -> foot.12: size 1/4 in"),),
    (("cut-in 7.2 bar", "cut-in 6.6 bar"),),
)


def advice(spoilt: tuple[tuple[tuple[str, str], ...], ...]) -> dict[str, float]:
    """Spoilt trucks: how many were advised on, and cured."""
    name = str(ROOT / "examples" / "truck-6x4" / "design.air")
    advised = cured = 0
    begun = process_time()
    for changes in spoilt:
        text = Path(name).read_text(encoding="utf-8")
        for old, new in changes:
            assert text.count(old) == 1
            text = text.replace(old, new)
        verdict = judged(load_source(Source(name, text)), (), True)
        found = advise(verdict, lambda rows, text=text: load_source(Source(name, "\n".join((text, *rows, "")))),  # type: ignore[misc]
                       lambda changed: judged(changed, (), True), {})
        advised += bool(found.missed)
        cured += bool(found.changes) and not found.left
    return {"advised": advised, "cured": cured, "advice_cpu_s": round(process_time() - begun, 1)}


def exhaustive(count: int) -> float:
    """The share of made-up problems on which the search is as cheap as trying everything."""
    verdict = judged(load(str(ROOT / "examples" / "truck-6x4" / "design.air")))
    alike = 0
    for seed in range(count):
        draw = Random(seed)
        options = [Change(f"thing {thing}", (f"{thing} {size}",), "", 1, draw.uniform(1, 9), 0.0, ())
                   for thing in range(draw.randint(2, 4)) for size in range(3)]
        helps, need = [draw.uniform(-0.3, 0.7) for _ in options], draw.uniform(0.3, 1.6)
        search = _Search(verdict, lambda rows: verdict.circuit, {}, options, ("no-such-rule",), False)
        search.short = lambda chosen: max(0.0, need - sum(helps[n] for n in chosen))  # type: ignore[method-assign]
        every = [some for size in range(1, 5) for some in map(frozenset, combinations(range(len(options)), size))
                 if len({options[n].of for n in some}) == size and search.short(some) == 0.0]
        found = search.found()
        best = min((cost([options[n] for n in some], {}) for some in every), default=None)
        alike += (cost(found[0], {}) if found else None) == best
    return alike / count


def diagnosed(name: str, every: int, sound: int) -> dict[str, float]:
    """Of one example: shares of planted faults found, and of sound vehicles not called as designed. every: each which fault."""
    circuit, errors, begun = load(str(ROOT / "examples" / name / "design.air")), Errors(), process_time()
    known = library(circuit)
    made = process_time() - begun
    asked = known.commission
    numbers, model = asked_first(circuit, asked.readings), _Model(known, errors)

    def read(signature: tuple[float | None, ...], draw: Random) -> dict[int, float | None]:
        found: dict[int, float | None] = {}
        for n in numbers:
            reading, value = asked.readings[n], signature[n]
            wide = {"pressure": errors.pressure, "time": errors.time}.get(reading.dimension, 0.0)
            wrong = draw.gauss(0.0, wide) if wide else 0.0
            found[n] = None if value is None else max(0.0, value + wrong)
        return found

    planted = [entry for entry in known.entries[1:] if entry.failures or entry.settings][::every]
    played = signatures(asked, [scattered(circuit, Random(f"t{n}"), entry.variant) for n, entry in enumerate(planted)],
                        [tuple(idle_with(circuit, entry)) for entry in planted])
    first = three = 0
    for n, (entry, signature) in enumerate(zip(planted, played)):
        told = weigh(known, read(signature, Random(f"n{n}"))).explained[:3]
        hits = [each.entry.members == entry.members or bool(set(entry.members) & set(each.names))
                or model.apart(each.entry.signature, entry.signature, numbers) < 1.0 for each in told]
        first, three = first + hits[0], three + any(hits)
    alarms = sum(not weigh(known, read(each, Random(n))).is_as_designed
                 for n, each in enumerate(sound_ones(asked, sound, seed=99)))
    return {"planted": len(planted), "first": round(first / len(planted), 3), "top3": round(three / len(planted), 3),
            "false_alarms": round(alarms / sound, 3), "library_cpu_s": round(made, 1)}


def main() -> None:
    quick = "--quick" in sys.argv
    found: dict[str, object] = dict(advice(SPOILT[:2] if quick else SPOILT))
    found["as_cheap_as_exhaustive"] = exhaustive(50)
    each = {name: diagnosed(name, 8 if quick else 1, 25 if quick else 100) for name in (EXAMPLES[:1] if quick else EXAMPLES)}
    found |= {"top3": min(one["top3"] for one in each.values()),
              "false_alarms": max(one["false_alarms"] for one in each.values()), "by_example": each}
    print(json.dumps(found))


if __name__ == "__main__":
    main()
