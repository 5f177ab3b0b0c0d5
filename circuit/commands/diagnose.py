"""`airwright diagnose`: what explains the readings of a commissioning."""

import argparse

from circuit.console import studied
from circuit.console.say import CLEAN, FINDINGS, Telling, complain, show_mistakes

GROUP = "ask"
HELP = "weigh what was read at a commissioning: as designed, or what explains it and what to read next"


def arguments(parser: argparse.ArgumentParser) -> None:
    studied.arguments(parser, "diagnose", traces=False, charts=False)
    parser.add_argument("readings", metavar="READINGS.csv", nargs="?", help="the filled-in form, or a filled-in test record")
    parser.add_argument("--form", action="store_true", help="print the form to fill in, as CSV")
    parser.add_argument("--every", action="store_true", help="with --form: places without a gauge too")
    parser.add_argument("--as-if", metavar="FAULT", help="with --form: filled in as a vehicle with this fault would be read")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="of the scatter that --as-if draws (1)")
    parser.add_argument("--gauge-error", default="2 psi", metavar="P", help="standard deviation of a gauge (2 psi)")
    parser.add_argument("--time-error", default="0.05 s", metavar="T", help="standard deviation of a time at a chamber (0.05 s)")


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.faults.library import library
    from circuit.faults.ranking import Errors
    from circuit.mistake import Unreadable
    from circuit.studies.hands import CannotAsk
    from circuit.units import UnitMistake, to_si

    if not options.form and not options.readings:
        return complain("name the file with the readings, or ask for the form: airwright diagnose FILE --form > readings.csv")
    try:
        errors = Errors(to_si(options.gauge_error, "difference"), to_si(options.time_error, "time"))
    except UnitMistake as mistake:
        return complain(str(mistake))
    if errors.pressure <= 0 or errors.time <= 0:
        return complain("an instrument without an error is none: write --gauge-error '2 psi', --time-error '0.05 s'")
    try:
        circuit = pipeline.load(options.file)
        with Telling() as tell:
            known = library(circuit, _made_of(circuit), tell)
        return _form(options, known, errors) if options.form else _weigh(options, known, errors)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except CannotAsk as trouble:
        return complain(f"{options.file}: {trouble}")


def _made_of(circuit) -> str:  # type: ignore[no-untyped-def]
    """All that a library depends on: the program, and every text of the design."""
    from circuit.console.keeping import program

    return repr((program(), [source.text for source in circuit.files]))


def _form(options: argparse.Namespace, known, errors) -> int:  # type: ignore[no-untyped-def]
    from circuit.faults.diagnosis import as_if
    from circuit.report.studies.diagnose import form
    from circuit.report.table import as_csv

    values = as_if(known, options.as_if, options.seed, errors) if options.as_if else None
    print(as_csv(form(known, options.every, values)), end="")
    return CLEAN


def _weigh(options: argparse.Namespace, known, errors) -> int:  # type: ignore[no-untyped-def]
    from circuit.faults.diagnosis import diagnosis
    from circuit.faults.measured import measured
    from circuit.report.account import FORMATS
    from circuit.report.studies.diagnose import account
    from circuit.syntax.read import read

    given = measured(read(options.readings), known.commission.readings)
    found = diagnosis(known, given.values, errors)
    print(FORMATS[options.format](account(known, found, given.unweighed), False), end="")
    return CLEAN if found.as_designed else FINDINGS
