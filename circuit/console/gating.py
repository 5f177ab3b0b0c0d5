"""What `check` and `compare` share of a project's gate: its options, which policy holds for which design, the last line."""

import argparse
import os
from contextlib import contextmanager

from circuit.console.say import FINDINGS, OUR_FAULT, UNREADABLE, complain
from circuit.gate.place import Misruled, baseline_of, find

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from typing import Any

    from circuit.console.checked import Checked
    from circuit.gate.gate import Gate
    from circuit.gate.policy import Policy

NONE = "none"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The options of a gate; each is the caller's, and stricter or milder than the policy as the caller wants."""
    group = parser.add_argument_group("of a project's gate")
    group.add_argument("--policy", metavar="FILE", default="",
                       help="what holds for all designs, an airwright.toml; found upwards from a design if left out, or `none`")
    group.add_argument("--root", metavar="DIR", default="", help="the folder under which designs may bring in files")
    group.add_argument("--select", action="append", default=[], metavar="RULE", help="only findings of these rules count")
    group.add_argument("--ignore", action="append", default=[], metavar="RULE", help="findings of these rules do not count")
    group.add_argument("--severity", action="append", default=[], metavar="RULE=WORD", help="weigh a rule's findings otherwise")
    group.add_argument("--waivers", action="store_true", help="list every waiver that accepts a finding")
    group.add_argument("--max-waivers", type=int, metavar="N", help="the most waivers that a design may have")
    group.add_argument("--no-waivers", action="store_true", help="no waiver of a design counts")
    group.add_argument("--baseline", metavar="FILE", default="", help="findings known before, which do not count again")
    group.add_argument("--write-baseline", metavar="FILE", help="write the findings of this run, and what was asked, as known")
    group.add_argument("--since", metavar="REVISION", help="fail also for what is not asked any more since a revision of git")


def misruled() -> type[Exception]:
    return Misruled


class Gated:
    """Which gate each design goes through. A policy is read when the first design needs it."""

    def __init__(self, names: "Sequence[str]", options: argparse.Namespace) -> None:
        self.options = options
        folders: dict[str, str] = {}
        self.policy: dict[str, str] = {}
        for name in names:
            folder = os.path.dirname(name) or "."
            if folder not in folders:
                folders[folder] = "" if options.policy == NONE else options.policy or find(folder)
            self.policy[name] = folders[folder]
        self.gates: dict[str, Gate] = {}
        self.bases: dict[str, str] = {}

    def baseline(self, path: str) -> str:
        """The baseline of a policy; none where one is written now."""
        return "" if self.options.write_baseline else self.options.baseline or (baseline_of(path) if path else "")

    def made_of(self, name: str, how: "Any") -> str:
        """What the result of a design depends on beside its files."""
        from circuit.console import keeping

        path = self.policy[name]
        if path not in self.bases:
            extra = repr([getattr(self.options, word) for word in ("select", "ignore", "severity", "max_waivers", "no_waivers")])
            self.bases[path] = keeping.base(how, path, self.baseline(path)) + extra
        return self.bases[path]

    def gate(self, name: str) -> "Gate":
        """The gate of a design. Raises Misruled for a policy or a baseline that is not understood."""
        path = self.policy[name]
        if path not in self.gates:
            from circuit.gate import gate, policy

            found = policy.read(path) if path else policy.Policy()
            found = _with_options(found, self.options)._replace(baseline=self.baseline(path))
            self.gates[path] = gate.opened(found, os.path.abspath(self.options.root) if self.options.root else "")
        return self.gates[path]

    def gone(self, names: "Sequence[str]", words: "Iterable[str]") -> "list[Checked]":
        """A result for each design that the baseline knows in a folder that was named, and that is not there any more."""
        folders = [os.path.realpath(word) for word in words if os.path.isdir(word)]
        there = {os.path.realpath(name) for name in names}
        found: dict[str, Checked] = {}
        for path in dict.fromkeys(self.baseline(path) for path in set(self.policy.values())) if folders else ():
            from circuit.gate import baseline

            for name in baseline.read(path) if path else ():
                whole = os.path.realpath(os.path.join(os.path.dirname(path), name))
                if whole not in there and not os.path.exists(whole) and any(whole.startswith(each + os.sep) for each in folders):
                    found[whole] = _gone(os.path.relpath(whole), path)
        return list(found.values())


def _gone(name: str, path: str) -> "Checked":
    from circuit.gate.governed import CONSEQUENCE, LESS
    from circuit.gate.found import fingerprint

    says = f"{name} is gone: {os.path.basename(path)} knows it, and it is not checked any more"
    row = {"rule": LESS, "severity": "error", "thing": name, "says": says, "remedy": "bring it back, or write the baseline anew",
           "consequence": CONSEQUENCE[LESS], "clause": "", "title": "every design is still checked", "file": name, "line": 1,
           "column": 1, "length": 1, "waived": "", "is_outside": False, "print": fingerprint(LESS, name), "follows": []}
    return {"file": name, "status": FINDINGS, "told": "", "err": f"airwright: {says}\n", "rows": [row], "counts": {"error": 1},
            "inputs": [], "known": {}}


def _with_options(found: "Policy", options: argparse.Namespace) -> "Policy":
    from circuit.gate.policy import checked_rules, checked_severities

    most = options.max_waivers if options.max_waivers is not None else found.most
    return found._replace(select=(*found.select, *checked_rules("--select", options.select)),
                          ignore=(*found.ignore, *checked_rules("--ignore", options.ignore)),
                          severity={**found.severity, **checked_severities(options.severity)}, most=most,
                          no_waivers=found.no_waivers or options.no_waivers)


def summary(found: "Sequence[Checked]") -> str:
    """What came of all designs, in one line: how many are clean, have findings, cannot be read."""
    by_status = [sum(each["status"] == status for each in found) for status in (0, FINDINGS, UNREADABLE, OUR_FAULT)]
    total: dict[str, int] = {}
    for each in found:
        for word, number in each["counts"].items():
            total[word] = total.get(word, 0) + number
    words = [f"{len(found)} design{'s' * (len(found) != 1)}: {by_status[0]} without a finding that fails, {by_status[1]} with, "
             f"{by_status[2]} unreadable"]
    words += [f"{by_status[3]} a fault of the program"] * bool(by_status[3])
    severities = [f"{total.get(word, 0)} {word}{'s' * (total.get(word, 0) != 1)}" for word in ("error", "warning", "note")]
    return f"{', '.join(words)}; {', '.join(severities)}, {total.get('waived', 0)} accepted"


@contextmanager
def earlier(revision: str, names: "Sequence[str]") -> "Iterator[tuple[str, str]]":
    """A folder with the designs as they were at a revision, and the top of their repository; both "" where none is asked for."""
    if not revision:
        yield "", ""
        return
    from tempfile import TemporaryDirectory

    from circuit.gate.earlier import copy_out, top

    folder = os.path.dirname(os.path.abspath(names[0]))
    with TemporaryDirectory(prefix="airwright-") as tree:
        copy_out(revision, folder, tree)
        yield tree, top(folder)


def write_baseline(path: str, found: "Sequence[Checked]") -> int:
    """Writes what the run found as known."""
    from circuit.gate.baseline import text
    from circuit.writing import write

    try:
        write(path, text({name: entry for each in found for name, entry in each["known"].items()}))
    except OSError as trouble:
        return complain(f"{path} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    return 0
