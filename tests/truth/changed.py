"""What `compare` says is not met any more or met again, against what `check` says of both designs."""

import json
from collections.abc import Iterator
from pathlib import Path

from tests.truth.asked import Asked, said
from tests.truth.printing import Printing


def changed(asked: Asked, old: Path) -> Iterator[Printing]:
    """A design against the one that it was made from."""
    status, out, _ = said("compare", str(old), str(asked.path), "--format", "json")
    before, after = said("check", str(old), "--format", "json"), asked.document("check")
    if status not in (0, 1) or before[0] not in (0, 1) or after is None:
        return
    told = json.loads(out)
    open_before, open_after = (_open(document) for document in (json.loads(before[1]), after))
    for each in told["outcomes"]:
        if each["what"] in ("new", "worse", "gone"):
            place = f"{each['rule']} at {each['thing']}"
            for version, known in (("OLD", open_before), ("NEW", open_after)):
                claimed = {"new": version == "NEW", "gone": version == "OLD", "worse": True}[each["what"]]
                yield Printing(f"open in {version}", place, "compare json", words=str(claimed))
                yield Printing(f"open in {version}", place, "check json", words=str((each["rule"], each["thing"]) in known))
    yield Printing("worse", "any", "compare json", words=str(told["worse"]))
    yield Printing("worse", "any", "compare exit status", words=str(status == 1))
    if open_after - open_before and not told["worse"]:
        yield Printing("worse", "any", "check json", words="True")


def _open(document: dict) -> set[tuple[str, str]]:
    """Rule and thing of every open finding, those that follow from another too."""
    entry = document["designs"][0]
    found = set()
    for each in entry["findings"]:
        if not each["waived"]:
            found.add((each["rule"], each["thing"]))
            found |= {(one["rule"], one["thing"]) for one in each["follows"]}
    return found
