"""`airwright lesson`: the course."""

import argparse

from circuit.console.say import CLEAN, complain
from circuit.writing import folder_refusal, write_folder

GROUP = "write"
HELP = "a course of ten lessons: each a page, a design to work on, and a mistake to find; alone, list them"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("number", nargs="?", metavar="N", help="which lesson, 1 to 10; without it they are listed")
    parser.add_argument("--teacher", action="store_true", help="answers, the mistake and the teacher's notes")
    parser.add_argument("-o", "--output", metavar="DIR",
                        help="a folder to write into: the page as text and PDF, the designs, and find.air with a mistake in it; "
                        "with --teacher the notes too")
    parser.add_argument("--force", action="store_true", help="write over files that are there already")


def run(options: argparse.Namespace) -> int:
    from circuit.report.course.lessons import MANY, every, lesson

    if not options.number:
        if options.output or options.teacher:
            return complain(f"say which lesson: 1 to {MANY}")
        print("The course. `airwright lesson N` shows a page, `airwright lesson N -o DIR` writes all that a class needs.\n")
        print("\n".join(f"  {each.number:>2}  {each.title}" for each in every()))
        return CLEAN
    if not options.number.isascii() or not options.number.isdigit() or not 1 <= int(options.number) <= MANY:
        return complain(f"there is no lesson `{options.number}`: write a number from 1 to {MANY}")
    found = lesson(int(options.number))
    if not options.output:
        print(found.teacher if options.teacher else found.page, end="")
        return CLEAN
    return _write(options)


def _write(options: argparse.Namespace) -> int:
    import os

    from circuit.draw import CannotDraw
    from circuit.report.course.lessons import files, lesson

    if why := folder_refusal(options.output):
        return complain(why)
    try:
        made = {name: text.encode() if isinstance(text, str) else text
                for name, text in files(lesson(int(options.number)), options.teacher).items()}
        there = [name for name in made if os.path.exists(os.path.join(options.output, name))]
        if there and not options.force:
            return complain(f"{options.output} has {', '.join(there[:3])}{' and more' if len(there) > 3 else ''} already: choose "
                            "another folder, or write --force to replace them")
        write_folder(options.output, made, ())
    except CannotDraw as trouble:
        return complain(str(trouble))
    except OSError as trouble:
        return complain(f"{options.output} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    print(f"{options.output}: {', '.join(made)}")
    return CLEAN
