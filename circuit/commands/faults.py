"""`airwright faults`: every single fault of a design, what it takes and what it leaves."""

import argparse

from circuit.console.studied import formats, schema
from circuit.console.say import CLEAN, complain, is_free, show_mistakes
from circuit.writing import write

GROUP = "ask"
HELP = "study every single fault: what is lost, what is left, the worst first"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air")
    parser.add_argument("--only", default="", metavar="WORD", help="only faults with a word in their name or outcome")
    parser.add_argument("--fault", metavar='"PART: FAILURE"',
                        help="the story of one fault: a stop with it, and parked; several at once: \"A: x + B: y\"")
    parser.add_argument("--hold", type=float, metavar="SECONDS", help="with --fault: how long the pedal is down (10)")
    parser.add_argument("-o", "--output", metavar="X.html",
                        help="with --fault: the story with its pictures, as .html, or as .md with two .svg beside it")
    parser.add_argument("--plot", metavar="X.svg", help="with --fault: the pressures over time")
    parser.add_argument("--draw", metavar="X.svg", help="with --fault: the schematic, coloured by the air that is left")
    parser.add_argument("--force", action="store_true", help="write over files that are there already")
    parser.add_argument("--pairs", action="store_true", help="double faults: one that no use shows, and a second")
    parser.add_argument("--times", action="store_true", help="simulate bursts and leaks: warnings, springs")
    parser.add_argument("--pedal", metavar="PRESSURE",
                        help="how much the pedal asks for, `60 psi` or `full`; with --times it is down from the start")
    parser.add_argument("--running", action="store_true", help="simulated with the engine running")
    parser.add_argument("--simulate", action="store_true", help="simulated, and held against what the graph says")
    parser.add_argument("--situations", action="store_true",
                        help="simulated with the engine off and on, full and part pedal: the worst; with --fault: each")
    formats(parser, lambda: schema("faults"))


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.draw import CannotDraw
    from circuit.mistake import Unreadable
    from circuit.report.faults.wanted import Misasked, Wanted, answered, refuse
    from circuit.studies.hands import CannotAsk

    chosen = {name: value for name in Wanted._fields if (value := getattr(options, name, None)) is not None}
    wanted = Wanted(**chosen)
    try:
        refuse(wanted)
        if not all(is_free(name, options.force) for name in wanted.targets.values()):
            return complain("nothing was written")
        given = answered(pipeline.load(options.file), wanted)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except (Misasked, CannotAsk, CannotDraw) as why:
        return complain(str(why))
    if not all(is_free(name, options.force) for name in given.files):
        return complain("nothing was written")
    print(given.text, end="")
    for name, content in given.files.items():
        try:
            write(name, content)
        except OSError as trouble:
            return complain(f"{name} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
        print(f"{name}: {given.about}, {len(content.encode()) // 1024 + 1} KB")
    return CLEAN
