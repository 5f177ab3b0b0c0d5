"""A second reading of 120 single faults: what was expected of each, written before the program was asked, held to its outcome.

The expectations are in second_reading.txt, in the words that its head explains; the faults are those that the seed draws.
"""

import random
from pathlib import Path

import pytest

from circuit.faults.effect import Effect
from circuit.faults.outcome import Outcome, outcomes
from circuit.faults.single import single
from tests.faults.studied import study_of

SEED, EACH = 20261128, 24
WORDS = ("lost", "half", "springs", "unparked", "stays", "held", "empty")


def read() -> dict[str, dict[str, dict[str, set[str] | None]]]:
    """Design to fault to what is expected of it: word to names; None where it was left open."""
    found: dict[str, dict[str, dict[str, set[str] | None]]] = {}
    for line in Path(__file__).with_name("second_reading.txt").read_text(encoding="utf-8").split("\n"):
        if line.startswith("## "):
            rows = found.setdefault(line[3:], {})
        elif line and not line.startswith("#"):
            fault, _, says = line.partition(" |")
            wanted: dict[str, set[str] | None] = {word: set() for word in WORDS}
            for part in filter(None, (each.strip() for each in says.split(";"))):
                word, *names = part.removeprefix("? ").split()
                wanted[word] = None if part.startswith("? ") else set(names)
            rows[fault] = wanted
    return found


def seen(found: Outcome) -> dict[str, set[str]]:
    """The same words of an outcome."""
    first = found.seen
    states = [first] if found.towed else [first, *([found.effect] if found.leaks else [])]

    def axles(effect: Effect, share) -> set[str]:
        return {axle.name for axle in effect.axles if share(axle)}

    lost = set().union(*(axles(state, lambda a: a.served and a.service < 0.4) for state in states))
    return {
        "lost": lost, "half": axles(first, lambda a: a.served and 0.4 <= a.service < 0.6) - lost,
        "springs": set().union(*(axles(state, lambda a: a.springs > 0.5) for state in states)),
        "unparked": axles(first, lambda a: a.sprung and a.parks < 0.9), "stays": axles(first, lambda a: a.stays > 0.4),
        "held": axles(first, lambda a: a.sprung and a.lifts < 0.9),
        "empty": {tank.name for state in states for tank in state.tanks if tank.is_lost and tank.role != "regeneration"},
    }


EXPECTED = read()


@pytest.mark.parametrize("name", EXPECTED)
def test_the_faults_are_those_that_the_seed_draws(name: str):
    every = sorted(fault.name for fault in single(study_of(name).circuit))
    assert sorted(EXPECTED[name]) == sorted(random.Random(SEED).sample(every, EACH))


@pytest.mark.slow
@pytest.mark.parametrize("name", EXPECTED)
def test_each_fault_does_what_a_second_reader_expects(name: str):
    study = study_of(name)
    wrong = []
    for found in outcomes(study, [e for e in study.effects if e.fault.name in EXPECTED[name]]):
        fault = found.effect.fault.name
        has = seen(found)
        wrong += [(fault, word, names, has[word]) for word, names in EXPECTED[name][fault].items()
                  if names is not None and names != has[word]]
    assert not wrong, "\n".join(map(str, wrong))
