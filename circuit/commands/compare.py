"""`airwright compare`: what changed between two versions of a design."""

import argparse

from circuit.console.studied import formats, unknown_set
from circuit.console.say import CLEAN, FINDINGS, complain, paint, show_mistakes

GROUP = "hold"
HELP = "say what changed from one version of a design to another, and what is met no more"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("old", metavar="OLD", help="the design as it was")
    parser.add_argument("new", metavar="NEW", help="the design as it is; exit 1 when it has a finding more")
    formats(parser, _schema)
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold both designs to this set instead of their own; may be given several times")


def _schema() -> str:
    import json

    from circuit.report.changes import schema

    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.mistake import Unreadable
    from circuit.report import changes
    from circuit.report.table import as_one
    from circuit.verdict.compare import compare

    if wrong := unknown_set(options.rules):
        return complain(wrong)
    verdicts, status = [], CLEAN
    for name in (options.old, options.new):
        try:
            verdicts.append(pipeline.check(name, tuple(options.rules)))
        except Unreadable as unreadable:
            status = show_mistakes(unreadable)
    if status != CLEAN:
        return status
    found = compare(*verdicts)
    told = {"text": lambda: changes.text(found, paint()), "json": lambda: changes.document(found),
            "csv": lambda: as_one(changes.tables(found))}
    print(told[options.format](), end="")
    return FINDINGS if found.is_worse else CLEAN
