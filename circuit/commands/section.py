"""`airwright section`: a part cut open, in a state."""

import argparse
import os

from circuit.console.say import CLEAN, complain, is_free, show_mistakes

GROUP = "write"
HELP = "a part cut open: which seat is open, where the air goes and why; of a kind, or of a part of a design"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", metavar="KIND|FILE", help="a kind that has a section (`kinds` lists them); or a design")
    parser.add_argument("part", nargs="?", default="", help="the part of the design")
    parser.add_argument("--state", default="", metavar="STATE",
                        help="of a kind: one of the states that it names without this option; of a design: parked, driving, "
                        "braking or released")
    parser.add_argument("--trial", metavar="NAME", help="of a design, the pressures of a trial instead")
    parser.add_argument("--at", metavar="TIME", help="at this time of the trial, as in --at '1.2 s'")
    parser.add_argument("-o", "--output", default="", metavar="X.svg|png", help="the picture to write, else a sentence")
    parser.add_argument("--dark", action="store_true", help="for a dark screen")
    parser.add_argument("--force", action="store_true", help="write over a file that is there already")


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.mistake import Unreadable
    from circuit.report.inside.asked import NoSection, of_design, of_kind
    from circuit.units import to_si

    if bool(options.trial) != bool(options.at):
        return complain("--trial and --at go together, as in --trial application --at '1.2 s'")
    try:
        if os.path.exists(options.what):
            at = to_si(options.at, "time") if options.trial else 0.0
            found = of_design(pipeline.load(options.what), options.part, options.state, options.trial, at)
        else:
            found = of_kind(options.what, options.state)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except (NoSection, ValueError) as trouble:
        return complain(str(trouble))
    if not options.output:
        print("\n".join(f"{each.title}: {each.sentence}" for each in found))
        return CLEAN
    if len(found) != 1:
        return complain("a picture shows one state: write --state with one of " + ", ".join(f'"{each.state}"' for each in found))
    if not options.output.lower().endswith((".svg", ".png")):
        return complain(f"a section is written as .svg or .png, not as `{options.output}`")
    if not is_free(options.output, options.force):
        return complain("nothing was drawn")
    return _write(found[0].picture("dark" if options.dark else "light"), options.output)


def _write(picture: str, target: str) -> int:
    from circuit.draw import CannotDraw, export

    try:
        content = picture.encode() if target.lower().endswith(".svg") else export.png(picture)
        with open(target, "wb") as out:
            out.write(content)
    except (OSError, CannotDraw) as trouble:
        return complain(f"{target} cannot be written: {getattr(trouble, 'strerror', None) or trouble}")
    print(target)
    return CLEAN
