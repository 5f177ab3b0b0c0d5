"""`airwright charge`: how fast the reservoirs fill, and how long the compressor works for it."""

import argparse

from circuit.console import studied

GROUP = "ask"
HELP = "time the filling of the reservoirs, the governor's round and the recovery after applications"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "charge")
    studied.sets(parser)
    studied.draws(parser)
    studied.conditions(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.charge import account

    return studied.run(options, lambda circuit: account(circuit, tuple(options.rules)))
