"""`airwright standards`: the sets of rules and their clauses."""

import argparse

from circuit.console.studied import unknown_set
from circuit.console.say import CLEAN, complain

GROUP = "hold"
HELP = "list the sets of rules, or the clauses of some: how each is decided, and by which rule"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("sets", nargs="*", metavar="SET", help="a set to list with all its clauses")


def run(options: argparse.Namespace) -> int:
    from circuit.report.clause_lists import standards

    if wrong := unknown_set(options.sets):
        return complain(wrong)
    print(standards(tuple(options.sets)), end="")
    return CLEAN
