"""`airwright format`: one spacing and one indent for design files; comments, order and numbers stay."""

import argparse

from circuit.console.say import CLEAN, FINDINGS, complain, show_mistakes
from circuit.writing import write

GROUP = "write"
HELP = "tidy the spacing of design files; comments, order and numbers stay as written"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("files", nargs="+", metavar="FILE", help="a design, ending in .air; it is rewritten in place")
    parser.add_argument("--check", action="store_true", help="change nothing; exit 1 when a file is not tidy")
    parser.add_argument("--print", action="store_true", dest="show", help="print the tidy text instead of writing it")


def run(options: argparse.Namespace) -> int:
    from circuit.mistake import Unreadable
    from circuit.syntax.read import read
    from circuit.syntax.tidy import tidy

    status = CLEAN
    for name in options.files:
        try:
            source = read(name)
            text = tidy(source)
        except Unreadable as unreadable:
            status = show_mistakes(unreadable)
            continue
        if options.show:
            print(text, end="")
        elif text == source.text:
            continue
        elif options.check:
            print(f"{name} is not tidy")
            status = max(status, FINDINGS)
        else:
            try:
                write(name, text)
            except OSError as trouble:
                status = complain(f"{name} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
                continue
            print(f"{name} tidied")
    return status
