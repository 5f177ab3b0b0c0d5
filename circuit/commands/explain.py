"""`airwright explain`: teach a rule, a kind or a clause."""

import argparse

from circuit.console.say import CLEAN, complain

GROUP = "hold"
HELP = "teach a word of the trade, a kind of part, a rule, a question or a clause; alone, list them"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("topics", nargs="*", metavar="NAME",
                        help="a word of the trade, a kind, a rule, a question to a simulation or a clause; or one of the "
                        "lists: words, kinds, rules, questions, clauses, severities")


def run(options: argparse.Namespace) -> int:
    from circuit import glossary
    from circuit.report.explain import Unknown, explain

    status = CLEAN
    if not options.topics or glossary.find(" ".join(options.topics)) is not None:  # `explain slack adjuster` is one word
        options.topics = [" ".join(options.topics)]
    for place, topic in enumerate(options.topics):
        try:
            print(("\n" if place else "") + explain(topic), end="")
        except Unknown as unknown:
            status = complain(str(unknown))
    return status
