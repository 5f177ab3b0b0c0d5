"""`airwright language-server`: what an editor starts to have designs checked, completed and mended while they are written."""

import argparse

from circuit.console.say import CLEAN, complain

GROUP = "write"
HELP = "stand beside an editor, over standard input and output: problems, completion, names, mends (extra `editor`)"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--stdio", action="store_true", help="as it is anyway; some editors say so")


def run(options: argparse.Namespace) -> int:
    try:
        from circuit.editor.server import made
    except ModuleNotFoundError as missing:
        if (missing.name or "").partition(".")[0] not in ("pygls", "lsprotocol", "attrs", "cattrs"):
            raise
        return complain("the language server needs pygls: pip install 'airwright[editor]'")
    made().start_io()
    return CLEAN
