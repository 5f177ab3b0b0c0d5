"""`airwright new`: a commented starting design that checks clean."""

import argparse

from circuit.console.say import CLEAN, complain, is_free
from circuit.writing import write

GROUP = "write"
HELP = "write a commented starting design that checks clean"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("vehicle", metavar="VEHICLE", help=f"one of {', '.join(starts())}")
    parser.add_argument("-o", "--output", metavar="FILE", help="the file to write (VEHICLE.air)")
    parser.add_argument("--force", action="store_true", help="write over a file that is there already")


def starts() -> tuple[str, ...]:
    """The vehicles there is a starting design for."""
    from circuit.files import folder

    return tuple(sorted(path.stem for path in (folder("shared") / "starts").glob("*.air")))


def run(options: argparse.Namespace) -> int:
    from circuit.files import folder
    from circuit.near import did_you_mean

    if options.vehicle not in starts():
        return complain(f"there is no start for `{options.vehicle}`: "
                        + (did_you_mean(options.vehicle, starts()) or f"there are {', '.join(starts())}"))
    target = options.output or f"{options.vehicle}.air"
    if not is_free(target, options.force):
        return complain("nothing was written")
    text = (folder("shared") / "starts" / f"{options.vehicle}.air").read_text(encoding="utf-8")
    try:
        write(target, text)
    except OSError as trouble:
        return complain(f"{target} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    print(f"{target}: change it to your vehicle, then run airwright check {target}")
    return CLEAN
