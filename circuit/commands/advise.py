"""`airwright advise`: the cheapest change after which what a design misses is met."""

import argparse

from circuit.console import studied
from circuit.console.say import complain, show_mistakes

GROUP = "ask"
HELP = "find the cheapest trade sizes, valves and settings after which what is missed is met"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "advise", traces=False, charts=False)
    studied.sets(parser)
    parser.add_argument("--band", action="store_true", help="ask that it is met over the whole range of what is assumed")
    parser.add_argument("--prices", metavar="X.csv", help="the shop's prices: columns item and price, as `tube 1/2 in,2.40`")


def run(options: argparse.Namespace) -> int:
    from circuit.console.shop_lists import prices as price_list
    from circuit.mistake import Unreadable

    if wrong := studied.unknown_set(options.rules):
        return complain(wrong)
    try:
        prices = price_list(options.prices) if options.prices else {}
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    return studied.run(options, lambda circuit: _advice(circuit, options, prices))


def _advice(circuit, options: argparse.Namespace, prices: dict[str, float]):  # type: ignore[no-untyped-def]
    from functools import partial

    from circuit.console.say import say
    from circuit.pipeline import judged, load_source
    from circuit.report.studies.advise import account
    from circuit.source import Source
    from circuit.verdict.advice import advise

    source, whole = circuit.source, partial(judged, rule_sets=tuple(options.rules), simulate=True)

    def build(rows):  # type: ignore[no-untyped-def]
        return load_source(Source(source.name, "\n".join((source.text.rstrip("\n"), *rows, ""))))

    if circuit.is_combination:
        from circuit.studies.hands import CannotAsk

        raise CannotAsk("advice is for one vehicle: ask it of each vehicle's own file")
    return account(advise(whole(circuit), build, whole, prices, options.band, lambda words: say(f"{words} ...")), prices)

