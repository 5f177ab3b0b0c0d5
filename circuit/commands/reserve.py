"""`airwright reserve`: how many full applications the stored air gives."""

import argparse

from circuit.console import asking

GROUP = "ask"
HELP = "count the full applications that the stored air gives with the engine off"


def arguments(parser: argparse.ArgumentParser) -> None:
    asking.arguments(parser, "reserve")
    asking.sets(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.reserve import account

    return asking.run(options, lambda circuit: account(circuit, tuple(options.rules)))
