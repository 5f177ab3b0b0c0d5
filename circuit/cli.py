"""The command `airwright`: arguments in, text and exit status out. Nothing is decided here.

Exit status: 0 clean, 1 findings, 2 unreadable input or usage, 3 our own fault.
"""

import gc
import io
import os
import sys

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Sequence

CLEAN, FINDINGS, UNREADABLE, OUR_FAULT = 0, 1, 2, 3


def main(arguments: "Sequence[str] | None" = None) -> int:
    """Run the command and return its exit status; never lets a traceback out."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    if words in (["--version"], ["-V"]):
        from circuit import __version__

        print(f"airwright {__version__}")
        return CLEAN
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a terminal without the letters of a name is no fault
    gc.set_threshold(100_000)  # a short run makes much and drops little: looking for garbage would take a tenth of it
    try:
        options = _parser().parse_args(words)
    except SystemExit as done:
        return int(done.code or CLEAN)
    try:
        status: int = options.run(options)
        sys.stdout.flush()
        return status
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return CLEAN
    except KeyboardInterrupt:
        return 130
    except Exception as trouble:
        if os.environ.get("AIRWRIGHT_TRACEBACK"):
            raise
        print(f"airwright: this is a fault of the program, not of the design: {type(trouble).__name__}: {trouble}\n"
              "Run it again with AIRWRIGHT_TRACEBACK=1 and report what it prints; nothing can be said of the design.",
              file=sys.stderr)
        return OUR_FAULT


def _parser() -> "argparse.ArgumentParser":
    import argparse

    parser = argparse.ArgumentParser(
        prog="airwright", description="Check, size, explain and draw the compressed-air circuit of a heavy vehicle, "
        "written down in a small text language.",
        epilog="Exit status: 0 clean, 1 findings, 2 unreadable input or usage, 3 a fault of the program. Everything "
        "printed is predicted from a file; it is no approval.",
    )
    parser.add_argument("--version", "-V", action="store_true", help="print the version and stop")
    commands = parser.add_subparsers(dest="command", metavar="COMMAND", required=True, prog="airwright")

    check = commands.add_parser("check", help="hold designs to the rules and say what was met, not met, not decided")
    check.add_argument("files", nargs="+", metavar="FILE", help="a design, ending in .air")
    check.add_argument("--format", choices=("text", "json"), default="text", help="for people, or for other programs")
    check.add_argument("--rules", action="append", default=[], metavar="SET",
                       help="hold the designs to this set instead of their own; may be given several times")
    check.add_argument("--assumed", action="store_true", help="list every typical value taken for one left out")
    check.set_defaults(run=_check)

    explain = commands.add_parser("explain", help="teach a rule, a kind of part or a clause; or list them")
    explain.add_argument("topics", nargs="+", metavar="NAME",
                         help="a rule, a kind or a clause; or one of the lists: rules, kinds, clauses")
    explain.set_defaults(run=_explain)

    draw = commands.add_parser("draw", help="draw the schematic, its findings marked where they are")
    draw.add_argument("file", metavar="FILE", help="a design, ending in .air")
    draw.add_argument("-o", "--output", required=True, metavar="X.svg|pdf|png|dot", help="the drawing to write")
    draw.add_argument("--force", action="store_true", help="write over a file that is there already")
    draw.add_argument("--plain", action="store_true", help="leave the findings out")
    draw.set_defaults(run=_draw)

    sizes = commands.add_parser("sizes", help="print the volume sheet: chambers, reservoirs, ratios, push-rod forces")
    sizes.add_argument("file", metavar="FILE", help="a design, ending in .air")
    sizes.add_argument("--at", default="90 psi", metavar="PRESSURE", help="pressure for the push-rod forces (90 psi)")
    sizes.set_defaults(run=_sizes)
    return parser


def _paint():  # type: ignore[no-untyped-def]
    from circuit.report.text import Paint

    return Paint(sys.stdout.isatty() and "NO_COLOR" not in os.environ and os.environ.get("TERM") != "dumb")


def _complain(words: str) -> int:
    print(f"airwright: {words}", file=sys.stderr)
    return UNREADABLE


def _check(options: "argparse.Namespace") -> int:
    from circuit import pipeline
    from circuit.clauses import set_names
    from circuit.mistake import Unreadable

    wrong = [name for name in options.rules if name not in set_names()]
    if wrong:
        return _complain(f"no set of rules is called `{wrong[0]}`: known sets are {', '.join(set_names())}")
    status = CLEAN
    entries = []
    for place, name in enumerate(options.files):
        try:
            judged = pipeline.check(name, tuple(options.rules))
            status = max(status, CLEAN if judged.is_clean else FINDINGS)
            if options.format == "json":
                from circuit.report import machine

                entries.append(machine.design(judged))
            else:
                from circuit.report import text

                print(("\n" if place else "") + text.verdict(judged, _paint(), options.assumed), end="")
        except Unreadable as unreadable:
            status = UNREADABLE
            if options.format == "json":
                from circuit.report import machine

                entries.append(machine.unreadable(name, unreadable.mistakes))
            else:
                _show_mistakes(unreadable)
    if options.format == "json":
        from circuit.report import machine

        print(machine.document(entries), end="")
    return status


def _show_mistakes(unreadable: Exception) -> int:
    from circuit.report import text

    print(text.mistakes(unreadable.mistakes, _paint()), end="", file=sys.stderr)  # type: ignore[attr-defined]
    return UNREADABLE


def _explain(options: "argparse.Namespace") -> int:
    from circuit.report.explain import Unknown, explain

    status = CLEAN
    for place, topic in enumerate(options.topics):
        try:
            print(("\n" if place else "") + explain(topic), end="")
        except Unknown as unknown:
            status = _complain(str(unknown))
    return status


def _draw(options: "argparse.Namespace") -> int:
    from circuit import draw, pipeline
    from circuit.mistake import Unreadable
    from circuit.report.words import count
    from circuit.rules.judge import judge

    target = options.output
    if os.path.exists(target) and not options.force:
        return _complain(f"{target} is there already: choose another name, or write --force to replace it")
    try:
        circuit = pipeline.load(options.file)
        marks = () if options.plain else pipeline.marks_of(judge(circuit))
        draw.write(circuit, target, marks)
    except Unreadable as unreadable:
        return _show_mistakes(unreadable)
    except OSError as trouble:
        return _complain(f"{target} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    except (ValueError, draw.CannotDraw) as trouble:
        return _complain(str(trouble))
    print(f"{target}: {circuit.vehicle.title}" + (f", {count(len(marks), 'finding')} marked" if marks else ""))
    return CLEAN


def _sizes(options: "argparse.Namespace") -> int:
    from circuit import pipeline
    from circuit.mistake import Unreadable
    from circuit.report.sizes import sizes
    from circuit.units import UnitMistake, to_si

    try:
        pressure = to_si(options.at, "pressure")
    except UnitMistake as mistake:
        return _complain(f"--at {mistake}")
    try:
        print(sizes(pipeline.check(options.file), pressure), end="")
    except Unreadable as unreadable:
        return _show_mistakes(unreadable)
    return CLEAN
