"""The fault pages that stand beside the examples: which there are, and how they are made.

`python -m tests.examples.stories` writes them all anew; they are our own output, frozen.
"""

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from circuit.faults.study import Study, study
from circuit.faults.stops import PEDAL
from circuit.faults.telling import tell
from circuit.pipeline import load
from circuit.report.account import text as in_words
from circuit.report.faults.paper import files
from circuit.report.studies.faults import account
from tests.designs import EXAMPLES, example_names


class Page(NamedTuple):
    """A story. name: of its page in the example's folder `faults`. hold: s that the pedal is down."""

    example: str
    name: str
    fault: str
    hold: float = PEDAL

    @property
    def path(self) -> Path:
        return EXAMPLES / self.example / "faults" / f"{self.name}.md"


PAGES = (
    Page("truck-6x4", "primary-lost", "pri: burst"),
    Page("truck-6x4", "discharge-line-burst", "hose pump.2 -> dryer.1: burst"),
    Page("truck-6x4", "slow-leak-past-the-double-check", "park-shuttle: parked mid way + pri: leaks"),
    Page("combination-semi", "supply-hose-off", "tractor.supply-head: off"),
    Page("combination-semi", "control-hose-burst", "coupling-hose tractor.protection.21 -> tractor.control-head: burst",
         60.0),
    Page("auxiliary-manifold", "auxiliary-hose-burst", "tube aux-guard.2 -> block: burst"),
    Page("auxiliary-manifold", "auxiliary-hose-burst-without-protection",
         "aux-guard: stuck open + tube aux-guard.2 -> block: burst"),
)


def studied(example: str) -> Study:
    return study(load(str(EXAMPLES / example / "design.air")))


def story_files(page: Page, found: Study) -> dict[str, str]:
    """A story's page and its pictures: path to text."""
    (effect,) = found.together(page.fault)
    return files(tell(found, effect, page.hold), output=str(page.path))


def table(found: Study, example: str) -> str:
    """The table of an example's single faults, each by name, with the name of its file as from the top of the project."""
    return in_words(account(found.circuit)).replace(str(EXAMPLES), "examples")


def every() -> Iterator[tuple[Path, str]]:
    for example in example_names():
        found = studied(example)
        yield EXAMPLES / example / "faults.txt", table(found, example)
        for page in PAGES:
            if page.example == example:
                yield from ((Path(name), text) for name, text in story_files(page, found).items())


if __name__ == "__main__":
    for path, text in every():
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")
        print(f"{path.relative_to(EXAMPLES.parent)}: {len(text.encode()) // 1024 + 1} KB")
