"""`airwright explain`: teach a rule, a kind or a clause."""

import argparse

from circuit.console.say import CLEAN, complain

GROUP = "hold"
HELP = "teach a rule, a question, a kind of part or a clause; or list them"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("topics", nargs="+", metavar="NAME",
                        help="a rule, a question to a simulation, a kind or a clause; or one of the lists: rules, "
                        "questions, kinds, clauses, severities")


def run(options: argparse.Namespace) -> int:
    from circuit.report.explain import Unknown, explain

    status = CLEAN
    for place, topic in enumerate(options.topics):
        try:
            print(("\n" if place else "") + explain(topic), end="")
        except Unknown as unknown:
            status = complain(str(unknown))
    return status
