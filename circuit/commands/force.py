"""`airwright force`: push-rod force and brake torque against pressure."""

import argparse

from circuit.console import studied
from circuit.console.say import CLEAN, complain

GROUP = "ask"
HELP = "print push-rod force, brake torque and the force at the tyre against pressure"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "force", traces=False)
    file = next(action for action in parser._actions if action.dest == "file")
    file.nargs, file.required = "?", False
    parser.add_argument("--at", action="append", default=[], metavar="PRESSURE",
                        help='at this pressure, with its reckoning, as in --at "25 psi"; may be given several times')
    parser.add_argument("--piston", metavar="DIAMETER", help='no design but a round piston, as in --piston "4 in" --at "25 psi"')


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.force import account, piston_told
    from circuit.units import ATMOSPHERE, UnitMistake, to_si

    try:
        steps = tuple(to_si(text, "pressure") for text in options.at)
        diameter = to_si(options.piston, "length") if options.piston else 0.0
    except UnitMistake as mistake:
        return complain(str(mistake))
    if any(step < ATMOSPHERE for step in steps) or diameter < 0:
        return complain("a pressure above atmosphere is wanted, and a diameter that is none below nothing")
    if bool(options.file) == bool(options.piston):
        return complain('write a design, or --piston with its diameter, as in --piston "4 in" --at "25 psi"')
    if not options.piston:
        return studied.run(options, lambda circuit: account(circuit, steps))
    if not steps or options.format != "text" or options.plot:
        return complain('--piston goes with --at and words alone, as in --piston "4 in" --at "25 psi"')
    print(piston_told(diameter, [step - ATMOSPHERE for step in steps]), end="")
    return CLEAN
