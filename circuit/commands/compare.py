"""`airwright compare`: what changed between two versions of a design."""

import argparse

from circuit.console.say import CLEAN, FINDINGS, paint, show_mistakes

GROUP = "hold"
HELP = "say what changed from one version of a design to another, and what is met no more"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("old", metavar="OLD", help="the design as it was")
    parser.add_argument("new", metavar="NEW", help="the design as it is; exit 1 when it has a finding more")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="for people, or for other programs")
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold both designs to this set instead of their own; may be given several times")


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.clauses import set_names
    from circuit.console.say import complain
    from circuit.mistake import Unreadable
    from circuit.report import changes
    from circuit.report.compare import compare

    wrong = [name for name in options.rules if name not in set_names()]
    if wrong:
        return complain(f"no set of rules is called `{wrong[0]}`: known sets are {', '.join(set_names())}")
    verdicts, status = [], CLEAN
    for name in (options.old, options.new):
        try:
            verdicts.append(pipeline.check(name, tuple(options.rules)))
        except Unreadable as unreadable:
            status = show_mistakes(unreadable)
    if status != CLEAN:
        return status
    found = compare(*verdicts)
    print(changes.document(found) if options.format == "json" else changes.text(found, paint()), end="")
    return FINDINGS if found.is_worse else CLEAN
