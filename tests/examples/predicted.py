"""What `charge`, `respond` and `reserve` say of an example, as its folder keeps it; run this file to write it anew.

Our own output, frozen: it shows a reader what to expect, and that nothing changed unseen. It proves nothing.
"""

import re
import sys
from dataclasses import replace
from pathlib import Path

from circuit.model.draws import Draws
from circuit.pipeline import load
from circuit.report import account
from circuit.report.studies import charge, reserve, respond
from tests.designs import EXAMPLES, example_names

HEAD = """Frozen: what this version predicts of design.air, by `airwright charge`, `respond` and `reserve`. Not measured; the
notes on the model stand in the commands' own output. `python -m tests.examples.predicted` writes this anew, a test
compares.
"""
NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")


def path_of(name: str) -> Path:
    return EXAMPLES / name / "predicted.txt"


def predicted(name: str) -> str:
    """The three tables of an example."""
    circuit = replace(load(str(EXAMPLES / name / "design.air")), draws=Draws())
    told = (account.text(study.account(circuit)) for study in (charge, respond, reserve))
    rule = "\n" + "=" * 118 + "\n\n"
    parts = [each.partition("\n- ")[0].rstrip() + "\n" for each in told]
    return rule.join((HEAD, *parts)).replace(circuit.source.name, "design.air")


def alike(frozen: str, made: str) -> list[str]:
    """Where two texts differ in words, or in a number by more than 1 % and two of its last digit."""
    rows = list(zip(frozen.split("\n"), made.split("\n"), strict=False))
    wrong = [f"{a!r} is now {b!r}" for a, b in rows if not _same(a, b)]
    return wrong + ([f"{frozen.count(chr(10))} lines are now {made.count(chr(10))}"] if len(frozen.split("\n")) != len(
        made.split("\n")) else [])


def _same(one: str, other: str) -> bool:
    if [NUMBER.sub("#", " ".join(row.split())) for row in (one, other)].count(
            NUMBER.sub("#", " ".join(one.split()))) != 2 and "---" not in one:
        return False
    pairs = zip(NUMBER.findall(one), NUMBER.findall(other), strict=False)
    return all(abs(_value(a) - _value(b)) <= max(0.01 * abs(_value(a)), 2.0 * 10.0 ** -len(a.partition(".")[2]))
               for a, b in pairs)


def _value(text: str) -> float:
    return float(text.replace(",", ""))


if __name__ == "__main__":
    for each in sys.argv[1:] or example_names():
        path_of(each).write_text(predicted(each), encoding="utf-8")
        print(path_of(each))
