"""`airwright leak-down`: what happens, in which order, while the stored air leaks away."""

import argparse

from circuit.console import studied
from circuit.console.say import complain

GROUP = "ask"
HELP = "play the stored air leaking away: warnings, knobs, springs as a time line"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "leak_down")
    studied.draws(parser)
    studied.conditions(parser)
    parser.add_argument("--rate", default="3 psi/min", metavar="RATE",
                        help="how fast each leaking reservoir falls at first (3 psi/min)")
    parser.add_argument("--at", action="append", default=[], metavar="PLACE",
                        help="what leaks instead of every brake reservoir; may be given several times")


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.leak_down import account
    from circuit.units import UnitMistake, to_si

    try:
        rate = to_si(options.rate, "rate")
    except UnitMistake as mistake:
        return complain(f"--rate {mistake}")
    if rate <= 0:
        return complain("--rate must be more than nothing")
    return studied.run(options, lambda circuit: account(circuit, rate, tuple(options.at)))
