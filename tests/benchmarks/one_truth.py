"""Whether every question is answered once: `python tests/benchmarks/one_truth.py [--quick] [--spoilt N] [--seed S]`.

Run from the root, in any install. Every command that prints figures is run as a user runs it, on the designs of `examples/`,
on those of `airwright new`, and on N spoilt ones drawn by the seed (200): as text, JSON and CSV, all papers, the page, the
fault table and stories. What each says of a question (which quantity or verdict, of what, in which situation) is read from
the outputs and held together; see tests/truth. Contradictions are listed; the last line is one JSON object:

questions        answers that were asked for: quantity or verdict, place, design
printings        how often they are printed; held: those that another printing of the same could contradict
contradictions   two figures more than 0.5 % or 0.5 kPa apart beside the digits printed, a bound that is not kept, two verdicts
                 on one clause, two counts of one thing, a row of a table that another print of it has otherwise
missing          designs without papers or page, of which nothing could be compared there
by_output        printings and contradictions of each output
"""

import argparse
import json
import shutil
import sys
from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import nullcontext
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.truth.asked import Asked, folder, loaded_once, said  # noqa: E402
from tests.truth.changed import changed  # noqa: E402
from tests.truth.figures import figures  # noqa: E402
from tests.truth.findings import findings  # noqa: E402
from tests.truth.printing import Contradiction, Printing, contradictions  # noqa: E402
from tests.truth.rows import rows  # noqa: E402
from tests.truth.spoilt import spoilt  # noqa: E402
from tests.truth.stories import stories  # noqa: E402
from tests.truth.verdicts import verdicts  # noqa: E402

STARTS = ("truck", "tractor", "bus", "semitrailer", "full-trailer", "dolly")
QUICK = ("teaching-board", "semitrailer-tandem", "truck-6x4")
SPOILT, TOLD = 200, 8
"""Spoilt designs, and faults of a design whose story is told; of a spoilt one there is one."""


def designs(place: Path) -> list[Path]:
    """Every good design in a folder of this run's own."""
    shutil.copytree(ROOT / "examples", place / "examples", ignore=shutil.ignore_patterns("*.png", "*.svg", "*.html"))
    shutil.copytree(ROOT / "shared", place / "shared")
    found = sorted(place.glob("examples/*/design.air"))
    for name in STARTS:
        path = place / "examples" / f"new-{name}" / "design.air"
        path.parent.mkdir()
        status, out, err = said("new", name, "-o", str(path))
        if status != 0:
            raise SystemExit(f"airwright new {name} ended with {status}: {out}{err}")
        found.append(path)
    return found


def drawn(good: list[Path], how_many: int, seed: int) -> Iterator[tuple[Path, Path]]:
    """Spoilt designs, the good ones in turn, each with the one it was made from."""
    for number, path in enumerate(good):
        share = how_many // len(good) + (number < how_many % len(good))
        for other in spoilt(path, share, seed):
            yield path, other


def gathered(asked: Asked, told: int, seed: int, old: Path | None = None) -> list[Printing]:
    """Everything that is printed of a design."""
    found = [*verdicts(asked), *findings(asked), *figures(asked), *rows(asked), *stories(asked, told, seed)]
    return found if old is None else [*found, *changed(asked, old)]


class Tally:
    """Sums over designs."""

    def __init__(self) -> None:
        self.questions = self.printings = self.held = self.missing = 0
        self.by_output: Counter[str] = Counter()
        self.found: list[Contradiction] = []

    def add(self, design: str, printings: Iterable[Printing]) -> list[Contradiction]:
        """Counts a design; returns what contradicts in it."""
        printings = list(printings)
        asked = Counter((each.question, each.place) for each in printings)
        self.questions += len(asked)
        self.printings += len(printings)
        self.held += sum(number for number in asked.values() if number > 1)
        self.by_output.update(each.output for each in printings)
        new = contradictions(design, printings)
        self.found += new
        return new

    def told(self) -> dict[str, object]:
        """The figures of the last line."""
        wrong = Counter(output for each in self.found for output in {each.first.output, each.other.output})
        return {"questions": self.questions, "printings": self.printings, "held": self.held,
                "contradictions": len(self.found), "missing": self.missing,
                "by_output": {name: {"printings": number, "contradictions": wrong[name]}
                              for name, number in sorted(self.by_output.items())},
                "by_question": dict(Counter(each.first.question for each in self.found).most_common())}


def shown(each: Contradiction) -> str:
    """A contradiction in one line."""
    sides = (f"{side.output} {side.bound} {side.words} {[round(one.value, 4) for one in side.amounts]}"
             for side in (each.first, each.other))
    return f"  {each.design}: {each.first.question}, {each.first.place}: " + " AGAINST ".join(sides)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--quick", action="store_true", help="three examples and three spoilt ones of each")
    parser.add_argument("--spoilt", type=int, default=None, metavar="N", help=f"spoilt designs ({SPOILT}; 9 with --quick)")
    parser.add_argument("--seed", type=int, default=1, metavar="S", help="of what is drawn (1)")
    parser.add_argument("--only", default="", metavar="WORD", help="only designs with a word in their folder's name")
    parser.add_argument("--apart", action="store_true", help="load the design anew for every output, as separate processes do")
    options = parser.parse_args()
    tally = Tally()
    with folder() as place:
        good = designs(Path(place).resolve())
        if options.quick:
            good = [path for path in good if path.parent.name in QUICK]
        good = [path for path in good if options.only in path.parent.name]
        number = options.spoilt if options.spoilt is not None else 9 if options.quick else SPOILT
        work: list[tuple[Path | None, Path]] = [(None, path) for path in good]
        for old, path in (*work, *drawn(good, number, options.seed)):
            name = path.parent.name if old is None else f"{path.parent.name}, {path.stem}"
            output = Path(place) / "output"
            shutil.rmtree(output, ignore_errors=True)
            output.mkdir()
            asked = Asked(name, path, output)
            with nullcontext() if options.apart else loaded_once():
                printed = gathered(asked, TOLD if old is None else 1, options.seed, old)
            found = tally.add(name, printed)
            tally.missing += len(asked.missing)
            print(f"{name}: {tally.printings} printings so far, {len(found)} contradictions here", flush=True)
            for line in (*(f"  {each}" for each in asked.missing), *map(shown, found)):
                print(line, flush=True)
    print(json.dumps({**tally.told(), "seed": options.seed}))


if __name__ == "__main__":
    main()
