"""`airwright check`: hold designs to the rules."""

import argparse

from circuit.console.say import CLEAN, FINDINGS, UNREADABLE, Telling, complain, paint, show_mistakes

GROUP = "hold"
HELP = "hold designs to the rules and say what was met, not met, not decided"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", metavar="FILE", help="a design, ending in .air")
    parser.add_argument("--format", choices=("text", "json"), default="text", help="for people, or for other programs")
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold the designs to this set instead of their own; may be given several times")
    parser.add_argument("--clauses", action="store_true",
                        help="add the coverage table: every clause with its outcome, figure, limit, margin and rule")
    parser.add_argument("--fail-on", choices=("error", "warning"), default="warning", metavar="SEVERITY",
                        help="exit 1 for findings of this severity or worse: error, or warning as when left out")
    parser.add_argument("--simulate", action="store_true",
                        help="decide also what asks for pressures over time, from simulations; predicted")
    parser.add_argument("--short", action="store_true", help="findings and counts only, without what was met")
    parser.add_argument("--assumed", action="store_true", help="list every typical value taken for one left out")


def run(options: argparse.Namespace) -> int:
    from circuit.clauses import set_names
    from circuit.mistake import Unreadable

    wrong = [name for name in options.rules if name not in set_names()]
    if wrong:
        return complain(f"no set of rules is called `{wrong[0]}`: known sets are {', '.join(set_names())}")
    status = CLEAN
    entries = []
    for place, name in enumerate(options.files):
        try:
            judged = _judged(name, options)
            status = max(status, FINDINGS if judged.fails(options.fail_on) else CLEAN)
            if options.format == "json":
                from circuit.report import machine

                entries.append(machine.design(judged))
            else:
                from circuit.report import terminal

                print(("\n" if place else "") + terminal.verdict(judged, paint(), options.assumed, options.short,
                                                             options.clauses), end="")
        except Unreadable as unreadable:
            status = UNREADABLE
            if options.format == "json":
                from circuit.report import machine

                entries.append(machine.unreadable(name, unreadable.mistakes))
            else:
                show_mistakes(unreadable)
    if options.format == "json":
        from circuit.report import machine

        print(machine.document(entries), end="")
    return status


def _judged(name: str, options: argparse.Namespace):  # type: ignore[no-untyped-def]
    from circuit import pipeline

    if not options.simulate:
        return pipeline.check(name, tuple(options.rules))
    with Telling() as tell:
        return pipeline.check(name, tuple(options.rules), True, tell)
