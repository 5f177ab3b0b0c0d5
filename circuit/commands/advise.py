"""`airwright advise`: the cheapest change after which what a design misses is met."""

import argparse

from circuit.console import studied
from circuit.console.say import complain

GROUP = "ask"
HELP = "find the cheapest trade sizes, valves and settings after which what is missed is met"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "advise", traces=False, charts=False)
    studied.sets(parser)
    parser.add_argument("--band", action="store_true", help="ask that it is met over the whole range of what is assumed")
    parser.add_argument("--prices", metavar="X.csv", help="the shop's prices: columns item and price, as `tube 1/2 in,2.40`")


def run(options: argparse.Namespace) -> int:
    from circuit.mistake import Unreadable
    from circuit.console.say import show_mistakes

    if wrong := studied.unknown_set(options.rules):
        return complain(wrong)
    try:
        prices = _prices(options.prices) if options.prices else {}
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


def _prices(path: str) -> dict[str, float]:
    """Item to price. Raises Unreadable."""
    import csv
    import io

    from circuit.mistake import Mistake, Unreadable
    from circuit.source import Span
    from circuit.syntax.read import read

    source = read(path)
    rows = list(csv.reader(io.StringIO(source.text)))
    found: dict[str, float] = {}
    wrong = []
    if not rows or [cell.strip() for cell in rows[0]][:2] != ["item", "price"]:
        raise Unreadable((Mistake(Span(source, 1, 1), "a table of prices begins with the columns item and price",
                                  "write item,price in the first row"),))
    for line, row in enumerate(rows[1:], 2):
        try:
            found[row[0].strip()] = float(row[1])
        except (IndexError, ValueError):
            if any(cell.strip() for cell in row):
                wrong.append(Mistake(Span(source, line, 1), "this row has no price",
                                     "write a name and a bare number, as tube 1/2 in,2.40"))
    if wrong:
        raise Unreadable(tuple(wrong))
    return found
