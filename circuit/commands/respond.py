"""`airwright respond`: how fast the service brakes come on and let go."""

import argparse

from circuit.console import asking

GROUP = "ask"
HELP = "time application and release at every brake chamber, and what each part of the way costs"


def arguments(parser: argparse.ArgumentParser) -> None:
    asking.arguments(parser)
    asking.sets(parser)


def run(options: argparse.Namespace) -> int:
    from circuit.report import figures, studies
    from circuit.studies.respond import respond

    return asking.run(
        options, lambda circuit: respond(circuit, tuple(options.rules)), studies.response, "respond",
        lambda found: zip(("application", "release"), found.traces),
        lambda found: [("application", figures.response_chart(found))]
        + ([("release", figures.response_chart(found, True))] if found.released else []),
        lambda found: found.is_met)
