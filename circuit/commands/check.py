"""`airwright check`: hold designs to the rules."""

import argparse

from circuit.console.studied import formats, unknown_set
from circuit.console.say import CLEAN, FINDINGS, UNREADABLE, Telling, complain, paint, show_mistakes

GROUP = "hold"
HELP = "hold designs to the rules and say what was met, not met, not decided"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", metavar="FILE", help="a design, ending in .air")
    formats(parser, _schema)
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold the designs to this set instead of their own; may be given several times")
    parser.add_argument("--clauses", action="store_true",
                        help="add the coverage table: every clause with its outcome, figure, limit, margin and rule")
    parser.add_argument("--fail-on", choices=("error", "warning", "note"), default="warning", metavar="SEVERITY",
                        help="exit 1 for findings of this severity or worse: error, warning as when left out, or note")
    parser.add_argument("--simulate", action="store_true",
                        help="decide also what asks for pressures over time, from simulations; predicted")
    parser.add_argument("--short", action="store_true", help="findings and counts only, without what was met")
    parser.add_argument("--assumed", action="store_true", help="list every typical value taken for one left out")


def _schema() -> str:
    from circuit.report.machine import SCHEMA

    return SCHEMA.read_text(encoding="utf-8")


def run(options: argparse.Namespace) -> int:
    from circuit.mistake import Unreadable

    if wrong := unknown_set(options.rules):
        return complain(wrong)
    status, told = CLEAN, []
    for name in options.files:
        try:
            judged = _judged(name, options)
            status = max(status, FINDINGS if judged.fails(options.fail_on) else CLEAN)
            told.append(_told(judged, options))
        except Unreadable as unreadable:
            status = UNREADABLE
            if options.format == "json":
                from circuit.report import machine

                told.append(machine.unreadable(name, unreadable.mistakes))
            else:
                show_mistakes(unreadable)
                continue
        if options.format == "text":
            print(("\n" if len(told) > 1 else "") + told[-1], end="")
    if options.format == "json":
        from circuit.report import machine

        print(machine.document(told), end="")
    elif options.format == "csv":
        print("".join(told), end="")
    return status


def _told(judged, options: argparse.Namespace):  # type: ignore[no-untyped-def]
    """A design in the format that is asked for; of JSON an entry of the document."""
    if options.format == "json":
        from circuit.report import machine

        return machine.design(judged)
    if options.format == "csv":
        from circuit.report.sheets.verdict import tables
        from circuit.report.table import as_one

        return as_one(tables(judged))
    from circuit.report import terminal

    return terminal.verdict(judged, paint(), options.assumed, options.short, options.clauses)


def _judged(name: str, options: argparse.Namespace):  # type: ignore[no-untyped-def]
    from circuit import pipeline

    if not options.simulate:
        return pipeline.check(name, tuple(options.rules))
    with Telling() as tell:
        return pipeline.check(name, tuple(options.rules), True, tell)
