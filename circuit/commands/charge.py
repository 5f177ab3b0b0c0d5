"""`airwright charge`: how fast the reservoirs fill, and how long the compressor works for it."""

import argparse

from circuit.console import asking

GROUP = "ask"
HELP = "time the filling of the reservoirs, the governor's round and the recovery after applications"


def arguments(parser: argparse.ArgumentParser) -> None:
    asking.arguments(parser)
    asking.sets(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report import figures, studies
    from circuit.studies.charge import charge

    return asking.run(
        options, lambda circuit: charge(circuit, tuple(options.rules)), studies.charge, "charge",
        lambda found: (("from empty", found.trace),), lambda found: (("", figures.charge_chart(found)),),
        lambda found: found.is_met)
