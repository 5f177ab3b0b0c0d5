"""`airwright reserve`: how many full applications the stored air gives."""

import argparse

from circuit.console import asking

GROUP = "ask"
HELP = "count the full applications that the stored air gives with the engine off"


def arguments(parser: argparse.ArgumentParser) -> None:
    asking.arguments(parser)
    asking.sets(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report import figures, studies
    from circuit.studies.reserve import reserve

    return asking.run(
        options, lambda circuit: reserve(circuit, tuple(options.rules)), studies.reserve, "reserve",
        lambda found: (("applications", found.trace),), lambda found: (("", figures.reserve_chart(found)),),
        lambda found: found.is_met)
