"""`airwright papers`: what is handed in, as one PDF for people and a CSV file for each table."""

import argparse
import os

from circuit.console.say import CLEAN, Telling, complain, say, show_mistakes
from circuit.writing import folder_refusal, write_folder

GROUP = "hand-in"
HELP = "write the papers: schematic, parts, volumes, tubes, settings, clauses, faults, test record"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air")
    parser.add_argument("-o", "--output", required=True, metavar="DIR", help="the folder to write them into")
    parser.add_argument("--sheet", choices=("A4", "A3", "Letter", "Tabloid"), default="A3",
                        help="the size of the schematic's sheets (A3)")
    parser.add_argument("--date", default="", metavar="TEXT", help="the date for the title block, which else stays blank")
    parser.add_argument("--force", action="store_true", help="replace the set of papers that is there; other files stay")


def run(options: argparse.Namespace) -> int:
    from circuit import draw, pipeline
    from circuit.mistake import Unreadable
    from circuit.report.sheets.printed import files as papers
    from circuit.report.words import count

    folder = options.output
    if os.path.exists(os.path.join(folder, "papers.pdf")) and not options.force:
        return complain(f"{folder} has papers.pdf already: choose another folder, or write --force to replace what is in it")
    if why := folder_refusal(folder):
        return complain(why)
    try:
        with Telling() as tell:
            verdict = pipeline.check(options.file, simulate=True, tell=tell)
            files = papers(verdict, options.sheet, options.date, tell)
        there = [name for name in files if os.path.exists(os.path.join(folder, name))]
        if there and not options.force:
            return complain(f"{folder} has {', '.join(there[:3])}{' and more' if len(there) > 3 else ''} already: choose "
                            "another folder, or write --force to replace them")
        gone = _before(folder) - set(files)
        write_folder(folder, files, gone)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except OSError as trouble:
        return complain(f"{folder} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    except draw.CannotDraw as trouble:
        return complain(str(trouble))
    print(f"{folder}: papers.pdf and {count(len(files) - 1, 'CSV file')}")
    if gone:
        print(f"gone with the set that was there: {', '.join(sorted(gone))}")
    if strange := sorted(name for name in os.listdir(folder) if name.endswith(".csv") and name not in files):
        say(f"{folder} holds {', '.join(strange)} too, not of this set: left as found")
    return CLEAN


def _before(folder: str) -> set[str]:
    """The CSV files in a folder that belong to the set of papers in it."""
    from circuit.report.sheets.printed import names_in

    try:
        with open(os.path.join(folder, "papers.pdf"), "rb") as file:
            known = names_in(file.read())
        return {name for name in known if os.path.isfile(os.path.join(folder, name))}
    except OSError:
        return set()
