"""The command `airwright`: arguments in, text and exit status out. The commands are in `circuit/commands`.

Exit status: 0 clean, 1 findings, 2 unreadable input or usage, 3 our own fault.
"""

import gc
import io
import os
import sys

from circuit.console.patient import take_over

TYPE_CHECKING = False
if TYPE_CHECKING:
    import argparse
    from collections.abc import Sequence

CLEAN, UNREADABLE, OUR_FAULT = 0, 2, 3


def main(arguments: "Sequence[str] | None" = None) -> int:
    """Run the command and return its exit status; never lets a traceback out."""
    words = list(sys.argv[1:] if arguments is None else arguments)
    if words in (["--version"], ["-V"]):
        from circuit import __version__

        print(f"airwright {__version__}")
        return CLEAN
    patient = take_over()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")  # a terminal without the letters of a name is no fault
    gc.set_threshold(100_000)  # a short run makes much and drops little: looking for garbage would take a tenth of it
    try:
        options = _parser(words).parse_args(words)
    except SystemExit as done:
        return int(done.code or CLEAN)
    try:
        status: int = options.run(options)
        sys.stdout.flush()
        if trouble := next((each.trouble for each in patient if each.trouble), ""):
            print(f"airwright: what was found could not be written: {trouble}", file=sys.stderr)
            return max(status, UNREADABLE)
        return status
    except KeyboardInterrupt:
        return 130
    except Exception as trouble:
        if os.environ.get("AIRWRIGHT_TRACEBACK"):
            raise
        print(f"airwright: this is a fault of the program, not of the design: {type(trouble).__name__}: {trouble}\n"
              "Run it again with AIRWRIGHT_TRACEBACK=1 and report what it prints; nothing can be said of the design.",
              file=sys.stderr)
        return OUR_FAULT


def _parser(words: "Sequence[str]") -> "argparse.ArgumentParser":
    """The parser of one command when the first word names one, else of the list of commands."""
    import argparse

    from circuit import commands

    wanted = words[0] if words and words[0] in commands.names() else ""
    parser = argparse.ArgumentParser(
        prog="airwright", usage=None if wanted else "airwright COMMAND ...",
        formatter_class=argparse.RawTextHelpFormatter,
        description="Check, size, explain and draw the compressed-air circuit of a heavy vehicle,\nwritten down in "
        "a small text language.",
        epilog="" if wanted else _listed() + "\n\n`airwright COMMAND --help` tells the rest of a command.\n"
        "Exit status: 0 clean, 1 findings, 2 unreadable input or usage, 3 a fault of the program.\n"
        "Everything printed is predicted from a file; it is no approval.",
    )
    parser.add_argument("--version", "-V", action="store_true", help="print the version and stop")
    subparsers = parser.add_subparsers(dest="command", metavar="COMMAND", required=True, prog="airwright",
                                       help=argparse.SUPPRESS)
    for name in (wanted,) if wanted else commands.names():
        module = commands.command(name)
        subparser = subparsers.add_parser(name, description=module.HELP)
        if wanted:
            module.arguments(subparser)
            subparser.set_defaults(run=module.run)
    return parser


def _listed() -> str:
    """Every command with what it does, by what it is for."""
    import shutil
    import textwrap

    from circuit import commands

    known = {name: commands.command(name) for name in commands.names()}
    indent = max(map(len, known)) + 4
    wide = min(118, shutil.get_terminal_size().columns - 2)
    blocks = []
    for group, title in commands.GROUPS.items():
        rows = [textwrap.fill(module.HELP, max(wide, indent + 30), initial_indent=f"  {name}".ljust(indent),
                              subsequent_indent=" " * indent, break_on_hyphens=False)
                for name, module in known.items() if group == module.GROUP]
        blocks.append("\n".join([f"{title}:", *rows]))
    return "\n\n".join(blocks)
