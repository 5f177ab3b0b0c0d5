"""`airwright force`: push-rod force and torque against pressure."""

import argparse

from circuit.commands import study

GROUP = "ask"
HELP = "print push-rod force, and torque where the slack adjuster's length is written, against pressure"


def arguments(parser: argparse.ArgumentParser) -> None:
    study.arguments(parser, traces=False)


def run(options: argparse.Namespace) -> int:
    from circuit.report import figures, studies
    from circuit.studies.force import forces

    return study.run(options, forces, studies.forces, "force", charts=lambda found: (("", figures.force_chart(found)),))
