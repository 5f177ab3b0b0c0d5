"""What the commands that ask a simulation share: their options, and where their words, data and charts go."""

import argparse

from circuit.console.say import CLEAN, FINDINGS, UNREADABLE, Telling, complain, is_free, show_mistakes

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from typing import Any


def arguments(parser: argparse.ArgumentParser, traces: bool = True) -> None:
    """The options that every study has. traces: whether it has pressures over time to hand out."""
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air")
    parser.add_argument("--json", action="store_true", help="for other programs, in SI")
    if traces:
        parser.add_argument("--csv", metavar="X.csv", help="write every pressure over time, in bar above atmosphere")
        parser.add_argument("--balance", action="store_true", help="also say where the air went, and what is missing")
    parser.add_argument("--plot", metavar="X.svg|png", help="write a chart")
    parser.add_argument("--force", action="store_true", help="write over files that are there already")


def sets(parser: argparse.ArgumentParser) -> None:
    """The option of a study that holds its figures to limits."""
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold the figures to this set instead of the design's own; may be given several times")


def run(options: argparse.Namespace, ask: "Callable[[Any], Any]", words: "Callable[[Any], str]", name: str,
        traces: "Callable[[Any], Iterable[tuple[str, Any]]]" = lambda found: (),
        charts: "Callable[[Any], Iterable[tuple[str, Any]]]" = lambda found: (),
        met: "Callable[[Any], bool | None]" = lambda found: None) -> int:
    """Loads the design, asks, prints, writes. charts: each with the word that goes behind the name of a second file.

    met: whether what was found keeps its limits; None where there are none.
    """
    from circuit import pipeline
    from circuit.clauses import set_names
    from circuit.mistake import Unreadable
    from circuit.report import figures
    from circuit.sim import NoSuchPlace
    from circuit.studies.hands import CannotAsk

    wrong = [each for each in getattr(options, "rules", ()) if each not in set_names()]
    if wrong:
        return complain(f"no set of rules is called `{wrong[0]}`: known sets are {', '.join(set_names())}")
    target = getattr(options, "plot", None) or ""
    if target and not target.lower().endswith((".svg", ".png")):
        return complain(f"a chart is written as svg or png, not as {target}")
    table = getattr(options, "csv", None)
    if not all(is_free(path, options.force) for path in (target, table) if path):
        return UNREADABLE
    try:
        circuit = pipeline.load(options.file)
        with Telling() as tell:
            tell(f"{name}: simulating {circuit.vehicle.name}")
            found = ask(circuit)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except (CannotAsk, NoSuchPlace) as trouble:
        return complain(f"{options.file}: {trouble}")
    if not getattr(options, "balance", False):
        print(figures.document(name, circuit, found) if options.json else words(found), end="")
    else:
        from circuit.report.balance import as_data, balance

        runs = list(traces(found))
        print(figures.document(name, circuit, found, balance=as_data(runs)) if options.json else
              words(found) + balance(runs), end="")
    try:
        if table:
            _write(table, figures.csv(traces(found)).encode())
        if target:
            _draw(target, list(charts(found)))
    except (OSError, ValueError) as trouble:
        return complain(f"cannot be written: {trouble}")
    return FINDINGS if met(found) is False else CLEAN


def _write(path: str, content: bytes) -> None:
    with open(path, "wb") as file:
        file.write(content)


def _draw(target: str, charts: "list[tuple[str, Any]]") -> None:
    """Writes the charts: the first under the name given, further ones with their own word before the ending."""
    from circuit.draw.export import png
    from circuit.report.chart import svg

    stem, _, ending = target.rpartition(".")
    for number, (word, chart) in enumerate(charts):
        path = target if number == 0 else f"{stem}-{word}.{ending}"
        picture = svg(chart)
        _write(path, png(picture) if ending.lower() == "png" else picture.encode())
