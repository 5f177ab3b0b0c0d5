"""`airwright reserve`: how many full applications the stored air gives."""

import argparse

from circuit.console import studied

GROUP = "ask"
HELP = "count the full applications that the stored air gives with the engine off"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "reserve")
    studied.sets(parser)
    studied.draws(parser)
    studied.conditions(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.reserve import account

    return studied.run(options, lambda circuit: account(circuit, tuple(options.rules)))
