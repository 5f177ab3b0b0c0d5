"""`airwright draw`: the schematic of a design."""

import argparse
import os

from circuit.commands.say import CLEAN, complain, is_free, say, show_mistakes

GROUP = "hand-in"
HELP = "draw the schematic, its findings marked where they are"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air; or the name of a kind, for its symbol")
    parser.add_argument("-o", "--output", required=True, metavar="X.svg|pdf|png|dot", help="the drawing to write")
    parser.add_argument("--force", action="store_true", help="write over a file that is there already")
    parser.add_argument("--plain", action="store_true", help="leave the findings out")
    parser.add_argument("--sheet", choices=("A4", "A3", "Letter", "Tabloid"),
                        help="sheets of this size, with frame, title block and legend: all in one .pdf, or each as .svg or "
                        ".png")
    parser.add_argument("--date", default="", metavar="TEXT", help="the date for the title block, which else stays blank")
    parser.add_argument("--state", choices=("parked", "driving", "braking", "released"),
                        help="colour the lines by the pressure predicted for this state, with values")


def run(options: argparse.Namespace) -> int:
    from circuit import draw, pipeline
    from circuit.draw import engine
    from circuit.mistake import Unreadable
    from circuit.report.words import count

    target = options.output
    if options.sheet and not target.lower().endswith((".pdf", ".svg", ".png")):
        return complain(f"sheets are written as .pdf, .svg or .png, not as `{target}`")
    if options.state and target.lower().endswith((".dot", ".gv")):
        return complain("a text for a layout engine has no pressures: write --state with svg, pdf or png")
    if not is_free(target, options.force):
        return complain("nothing was drawn")
    try:
        shown = None if os.path.exists(options.file) else pipeline.specimen(options.file)
        circuit = shown or pipeline.load(options.file)
        judged = pipeline.judged(circuit)
        marks = () if options.plain or shown else pipeline.marks_of(judged)
        if options.sheet:
            files = pipeline.sheets(judged, target, options.sheet, marks, options.state, options.date)
            if not all(is_free(path, options.force) for path in files):
                return complain("nothing was drawn")
            for path, content in files.items():
                with open(path, "wb") as out:
                    out.write(content)
            target = ", ".join(files)
        else:
            draw.write(circuit, target, marks, pipeline.reading_of(judged, options.state))
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
