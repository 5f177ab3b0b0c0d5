"""One design checked, as plain data: what `check` prints, sends to another process or keeps until the next run."""

import os
import sys
from typing import Any, NamedTuple

from circuit.console.inputs import STDIN
from circuit.console.say import CLEAN, FINDINGS, OUR_FAULT, UNREADABLE

TYPE_CHECKING = False
if TYPE_CHECKING:
    from circuit.gate.gate import Gate
    from circuit.model.circuit import Circuit
    from circuit.source import Source
    from circuit.verdict.judge import Verdict

Checked = dict[str, Any]
"""file; status; told: text, or JSON of the entry; rows: plain findings and mistakes; counts; inputs: what was read; known: for a
baseline."""


class How(NamedTuple):
    """How designs are checked; everything that a result depends on beside the files themselves. baseline: the file that their
    findings are written to, or "". since: a folder with the designs as they were, top: that of their repository."""

    format: str = "text"
    rules: tuple[str, ...] = ()
    fail_on: str = ""
    simulate: bool = False
    short: bool = False
    assumed: bool = False
    clauses: bool = False
    only_findings: bool = False
    colour: bool = False
    root: str = ""
    since: str = ""
    top: str = ""
    baseline: str = ""


def checked(name: str, how: How, gate: "Gate", tell: Any = lambda words: None) -> Checked:
    """A design checked. Never raises: a fault of the program is told as one."""
    from circuit.mistake import Unreadable

    text: list[Source] = []
    try:
        return _judged(name, how, gate, tell, text)
    except Unreadable as unreadable:
        return _unreadable(name, how, unreadable, gate, text)
    except RecursionError:
        if os.environ.get("AIRWRIGHT_TRACEBACK"):
            raise
        says = f"airwright: {name}: this is nested deeper than the program can follow; nothing can be said of it\n"
        return {"file": name, "status": OUR_FAULT, "told": "", "err": says, "rows": [], "counts": {}, "inputs": [], "known": {}}


def as_it_was(name: str, tree: str, above: str) -> "Circuit | None":
    """A design as it was, from a tree that was copied out; None where it was not there, or could not be read.

    above: the top of the repository that it is in.
    """
    from circuit.mistake import Unreadable
    from circuit.pipeline import load

    path = os.path.join(tree, os.path.relpath(os.path.realpath(name), os.path.realpath(above)))
    try:
        return load(path, tree) if os.path.isfile(path) else None
    except Unreadable:
        return None


def source_of() -> "Source":
    """The text that comes by standard input."""
    from circuit.syntax.read import decode

    return decode(sys.stdin.buffer.read(), "<stdin>")


def _judged(name: str, how: How, gate: "Gate", tell: Any, text: "list[Source]") -> Checked:
    """text: takes what came by standard input, which cannot be read twice."""
    from circuit import pipeline
    from circuit.gate.baseline import entries
    from circuit.gate.found import counted, rows
    from circuit.sealing import refuse_sealed
    from circuit.units import show_in

    show_in(gate.policy.units)
    if name == STDIN:
        text.append(source_of())
        refuse_sealed(text[0])
        verdict = pipeline.judged(pipeline.load_source(text[0], how.root), how.rules, how.simulate, tell, gate)
    else:
        verdict = pipeline.check(name, how.rules, how.simulate, tell, gate)
    if how.since:
        from circuit.gate.earlier import with_earlier

        verdict = with_earlier(verdict, as_it_was(name, how.since, how.top))
    status = FINDINGS if verdict.fails(how.fail_on or gate.policy.fail_on or "warning") else CLEAN
    known = entries(verdict, how.baseline) if how.baseline else {}
    return {"file": name, "status": status, "told": _told(verdict, how), "err": "", "rows": rows(verdict),
            "counts": counted(verdict), "inputs": _inputs(verdict), "known": known}


def _inputs(verdict: "Verdict") -> list[str]:
    """Every file that was read, of the vehicles of a combination too."""
    own = [source.name for source in verdict.circuit.files if source.name != "<stdin>"]
    return list(dict.fromkeys((*own, *(name for _, each in verdict.vehicles for name in _inputs(each)))))


def _told(verdict: "Verdict", how: How, stands: bool = False) -> str:
    if how.format == "json":
        from circuit.report import machine

        return machine.indented(machine.findings_alone(verdict) if how.only_findings else machine.design(verdict))
    if how.format == "csv":
        from circuit.report.sheets.verdict import tables
        from circuit.report.table import as_one

        return as_one(tables(verdict))
    if how.format in ("text", "short"):
        from circuit.report import terminal

        return terminal.verdict(verdict, terminal.Paint(how.colour), how.assumed, how.short or how.format == "short", how.clauses,
                                stands)
    return ""


def _unreadable(name: str, how: How, unreadable: Any, gate: "Gate", text: "list[Source]") -> Checked:
    """What is wrong with a design's text, and what can be judged of it all the same."""
    from circuit.gate.found import counted, mistake_rows, rows
    from circuit.report import machine, terminal

    verdict = _standing(name, how, gate, text)
    told, err = "", ""
    if how.format == "json":
        told = machine.indented(machine.unreadable(name, unreadable.mistakes, verdict, how.only_findings))
    else:
        err = terminal.mistakes(unreadable.mistakes, terminal.Paint(how.colour), verdict is not None)
        if verdict is not None and how.format in ("text", "short"):
            told = _told(verdict, how, stands=True)
    found, counts = (rows(verdict), counted(verdict)) if verdict is not None else ([], {})
    return {"file": name, "status": UNREADABLE, "told": told, "err": err, "rows": [*mistake_rows(unreadable.mistakes), *found],
            "counts": {"mistakes": len(unreadable.mistakes), **counts}, "inputs": [], "known": {}}


def _standing(name: str, how: How, gate: "Gate", text: "list[Source]") -> "Verdict | None":
    """The verdict on what is understood of a design with mistakes, if anything is."""
    from circuit import pipeline
    from circuit.mistake import Unreadable
    from circuit.sealing import refuse_sealed

    root = how.root or gate.root
    try:
        source = text[0] if text else pipeline.opened(name, root)
        refuse_sealed(source)
        return pipeline.standing(pipeline.as_far(source, root), how.rules, gate)
    except Unreadable:
        return None
