"""`airwright sizes`: the volume sheet."""

import argparse

from circuit.console import studied
from circuit.console.say import complain

GROUP = "hand-in"
HELP = "print the volume sheet: chambers, reservoirs, ratios, push-rod forces"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "sizes", traces=False, charts=False)
    parser.add_argument("--at", default="90 psi", metavar="PRESSURE", help="pressure for the push-rod forces (90 psi)")


def run(options: argparse.Namespace) -> int:
    from circuit.pipeline import judged
    from circuit.report.studies.sizes import account
    from circuit.units import UnitMistake, to_si

    try:
        pressure = to_si(options.at, "pressure")
    except UnitMistake as mistake:
        return complain(f"--at {mistake}")
    return studied.run(options, lambda circuit: account(judged(circuit), pressure))
