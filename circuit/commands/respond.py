"""`airwright respond`: how fast the service brakes come on and let go."""

import argparse

from circuit.console import asking

GROUP = "ask"
HELP = "time application and release at every brake chamber, and what each part of the way costs"


def arguments(parser: argparse.ArgumentParser) -> None:
    asking.arguments(parser, "respond")
    asking.sets(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.respond import account

    return asking.run(options, lambda circuit: account(circuit, tuple(options.rules)))
