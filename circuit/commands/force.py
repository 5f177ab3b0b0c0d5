"""`airwright force`: push-rod force and brake torque against pressure."""

import argparse

from circuit.console import studied

GROUP = "ask"
HELP = "print push-rod force, brake torque and the force at the tyre against pressure"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "force", traces=False)


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.force import account

    return studied.run(options, account)
