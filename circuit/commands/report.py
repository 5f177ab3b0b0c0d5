"""`airwright report`: the verdict and the schematic as one page for a browser."""

import argparse

from circuit.console.say import CLEAN, Telling, complain, is_free, show_mistakes
from circuit.writing import write

GROUP = "hand-in"
HELP = "write one self-contained HTML page: a board that plays, findings, clauses, volume sheet"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air")
    parser.add_argument("-o", "--output", required=True, metavar="X.html", help="the page to write")
    parser.add_argument("--force", action="store_true", help="write over a file that is there already")
    parser.add_argument("--still", action="store_true", help="leave the board and what simulations say out")
    parser.add_argument("--open", action="store_true", help="show the page in the browser of this computer")


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.draw import CannotDraw
    from circuit.mistake import Unreadable
    from circuit.report.marked import marks_of
    from circuit.report.page import page

    target = options.output
    if not target.lower().endswith((".html", ".htm")):
        return complain(f"a report is written as .html, not as `{target}`")
    if not is_free(target, options.force):
        return complain("nothing was written")
    try:
        with Telling() as tell:
            tell("checking the design" if options.still else "checking the design, with simulations")
            judged = pipeline.check(options.file, simulate=not options.still)
            text = page(judged, marks_of(judged), playing=not options.still, say=tell)
        write(target, text)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except CannotDraw as trouble:
        return complain(str(trouble))
    except OSError as trouble:
        return complain(f"{target} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    print(f"{target}: {judged.circuit.vehicle.title}, {len(text.encode()) // 1024} KB")
    if options.open:
        import webbrowser
        from pathlib import Path

        if not webbrowser.open(Path(target).resolve().as_uri()):
            return complain(f"no browser was found: open {target} by hand")
    return CLEAN
