"""Single faults: the row of the fault table against the story of the same fault."""

import random
import re
from collections.abc import Iterator
from typing import Any

from tests.truth.asked import Asked
from tests.truth.printing import Printing, amounts

AS_EVER, HARDLY = 0.95, 0.05
_AXLES = re.compile(r"(?:, | and )")


def stories(asked: Asked, how_many: int, seed: int) -> Iterator[Printing]:
    """Axle by axle what the pedal and the park control still do, for faults drawn by a seed; a leak, which the table gives
    all the time it needs, is left out."""
    document = asked.document("faults")
    names = [one["fault"]["name"] for one in document["found"]["faults"]] if document else []
    sudden = [name for name in names if "leak" not in name]
    for name in random.Random(f"{asked.name} {seed}").sample(sudden, min(how_many, len(sudden))):
        told = asked.document("faults", "--fault", name)
        if told is not None and told["found"]["story"]:
            axles = told["found"]["faults"][0]["in_time"]["axles"]
            yield from _of_table(axles, name)
            yield from _of_story(told["found"]["story"]["sections"], {axle["name"] for axle in axles}, name)


def _of_table(axles: list[dict[str, Any]], name: str) -> Iterator[Printing]:
    for axle in axles:
        for question, share in (("brakes with a fault", axle["service"]), ("parks with a fault", axle["parks"])):
            word = "as ever" if share >= AS_EVER else "hardly" if share <= HARDLY else ""
            if question.startswith("parks") and word == "as ever" and not axle["sprung"]:
                word = ""  # as the sound vehicle does, which need not be with its springs
            if word:
                yield Printing(question, f"{name}, {axle['name']}", "faults json, table", words=word)


def _of_story(story: list[dict[str, Any]], axles: set[str], name: str) -> Iterator[Printing]:
    for part in story:
        question = "brakes with a fault" if part["title"].startswith("The stop") else \
            "parks with a fault" if part["title"] == "Parked" else ""
        for says in (row["says"] for row in part["rows"] if question):
            word, who = _word(says, question)
            for axle in _AXLES.split(who) if word else ():
                if axle in axles:
                    yield Printing(question, f"{name}, {axle}", "faults json, story", words=word)


def _word(says: str, question: str) -> tuple[str, str]:
    """What a sentence of a story says of axles, and of which."""
    if question.startswith("parks"):
        told = re.match(r"[Tt]he springs of (.*?) (are on|do not come on)", says)
        return ({"are on": "as ever"}.get(told.group(2), "hardly"), told.group(1)) if told else ("", "")
    if told := re.match(r"(.*?) brakes? as ever", says):
        return "as ever", told.group(1)
    if told := re.match(r"(.*?) gets? no air from the pedal", says):
        return "hardly", told.group(1)
    if told := re.match(r"(.*?) brakes? with (\S+ \S+) instead of (\S+ \S+):", says):
        now, normal = amounts(told.group(2)), amounts(told.group(3))
        share = now[0].value / normal[0].value if now and normal else 1.0
        return ("hardly" if share < 0.35 else "less"), told.group(1)
    return "", ""
