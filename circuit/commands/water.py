"""`airwright water`: how much water comes in with the air, and where it falls out."""

import argparse

from circuit.console import studied
from circuit.console.say import complain

GROUP = "ask"
HELP = "work out the water an hour that the compressor brings in, and where it falls out"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "water", traces=False, charts=False)
    parser.add_argument("--temperature", default="30 °C", metavar="T", help="of the surroundings (30 °C)")
    parser.add_argument("--humidity", default="60 %", metavar="SHARE", help="relative humidity (60 %%)")
    parser.add_argument("--duty", metavar="SHARE",
                        help="share of the time the compressor works (what airwright charge predicts)")


def run(options: argparse.Namespace) -> int:
    from circuit.report.studies.water import account
    from circuit.units import UnitMistake, to_si

    try:
        temperature = to_si(options.temperature, "temperature")
        humidity = to_si(options.humidity, "fraction")
        duty = None if options.duty is None else to_si(options.duty, "fraction")
    except UnitMistake as mistake:
        return complain(str(mistake))
    if not 233.15 <= temperature <= 333.15:
        return complain("the temperature of the surroundings must be between -40 and 60 °C")
    if not (0 <= humidity <= 1 and (duty is None or 0 < duty <= 1)):
        return complain("humidity and duty are shares up to 100 %")
    return studied.run(options, lambda circuit: account(circuit, temperature, humidity, duty))
