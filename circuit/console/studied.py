"""What the commands that ask a question share: their options, and where their words, data and charts go."""

import argparse
import re

from circuit.console.say import CLEAN, FINDINGS, UNREADABLE, Telling, complain, is_free, show_mistakes
from circuit.writing import write

TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import Any

    from circuit.model.circuit import Circuit
    from circuit.model.conditions import Conditions
    from circuit.report.account import Account
    from circuit.report.chart import Chart

FORMATS = ("text", "json", "csv")
"""For people, for other programs, for a spreadsheet."""
SYSTEMS = {"both": "both", "psi": "imperial", "bar": "metric", "design": ""}
"""Units that people are shown; of `design` the system in which the file writes its first pressure."""
LEAST_RUNS, MOST_RUNS = 20, 100_000
"""Of plausible vehicles, but for one alone: fewer say nothing of one in twenty; more take hours."""


def formats(parser: argparse.ArgumentParser, schema: "Callable[[], str] | None" = None, choices: "Sequence[str]" = FORMATS
            ) -> None:
    """`--format`, the same for every command that has more than words. schema: makes the JSON's."""
    words = {"text": "for people", "json": "for other programs", "csv": "tables for a spreadsheet", "page": "a whole page",
             "short": "findings and counts", "sarif": "for code hosts", "junit": "for test runners",
             "markdown": "for a pull request", "annotations": "for the log of a code host", "textmate": "a grammar for editors"}
    parser.add_argument("--format", choices=tuple(choices), default="text",
                        help=", ".join(f"{name}: {words[name]}" for name in choices))
    for old in ("json", "csv"):
        parser.add_argument(f"--{old}", action=_Renamed, nargs="?", help=argparse.SUPPRESS)
    if schema is not None:
        parser.add_argument("--schema", action=_Schema, nargs=0, const=schema,
                            help="print the JSON schema that --format json keeps to, and stop")


class _Renamed(argparse.Action):
    """An option that is spelled otherwise now."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        word = self.dest
        traces = word == "csv" and any(action.dest == "pressures" for action in parser._actions)
        parser.error(f"--{word} is spelled --format {word} now" + (
            ", for the tables; every pressure over time goes to a file by --pressures X.csv" if traces else ""))


class _Schema(argparse.Action):
    """Prints a schema instead of doing anything else."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        print(self.const(), end="")
        parser.exit(CLEAN)


def arguments(parser: argparse.ArgumentParser, study: str, traces: bool = True, charts: bool = True) -> None:
    """The options that every study has. study: its file in report/studies. traces: whether it has pressures over time."""
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air")
    formats(parser, lambda: schema(study))
    parser.add_argument("--units", choices=tuple(SYSTEMS), default="both",
                        help="of what is printed: psi or bar, with inches or metres; design: as the file itself; both is usual")
    if traces:
        parser.add_argument("--pressures", metavar="X.csv", help="write every pressure over time, in bar above atmosphere")
        parser.add_argument("--balance", action="store_true", help="also say where the air went, and what is missing")
    if charts:
        parser.add_argument("--plot", metavar="X.svg|png", help="write a chart")
        parser.add_argument("--force", action="store_true", help="write over files that are there already")


def schema(study: str) -> str:
    """Of the JSON of a study, by its file in report/studies."""
    from importlib import import_module

    from circuit.report.data import schema_text

    module = import_module(f"circuit.report.studies.{study}")
    return schema_text(module.KEY, module.RECORD)


def sets(parser: argparse.ArgumentParser) -> None:
    """The option of a study that holds its figures to limits."""
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold the figures to this set instead of the design's own; may be given several times")


def draws(parser: argparse.ArgumentParser) -> None:
    """The options of a study that plays plausible vehicles."""
    parser.add_argument("--runs", type=int, default=None, metavar="N",
                        help="how many plausible vehicles are drawn from the ranges of what is not written (200); 1: "
                             "as assumed alone")
    parser.add_argument("--seed", type=int, default=None, metavar="N",
                        help="draw others; the same seed draws the same ones again (1)")


def conditions(parser: argparse.ArgumentParser) -> None:
    """The options of a study that plays under conditions; each as the setting of `vehicle`."""
    from circuit.model.conditions import CONDITIONS

    for each in CONDITIONS:
        parser.add_argument(f"--{each.name}", metavar="VALUE", choices=each.choices or None,
                            help=each.says.replace("%", "%%"))


def asked_conditions(options: argparse.Namespace) -> "Conditions | None":
    """The conditions that were asked for, or None. Raises UnitMistake."""
    from circuit.model.conditions import CONDITIONS, conditions
    from circuit.units import UnitMistake, to_si

    values: dict[str, Any] = {}
    for each in CONDITIONS:
        given = getattr(options, each.name.replace("-", "_"), None)
        values[each.name] = given if given is None or each.choices else to_si(given, each.dimension)
        if given is not None and each.within is not None:
            least, most = each.within
            if not to_si(least, each.dimension) <= values[each.name] <= to_si(most, each.dimension):
                raise UnitMistake(f"--{each.name} takes {least} to {most}, not {given}")
    return conditions(values) if any(value is not None for value in values.values()) else None


def _under(circuit: "Circuit", asked: "Conditions | None") -> "Circuit":
    """What an option says, and where none does what the design says."""
    from circuit.model.conditions import Conditions, under

    if asked is None:
        return circuit
    said, usual = circuit.vehicle.conditions, Conditions()
    own = {name: getattr(asked, name) if getattr(asked, name) != getattr(usual, name) else getattr(said, name)
           for name in Conditions._fields}
    found: Circuit = under(circuit, Conditions(**own))
    return found


def drawn(circuit: "Circuit", options: argparse.Namespace) -> "Circuit":
    """The circuit with the draws that were asked for."""
    from dataclasses import replace

    runs, seed = getattr(options, "runs", None), getattr(options, "seed", None)
    more = {name: value for name, value in (("runs", runs), ("seed", seed)) if value is not None}
    if runs is not None:
        more["slow"] = runs
    return replace(circuit, draws=circuit.draws._replace(**more)) if more else circuit


def wrong_draws(options: argparse.Namespace) -> str:
    """What is wrong with the draws that were asked for, or nothing."""
    runs, seed = getattr(options, "runs", None), getattr(options, "seed", None)
    if runs is not None and runs != 1 and not LEAST_RUNS <= runs <= MOST_RUNS:
        return f"--runs takes a number from {LEAST_RUNS} to {MOST_RUNS}, or 1 for the vehicle as assumed alone, not {runs}"
    return "--seed takes a number from 0 on" if seed is not None and seed < 0 else ""


def unknown_set(names: "Sequence[str]") -> str:
    """What is wrong with the names of rule sets, or nothing."""
    from circuit.clauses import set_names

    wrong = [name for name in names if name not in set_names()]
    return f"no set of rules is called `{wrong[0]}`: known sets are {', '.join(set_names())}" if wrong else ""


def run(options: argparse.Namespace, ask: "Callable[[Circuit], Account]") -> int:
    """Loads the design, asks, prints, writes; in the units that are asked for, and as before afterwards."""
    from circuit.units import show_in

    try:
        return _run(options, ask)
    finally:
        show_in("both")


def system_of(circuit: "Circuit", wish: str) -> str:
    """The system of units of a wish: of `design` that of the first pressure in its own file, or in what it brings in."""
    if SYSTEMS[wish]:
        return SYSTEMS[wish]
    for source in circuit.files:
        first = re.search(r"\d\s*(psi|bar)\b", source.text)
        if first:
            return SYSTEMS[first[1]]
    return "both"


def _run(options: argparse.Namespace, ask: "Callable[[Circuit], Account]") -> int:
    from circuit import pipeline
    from circuit.mistake import Unreadable
    from circuit.report.account import FORMATS
    from circuit.report.traces import csv
    from circuit.sim import NoSuchPlace
    from circuit.studies.hands import CannotAsk
    from circuit.units import UnitMistake, show_in

    if wrong := unknown_set(getattr(options, "rules", ())) or wrong_draws(options):
        return complain(wrong)
    chart, pressures = (getattr(options, name, None) or "" for name in ("plot", "pressures"))
    if chart and not chart.lower().endswith((".svg", ".png")):
        return complain(f"a chart is written as svg or png, not as {chart}")
    if not all(is_free(path, options.force) for path in (chart, pressures) if path):
        return UNREADABLE
    try:
        asked = asked_conditions(options)
    except UnitMistake as mistake:
        return complain(str(mistake))
    try:
        circuit = _under(drawn(pipeline.load(options.file), options), asked)
        show_in(system_of(circuit, getattr(options, "units", "both")))
        with Telling() as tell:
            tell(f"{options.command}: working on {circuit.vehicle.name}")
            found = ask(circuit)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except (CannotAsk, NoSuchPlace) as trouble:
        return complain(f"{options.file}: {trouble}")
    print(FORMATS[options.format](found, getattr(options, "balance", False)), end="")
    try:
        if pressures:
            write(pressures, csv(found.traces).encode())
        if chart:
            _draw(chart, list(found.charts()))
    except (OSError, ValueError) as trouble:
        return complain(f"cannot be written: {trouble}")
    return FINDINGS if found.is_met is False else CLEAN


def _draw(target: str, charts: "list[tuple[str, Chart]]") -> None:
    """Writes the charts: the first under the name given, further ones with their own word before the ending."""
    from circuit.draw.export import png
    from circuit.report.chart import svg

    stem, _, ending = target.rpartition(".")
    for number, (word, chart) in enumerate(charts):
        path = target if number == 0 else f"{stem}-{word}.{ending}"
        picture = svg(chart)
        write(path, png(picture) if ending.lower() == "png" else picture.encode())
