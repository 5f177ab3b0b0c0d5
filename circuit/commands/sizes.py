"""`airwright sizes`: the volume sheet."""

import argparse

from circuit.console.say import CLEAN, complain, show_mistakes

GROUP = "hand-in"
HELP = "print the volume sheet: chambers, reservoirs, ratios, push-rod forces"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air")
    parser.add_argument("--at", default="90 psi", metavar="PRESSURE", help="pressure for the push-rod forces (90 psi)")


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.mistake import Unreadable
    from circuit.report.sizes import sizes
    from circuit.units import UnitMistake, to_si

    try:
        pressure = to_si(options.at, "pressure")
    except UnitMistake as mistake:
        return complain(f"--at {mistake}")
    try:
        print(sizes(pipeline.check(options.file), pressure), end="")
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    return CLEAN
