"""`airwright order`: what a shop orders and cuts."""

import argparse

from circuit.console import studied
from circuit.console.say import show_mistakes

GROUP = "hand-in"
HELP = "list what is ordered and cut: parts grouped, a fitting at every line end, cuts, clips, plugs"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "order", traces=False, charts=False)
    parser.add_argument("--added", action="store_true", help="only what this file adds to its base, or changes")
    parser.add_argument("--prices", metavar="X.csv", help="the shop's prices: columns item and price, as `tube 1/2 in,2.40`")
    parser.add_argument("--threads", metavar="X.csv",
                        help="the shop's threads: columns at and thread, as `rear-relay.4,M16x1.5` or `3/8 in,3/8 NPTF`")


def run(options: argparse.Namespace) -> int:
    from circuit.console.shop_lists import prices, threads
    from circuit.mistake import Unreadable
    from circuit.report.studies.order import account

    try:
        costs = prices(options.prices) if options.prices else None
        ports = threads(options.threads) if options.threads else None
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    return studied.run(options, lambda circuit: account(circuit, costs, ports, options.added))
