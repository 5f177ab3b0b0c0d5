"""`airwright respond`: how fast the service brakes come on and let go."""

import argparse

from circuit.console import asking
from circuit.console.say import CLEAN, FINDINGS

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
        lambda found: FINDINGS if any(t.is_met is False for t in (*found.applied, *found.released)) or (
            found.balance is not None and not found.balance.is_met) else CLEAN)
