"""How exercises are graded: right and wrong answers, guesses, the variety of mistakes, and fault finding from symptoms.

Run as `python tests/benchmarks/grading.py`; `--quick` for 40 seeds and 4 cases. The last line is one JSON object:
right_accepted and wrong_accepted of the hundred each in tests/plant/answers.toml; guesses_accepted: exercises in which a list of
2,000 guesses finds anything; classes of mistakes in 200 seeds over all designs; rare_words: exercises of these in which the row
with a word that no other row of its kind has is the spoilt one; mechanic_solved and guesser_solved of 20 cases from symptoms.
"""

import argparse
import json
import sys
import tomllib
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))


def answered() -> tuple[int, int, int]:
    """Right ones accepted, wrong ones accepted, and exercises in which guessing finds anything."""
    from circuit.plant.exercise import exercise
    from circuit.plant.grade import grade
    from circuit.plant.operators import named

    cases = tomllib.loads((ROOT / "tests/plant/answers.toml").read_text(encoding="utf-8"))["case"]
    words = ("backwards", "missing", "too high", "too low", "too small", "leaks", "wrong reservoir", "blocked", "swapped",
             "too late", "not equal", "joined", "plastic", "too long")
    guesses = "\n".join(f"{row} {word}" for row in range(1, 151) for word in words)[:200_000]
    right = wrong = guessed = 0
    for case in cases:
        found = exercise(str(ROOT / "examples" / case["design"] / "design.air"), 1, "", (named(case["mistake"]),))
        right += sum(grade(found.answer, line).found for line in case["right"])
        wrong += sum(grade(found.answer, line).found for line in case["wrong"])
        guessed += grade(found.answer, guesses).found
    return right, wrong, guessed


def planted(seeds: int) -> tuple[int, int]:
    """Classes in so many seeds over all designs, and exercises that an odd word gives away."""
    from circuit.plant.exercise import exercise

    designs = sorted((ROOT / "examples").glob("*/design.air"))
    classes, rare = set(), 0
    for seed in range(seeds):
        found = exercise(str(designs[seed % len(designs)]), seed, "")
        if found is not None:
            classes.add(found.answer.mistake)
            rare += odd_row(found.text) in found.answer.lines
    return len(classes), rare


def odd_row(text: str) -> int:
    """The only row that has a setting word which no other row of its kind has, or 0: what somebody finds who knows no air."""
    rows = [(number, row.split("#")[0]) for number, row in enumerate(text.split("\n"), 1)]
    words = [(number, row.split(" ", 1)[0], part.split(" ", 1)[0]) for number, row in rows
             for part in row.partition(": ")[2].split(", ") if part]
    kinds = [kind for _, kind in {(number, kind) for number, kind, _ in words}]
    odd = [number for number, kind, word in words
           if kinds.count(kind) > 2 and sum((kind, word) == other[1:] for other in words) == 1]
    return odd[0] if len(odd) == 1 else 0


def searched(cases: int) -> tuple[int, int]:
    """Cases from symptoms that a scripted mechanic solves within budget, and that a scripted guesser does."""
    from circuit.faults.library import library
    from circuit.pipeline import load
    from circuit.plant.workshop import case, guesser, mechanic, solved

    found = []
    for design in ("examples/course/8.air", "examples/truck-6x4/design.air"):
        known = library(load(str(ROOT / design)))
        found += [(one, seed) for seed in range(cases // 2) if (one := case(known, seed)) is not None]
    return (sum(solved(one, mechanic(one)) for one, _ in found), sum(solved(one, guesser(one, seed)) for one, seed in found))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true")
    quick = parser.parse_args().quick
    right, wrong, guessed = answered()
    classes, rare = planted(40 if quick else 200)
    by_mechanic, by_guesser = searched(4 if quick else 20)
    print(json.dumps({"right_accepted": right, "wrong_accepted": wrong, "guesses_accepted": guessed, "classes": classes,
                      "rare_words": rare, "mechanic_solved": by_mechanic, "guesser_solved": by_guesser}))


if __name__ == "__main__":
    main()
