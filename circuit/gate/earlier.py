"""Designs as they were at a revision of git: their texts are copied out, nothing of the repository is run or changed."""

import os
import subprocess
from collections.abc import Iterator

from circuit.clauses import ALWAYS
from circuit.gate.governed import less
from circuit.gate.place import Misruled
from circuit.model.circuit import Circuit
from circuit.verdict.demands import asked
from circuit.verdict.renames import renamed
from circuit.verdict.judge import Verdict

LARGEST = 16_000_000
PLAIN = ("100644", "100755")
"""Modes of regular files: a link of an earlier revision leads nowhere that may be read."""


def top(folder: str) -> str:
    """The top folder of the repository that a folder is in. Raises Misruled where it is in none."""
    return _git(folder, "rev-parse", "--show-toplevel").decode("utf-8", "surrogateescape").rstrip("\n")


def copy_out(revision: str, folder: str, target: str) -> None:
    """All designs of a revision, into a folder that is empty. Raises Misruled."""
    if revision.startswith("-"):
        raise Misruled(f"{revision} is no revision of git")
    here = top(folder)
    whole = _git(here, "rev-parse", "--verify", "--quiet", f"{revision}^{{commit}}").decode().strip()
    for name, mark in _listed(here, whole):
        path = os.path.join(target, name)
        os.makedirs(os.path.dirname(path), exist_ok=True)
        with open(path, "wb") as file:
            file.write(_git(here, "cat-file", "blob", mark))


def _listed(here: str, whole: str) -> Iterator[tuple[str, str]]:
    """Name and mark of each regular file of a commit that can be a design or a policy."""
    for row in _git(here, "ls-tree", "-r", "-l", "-z", whole).split(b"\0"):
        head, _, name = row.partition(b"\t")
        words = head.decode().split()
        shown = os.fsdecode(name)
        if len(words) == 4 and words[0] in PLAIN and shown.endswith((".air", "airwright.toml")) and int(words[3]) <= LARGEST:
            yield shown, words[2]


def _git(folder: str, *words: str) -> bytes:
    try:
        done = subprocess.run(["git", "-C", folder, *words], capture_output=True, timeout=120)
    except (OSError, subprocess.TimeoutExpired) as trouble:
        raise Misruled(f"git cannot be asked for earlier designs: {trouble}") from None
    if done.returncode:
        said = done.stderr.decode("utf-8", "replace").strip().split("\n")[-1]
        raise Misruled(f"git {words[0]} {words[-1]}: {said or 'there is no such revision'}")
    return done.stdout


def with_earlier(verdict: Verdict, before: Circuit | None) -> Verdict:
    """The verdict with a finding for each thing that the design was asked before, and is not now."""
    if before is None:
        return verdict
    names = renamed(before, verdict.circuit)
    found = less(verdict, asked(before, (*before.rule_sets, ALWAYS), names))
    return verdict._replace(judgements=(*verdict.judgements, *found))
