"""`airwright kinds`: every kind of part and line."""

import argparse

from circuit.console.say import CLEAN

GROUP = "write"
HELP = "list every kind of part and line by group"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--format", choices=("text", "json", "page"), default="text",
                        help="for people, for other programs, or the whole reference page")


def run(options: argparse.Namespace) -> int:
    from circuit.report import kinds
    from circuit.report.explain import explain

    texts = {"text": lambda: explain("kinds"), "json": kinds.as_json, "page": kinds.reference_page}
    print(texts[options.format](), end="")
    return CLEAN
