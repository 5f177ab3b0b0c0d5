"""`airwright respond`: how fast the service brakes come on and let go."""

import argparse

from circuit.console import studied

GROUP = "ask"
HELP = "time application and release at every brake chamber, and what each part of the way costs"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "respond")
    studied.sets(parser)
    studied.draws(parser)
    studied.conditions(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.respond import account

    return studied.run(options, lambda circuit: account(circuit, tuple(options.rules)))
