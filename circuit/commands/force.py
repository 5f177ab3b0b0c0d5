"""`airwright force`: push-rod force and brake torque against pressure."""

import argparse

from circuit.console import asking

GROUP = "ask"
HELP = "print push-rod force, brake torque and the force at the tyre against pressure"


def arguments(parser: argparse.ArgumentParser) -> None:
    asking.arguments(parser, traces=False)


def run(options: argparse.Namespace) -> int:
    from circuit.report import figures, studies
    from circuit.studies.force import forces

    return asking.run(
        options, forces, studies.forces, "force",
        charts=lambda found: [("force", figures.force_chart(found))]
        + ([("torque", figures.force_chart(found, True))] if any(each.torques for each in found.chambers) else []))
