"""`airwright standards`: the sets of rules and their clauses."""

import argparse

from circuit.console.say import CLEAN, complain

GROUP = "hold"
HELP = "list the sets of rules, or the clauses of some: how each is decided, and by which rule"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("sets", nargs="*", metavar="SET", help="a set to list with all its clauses")


def run(options: argparse.Namespace) -> int:
    from circuit.clauses import set_names
    from circuit.report.clause_lists import standards

    wrong = [name for name in options.sets if name not in set_names()]
    if wrong:
        return complain(f"no set of rules is called `{wrong[0]}`: known sets are {', '.join(set_names())}")
    print(standards(tuple(options.sets)), end="")
    return CLEAN
