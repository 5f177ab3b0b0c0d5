"""`airwright run`: play the trials of a design and hold what happens to what they expect."""

import argparse

from circuit.console import studied

GROUP = "ask"
HELP = "run the trials of a design: each expectation met or not, with its figure"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "trials")


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.trials import account

    return studied.run(options, account)
