"""`airwright check`: hold designs to the rules."""

import argparse
import os
import sys

from circuit.console import gating
from circuit.console.say import CLEAN, Telling, complain, wants_colour
from circuit.console.studied import formats, unknown_set

GROUP = "hold"
HELP = "hold designs to the rules and say what was met, not met, not decided"
FORMATS = ("text", "short", "json", "csv", "sarif", "junit", "markdown", "annotations")
AS_IT_COMES = ("text", "short", "csv")
"""Formats of which each design's part is printed when it is there."""


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", metavar="FILE",
                        help="a design, ending in .air; a folder or a pattern for all designs in it; - for standard input")
    formats(parser, _schema, FORMATS)
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold the designs to this set instead of their own; may be given several times")
    parser.add_argument("--clauses", action="store_true",
                        help="add the coverage table: every clause with its outcome, figure, limit, margin and rule")
    parser.add_argument("--fail-on", choices=("error", "warning", "note"), metavar="SEVERITY",
                        help="exit 1 for findings of this severity or worse: error, warning as when left out, or note")
    parser.add_argument("--simulate", action="store_true",
                        help="decide also what asks for pressures over time, from simulations; predicted")
    parser.add_argument("--short", action="store_true", help="findings and counts only, without what was met")
    parser.add_argument("--only-findings", action="store_true", help="of JSON, without what was met and what is open")
    parser.add_argument("--assumed", action="store_true", help="list every typical value taken for one left out")
    parser.add_argument("--quiet", "-q", action="store_true", help="say nothing of designs without a finding that fails")
    parser.add_argument("--colour", "--color", choices=("auto", "always", "never"), default="auto", help="colour or none (auto)")
    parser.add_argument("-j", "--jobs", type=int, default=0, metavar="N", help="processes to work with (one on each core)")
    parser.add_argument("--no-cache", action="store_true", help="check unchanged designs anew")
    parser.add_argument("--fix", action="store_true", help="carry out mends that are a single edit and bring no finding")
    parser.add_argument("--watch", action="store_true", help="check again whenever a file changes, until stopped")
    gating.arguments(parser)


def _schema() -> str:
    import json

    from circuit.report.machine import schema

    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"


def run(options: argparse.Namespace) -> int:
    from circuit.console.inputs import Nothing, designs

    if wrong := unknown_set(options.rules) if options.rules else "":
        return complain(wrong)
    try:
        names = designs(options.files)
        return _watched(names, options) if options.watch else _run(names, options)
    except (Nothing, gating.misruled()) as trouble:
        return complain(str(trouble))


def _run(names: list[str], options: argparse.Namespace) -> int:
    """Checks, prints, and says in one line what came of several."""
    if options.fix:
        from circuit.console.fixing import fix

        fix(names, options)
    gated = gating.Gated(names, options)
    with gating.earlier(options.since, names) as (since, top):
        return _gated(names, options, gated, since, top)


def _gated(names: list[str], options: argparse.Namespace, gated: gating.Gated, since: str, top: str) -> int:
    """As `_run`, with the designs as they were in the folder `since`."""
    from circuit.console.checked import How
    from circuit.console.several import results

    how = How(options.format, tuple(options.rules), options.fail_on or "", options.simulate, options.short, options.assumed,
              options.clauses, options.only_findings, wants_colour(options.colour),
              os.path.abspath(options.root) if options.root else "", since, top, options.write_baseline or "")
    found, first = [], True
    with Telling() as tell:
        for result in results(names, how, gated, options.jobs, not options.no_cache and not options.since, tell):
            found.append(result)
            if _shown(result, options) and options.format in AS_IT_COMES:
                first = _print(result, first or options.format == "csv")
            else:
                _complain(result, options)
    for result in gated.gone(names, options.files):
        found.append(result)
        print(result["err"], end="", file=sys.stderr)
    _document(found, options)
    _last(found, options)
    written = gating.write_baseline(options.write_baseline, found) if options.write_baseline else CLEAN
    status: int = max((written, *(result["status"] for result in found)))
    return status


def _shown(result, options: argparse.Namespace) -> bool:  # type: ignore[no-untyped-def]
    return bool(result["status"] != CLEAN or not options.quiet)


def _print(result, first: bool) -> bool:  # type: ignore[no-untyped-def]
    """A design's part, with an empty row between two; what is wrong with its text stands before what is judged all the same.
    Returns whether the next is still the first."""
    if result["err"]:
        sys.stdout.flush()
        print(result["err"], end="", file=sys.stderr, flush=True)
    if result["told"]:
        print(("" if first and not result["err"] else "\n") + result["told"], end="")
    return first and not result["told"]


def _complain(result, options: argparse.Namespace) -> None:  # type: ignore[no-untyped-def]
    """What no format but JSON has a place for goes to the error stream too."""
    if result["err"] and options.format not in ("json", *AS_IT_COMES):
        print(result["err"], end="", file=sys.stderr)


def _document(found, options: argparse.Namespace) -> None:  # type: ignore[no-untyped-def]
    """The formats that are one document."""
    if options.format in AS_IT_COMES:
        return
    shown = [each for each in found if _shown(each, options)]
    if options.format == "json":
        from circuit.report import machine

        print(machine.joined(each["told"] for each in shown if each["told"]), end="")
    elif options.format == "markdown":
        from circuit.report.ci.markdown import document

        print(document(shown, gating.summary(found)), end="")
    else:
        from importlib import import_module

        print(import_module(f"circuit.report.ci.{options.format}").document(shown), end="")


def _last(found, options: argparse.Namespace) -> None:  # type: ignore[no-untyped-def]
    """One line on what came of several designs: for people below their words, for programs beside them."""
    if (len(found) > 1 or options.quiet) and options.format not in ("json", "csv", "markdown"):
        print(gating.summary(found), file=sys.stdout if options.format in ("text", "short") else sys.stderr)
    if options.waivers:
        for each in found:
            for row in each["rows"]:
                if row["waived"] and not row["is_outside"]:
                    print(f"waiver: {row['file']}:{row['line']}: {row['rule']} at {row['thing']}: {row['waived']}",
                          file=sys.stdout if options.format in ("text", "short") else sys.stderr)


def _watched(names: list[str], options: argparse.Namespace) -> int:
    """Checks again whenever one of the files, or one that they bring in, has changed."""
    from circuit.console.watching import changes

    status = CLEAN
    for _ in changes(names, options.root or ""):
        status = _run(names, options)
        print("watching: an interrupt ends it", file=sys.stderr, flush=True)
        sys.stdout.flush()
    return status
