"""`airwright kinds`: every kind of part and line."""

import argparse

from circuit.console.studied import formats
from circuit.console.say import CLEAN

GROUP = "write"
HELP = "list every kind of part and line by group"


def arguments(parser: argparse.ArgumentParser) -> None:
    formats(parser, _schema, ("text", "json", "page", "textmate"))


def _schema() -> str:
    from circuit.report.kinds import schema_text

    return schema_text()


def run(options: argparse.Namespace) -> int:
    from circuit.report import kinds
    from circuit.report.explain import explain
    from circuit.report.highlighting import textmate

    texts = {"text": lambda: explain("kinds"), "json": kinds.as_json, "page": kinds.reference_page, "textmate": textmate}
    print(texts[options.format](), end="")
    return CLEAN
