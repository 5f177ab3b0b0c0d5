"""`airwright classwork`: exercises for a class, and their marks."""

import argparse
import os

from circuit.console.say import CLEAN, Telling, complain, show_mistakes
from circuit.writing import folder_refusal, write, write_folder

GROUP = "write"
HELP = "exercises for a class from one seed list: a spoilt design, questions and answers for each; and the marks"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.usage = ("airwright classwork FILE... --students 12 --seed N [--level 1-5] -o DIR [--force]\n"
                    "       airwright classwork --mark DIR [--force]")
    parser.add_argument("files", nargs="*", metavar="FILE", help="good designs, taken in turn")
    parser.add_argument("--students", metavar="N|NAMES.txt", help="how many, or a file with a name a line")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="where the list of seeds begins (1)")
    parser.add_argument("--level", type=int, choices=range(1, 6), default=1, metavar="1-5", help="as of `exercise` (1)")
    parser.add_argument("-o", "--output", metavar="DIR", help="the folder to write everything into; give out only NAME.air and "
                        "each page of questions.pdf")
    parser.add_argument("--mark", metavar="DIR", help="mark each NAME.txt or NAME-mended.air of this folder: marks.csv and .pdf")
    parser.add_argument("--force", action="store_true", help="write over files that are there already")


def run(options: argparse.Namespace) -> int:
    if options.mark:
        return _mark(options)
    if not (options.files and options.students and options.output):
        return complain("write designs, --students and -o DIR; or --mark DIR")
    return _make(options)


def _names(written: str) -> list[str]:
    """The names of a class. Raises ValueError with what is wrong."""
    import re

    if written.isascii() and written.isdigit():
        if not 1 <= int(written) <= 200:
            raise ValueError("a class has from 1 to 200 students")
        return [f"student-{number:02d}" for number in range(1, int(written) + 1)]
    with open(written, encoding="utf-8") as file:
        names = [re.sub(r"[^a-z0-9]+", "-", row.strip().lower()).strip("-") for row in file if row.strip()]
    if not names or len(set(names)) != len(names) or "" in names or len(names) > 200:
        raise ValueError(f"{written}: 1 to 200 names, each once, in letters from a to z")
    return names


def _make(options: argparse.Namespace) -> int:
    from circuit.draw import CannotDraw
    from circuit.mistake import Unreadable
    from circuit.plant.classwork import files, sets

    try:
        names = _names(options.students)
    except (OSError, UnicodeDecodeError) as trouble:
        return complain(f"{options.students} cannot be read: {(getattr(trouble, 'strerror', None) or 'it is no text').lower()}")
    except ValueError as wrong:
        return complain(str(wrong))
    if why := folder_refusal(options.output):
        return complain(why)
    try:
        with Telling() as tell:
            tell(f"classwork: planting for {len(names)}")
            made = files(sets(names, options.files, options.seed, options.level, options.output), options.level)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except (LookupError, CannotDraw) as trouble:
        return complain(str(trouble))
    there = [name for name in made if os.path.exists(os.path.join(options.output, name))]
    if there and not options.force:
        return complain(f"{options.output} has {', '.join(there[:3])}{' and more' if len(there) > 3 else ''} already: choose "
                        "another folder, or write --force to replace them")
    try:
        write_folder(options.output, made)
    except OSError as trouble:
        return complain(f"{options.output} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    print(f"{options.output}: {len(names)} exercises, questions.pdf and .csv to give out, answers.pdf and .csv to keep")
    return CLEAN


def _mark(options: argparse.Namespace) -> int:
    from circuit.plant.answer import NoAnswer
    from circuit.plant.classwork import marked, marks
    from circuit.report.course.lesson_paper import printed
    from circuit.report.plain import as_text
    from circuit.report.table import as_csv

    targets = [os.path.join(options.mark, name) for name in ("marks.csv", "marks.pdf")]
    if not options.force and any(map(os.path.exists, targets)):
        return complain(f"{options.mark} has marks already: write --force to replace them")
    try:
        table = marks(marked(options.mark))
        if not table.rows:
            return complain(f"{options.mark} holds no exercises that airwright classwork wrote")
        rows = "\n".join(as_text(table))
        write(targets[0], as_csv(table).encode())
        write(targets[1], printed(f"# Marks\n\n```\n{rows}\n```\n"))
    except NoAnswer as wrong:
        return complain(f"an answer of {options.mark} cannot be used: {wrong}")
    except (OSError, UnicodeDecodeError) as trouble:
        return complain(f"{options.mark}: {(getattr(trouble, 'strerror', None) or 'a list is no text in UTF-8').lower()}")
    print(rows)
    return CLEAN
