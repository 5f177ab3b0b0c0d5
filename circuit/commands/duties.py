"""`airwright duties`: what each place of a vehicle has to do in each state, and whether it does."""

import argparse

from circuit.console import studied

GROUP = "ask"
HELP = "print what each chamber, head, valve, reservoir and user has to do, and whether it does"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "duties", traces=False, charts=False)


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.duties import account

    return studied.run(options, account)
