"""`airwright draw`: the schematic of a design."""

import argparse
import os

from circuit.console.say import CLEAN, complain, is_free, say, show_mistakes
from circuit.writing import write

GROUP = "hand-in"
MOST_SEARCH = 1000
"""Hours, for a large circuit."""
HELP = "draw the schematic, its findings marked where they are"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air; or the name of a kind, for its symbol")
    parser.add_argument("-o", "--output", required=True, metavar="X.svg|pdf|png|dxf|dot", help="the drawing to write")
    parser.add_argument("--force", action="store_true", help="write over a file that is there already")
    parser.add_argument("--plain", action="store_true", help="leave the findings out")
    parser.add_argument("--sheet", choices=("A4", "A3", "Letter", "Tabloid"),
                        help="sheets of this size, with frame, title block and legend: all in one .pdf, or each as .svg or "
                        ".png")
    parser.add_argument("--date", default="", metavar="TEXT", help="the date for the title block, which else stays blank")
    parser.add_argument("--state", choices=("parked", "driving", "braking", "released"),
                        help="colour the lines by the pressure predicted for this state, with values")
    parser.add_argument("--trial", metavar="NAME", help="colour them by the pressures of a trial of the design instead")
    parser.add_argument("--at", metavar="TIME", help="at this time of the trial, as in --at '1.2 s'")
    parser.add_argument("--search", type=int, default=1, metavar="N",
                        help="look N times as long for an order with few crossings; the same N gives the same drawing")
    parser.add_argument("--earlier", action="append", default=[], metavar="NAME=FILE",
                        help="with --sheet, an earlier version for the table of revisions, oldest first; may be given "
                        "several times")


def run(options: argparse.Namespace) -> int:
    from circuit import draw, kinds, pipeline
    from circuit.draw import engine
    from circuit.mistake import Unreadable
    from circuit.report.marked import marks_of
    from circuit.report.sheets.schematic import schematic
    from circuit.report.situations import reading_of
    from circuit.report.specimen import specimen
    from circuit.sealing import is_sealed
    from circuit.report.words import count
    from circuit.units import to_si

    target = options.output
    if options.sheet and not target.lower().endswith((".pdf", ".svg", ".png")):
        return complain(f"sheets are written as .pdf, .svg or .png, not as `{target}`")
    wrong = _wrong(options)
    if wrong:
        return complain(wrong)
    if (options.state or options.trial) and target.lower().endswith((".dot", ".gv")):
        return complain("a text for a layout engine has no pressures: write --state and --trial with svg, pdf or png")
    if not is_free(target, options.force):
        return complain("nothing was drawn")
    try:
        shown = None if os.path.exists(options.file) else specimen(options.file)
        if shown and not (options.sheet or options.state or options.trial):
            kind = kinds.find(options.file)
            assert kind is not None
            draw.write_symbol(kind, target)
            print(f"{target}: {kind.title}, its symbol and ports")
            return CLEAN
        circuit = pipeline.load_source(shown) if shown else pipeline.load(options.file)
        judged = pipeline.judged(circuit)
        marks = () if options.plain or shown or is_sealed(circuit.source) else marks_of(judged)
        at = to_si(options.at, "time") if options.trial else 0.0
        reading = reading_of(circuit, judged.evidence, options.state, options.trial, at)
        if options.sheet:
            files = schematic(judged, target, options.sheet, marks, reading, options.date, options.search,
                              tuple((name, pipeline.check(path)) for name, path in _earlier(options)))
            if not all(is_free(path, options.force) for path in files):
                return complain("nothing was drawn")
            for path, content in files.items():
                write(path, content)
            target = ", ".join(files)
        else:
            draw.write(circuit, target, marks, reading, options.search)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except OSError as trouble:
        return complain(f"{target} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    except (ValueError, draw.CannotDraw) as trouble:
        return complain(str(trouble))
    if not options.output.lower().endswith((".dot", ".gv")) and not engine.runs():
        say("no layout engine runs here, so the order of the parts is a plainer one: pip install graphviz-pure, or put "
            "Graphviz's dot on the path")
    print(f"{target}: {circuit.vehicle.title}" + (f", {count(len(marks), 'finding')} marked" if marks else ""))
    return CLEAN


def _earlier(options: argparse.Namespace) -> list[tuple[str, str]]:
    """The earlier versions that were named, each with its file."""
    return [(name.strip(), path) for name, _, path in (each.partition("=") for each in options.earlier)]


def _wrong(options: argparse.Namespace) -> str:
    """What is wrong with the moment or the search that was asked for, or nothing."""
    if options.state and options.trial:
        return "--state and --trial ask for different pressures: write one of them"
    if bool(options.trial) != bool(options.at):
        return "--trial and --at go together, as in --trial application --at '1.2 s'"
    if not 1 <= options.search <= MOST_SEARCH:
        return f"--search is a whole number from 1 to {MOST_SEARCH}, not {options.search}"
    for name, path in _earlier(options):
        if not name or not path:
            return "--earlier names a version and its file, as in --earlier A=design-a.air"
    if options.earlier and not options.sheet:
        return "--earlier fills the table of revisions of a sheet: write --sheet A3 with it"
    return ""
