"""`airwright exercise`: a design with one mistake to find, and the grading of what was found."""

import argparse

from circuit.console.say import CLEAN, FINDINGS, complain, is_free, say, show_mistakes
from circuit.writing import write

TYPE_CHECKING = False
if TYPE_CHECKING:
    from circuit.plant.answer import AnswerKey

GROUP = "write"
HELP = "plant one mistake into a good design for a class to find, and grade what was found"
EPILOG = """\
A list of findings has %s.

The answer is folded up so that nobody reads it by accident. It is no secret. With the same FILE and seed the same
mistake is planted again. Exit status of --grade: 0 the mistake was found, 1 it was missed.
"""


def arguments(parser: argparse.ArgumentParser) -> None:
    from circuit.plant.answer import FORM

    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = "\n".join(_folded(EPILOG % FORM))
    parser.usage = ("airwright exercise FILE --seed N [-o SPOILT.air] [--answer ANSWER.json] [--mistake CLASS] "
                    "[--level 1-5] [--force]\n"
                    "       airwright exercise FILE --symptoms --seed N [--ask QUESTIONS.txt]\n"
                    "       airwright exercise --grade ANSWER.json FINDINGS.txt|MENDED.air")
    parser.add_argument("file", metavar="FILE", help="a good design; with --grade, a student's list of findings or mended design")
    parser.add_argument("--seed", type=int, default=1, metavar="N", help="which mistake and where (1)")
    parser.add_argument("-o", "--output", metavar="SPOILT.air", help="the spoilt design to write, else it is printed")
    parser.add_argument("--answer", metavar="ANSWER.json", help="the answer to write, for the teacher")
    parser.add_argument("--mistake", metavar="CLASS", help="plant a mistake of this class")
    parser.add_argument("--level", type=int, choices=range(1, 6), metavar="1-5",
                        help="what it takes: 1 a rule at sight, 2 a path followed, 3 a pressure, 4 volumes and times, 5 two "
                        "mistakes")
    parser.add_argument("--symptoms", action="store_true",
                        help="no mistake in the file but a fault in the vehicle: the driver's complaint, and what can be asked")
    parser.add_argument("--ask", metavar="QUESTIONS.txt|-",
                        help="with --symptoms: one question a line, from a file or as they are typed; the last names the fault")
    parser.add_argument("--grade", metavar="ANSWER.json", help="compare a list of findings with this answer")
    parser.add_argument("--force", action="store_true", help="write over files that are there already")


def _folded(text: str) -> list[str]:
    import textwrap

    return [row for part in text.split("\n\n") for row in (*textwrap.wrap(part, 100), "")]


def run(options: argparse.Namespace) -> int:
    if options.ask and not options.symptoms:
        return complain("--ask goes with --symptoms")
    if options.symptoms:
        return _search(options)
    return _grade(options) if options.grade else _plant(options)


def _search(options: argparse.Namespace) -> int:
    """A fault searched from its symptoms."""
    import sys

    from circuit import pipeline
    from circuit.console.keeping import program
    from circuit.console.say import Telling
    from circuit.faults.library import library
    from circuit.mistake import Unreadable
    from circuit.plant.interview import Interview, closing, opening
    from circuit.plant.workshop import case
    from circuit.studies.hands import CannotAsk

    if options.output or options.answer or options.mistake or options.level or options.grade:
        return complain("--symptoms takes --seed and --ask, and nothing else")
    try:
        questions = sys.stdin if options.ask == "-" else open(options.ask, encoding="utf-8") if options.ask else None
        circuit = pipeline.load(options.file)
        with Telling() as tell:
            known = library(circuit, repr((program(), [source.text for source in circuit.files])), tell)
            found = case(known, options.seed)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    except CannotAsk as trouble:
        return complain(f"{options.file}: {trouble}")
    except (OSError, UnicodeDecodeError) as trouble:
        reason = getattr(trouble, "strerror", None) or "it is no text in UTF-8"
        return complain(f"{options.ask} cannot be read: {reason.lower()}")
    if found is None:
        return complain(f"{options.file} has no fault that a driver would notice")
    print(opening(found), flush=True)
    if questions is None:
        return CLEAN
    search = Interview(found)
    with questions:
        for answer in search.answers(questions):
            print(answer, flush=True)
    print(closing(found, search.marked, search.spent), end="")
    return CLEAN if search.marked is not None and search.marked.right else FINDINGS


def _plant(options: argparse.Namespace) -> int:
    from circuit.mistake import Unreadable
    from circuit.near import did_you_mean
    from circuit.pipeline import load_source
    from circuit.plant.answer import sealed
    from circuit.report.words import count
    from circuit.plant.exercise import exercise, exercise_of_two
    from circuit.plant.operators import MOST_LEVEL, OPERATORS, of_level
    from circuit.source import Source

    names = [operator.name for operator in OPERATORS]
    if options.mistake and options.mistake not in names:
        return complain(f"no class of mistakes is called `{options.mistake}`: "
                        + (did_you_mean(options.mistake, names) or "there are " + ", ".join(sorted(names))))
    targets = [name for name in (options.output, options.answer) if name]
    if not all([is_free(name, options.force) for name in targets]):
        return complain("nothing was written")
    if options.mistake and options.level:
        return complain("--mistake and --level do not go together: a class has its level")
    chosen = of_level(options.level) if options.level else tuple(o for o in OPERATORS if options.mistake in (None, o.name))
    plant = exercise_of_two if options.level == MOST_LEVEL else exercise
    try:
        found = plant(options.file, options.seed, options.output or "", chosen)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    if found is None:
        return complain(f"{options.file} has no place for such a mistake: it would not be one there")
    if options.output:
        try:
            load_source(Source(options.output, found.text))
        except Unreadable as unreadable:
            show_mistakes(unreadable)
            return complain("nothing was written: there its files would not be found")
    made = ((options.output, found.text), (options.answer, sealed(found.answer, *found.more)))
    contents = [text for name, text in made if name]
    for name, text in zip(targets, contents):
        try:
            write(name, text)
        except OSError as trouble:
            return complain(f"{name} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    if not options.output:
        print(found.text, end="" if found.text.endswith("\n") else "\n")
    else:
        print(f"{options.output}: {count(1 + len(found.more), 'mistake')} planted; airwright check would tell")
    if options.answer:
        say(f"{options.answer} is the answer: grade with airwright exercise --grade {options.answer} FINDINGS.txt")
    return CLEAN


def _grade(options: argparse.Namespace) -> int:
    from circuit.plant.answer import NoAnswer, opened_all
    from circuit.plant.grade import grade_all, told

    texts = []
    for name in (options.grade, options.file):
        try:
            with open(name, encoding="utf-8") as file:
                texts.append(file.read())
        except (OSError, UnicodeDecodeError) as trouble:
            reason = getattr(trouble, "strerror", None) or "it is no text in UTF-8"
            return complain(f"{name} cannot be read: {reason.lower()}")
    try:
        answers = opened_all(texts[0])
    except NoAnswer as wrong:
        return complain(f"{options.grade} cannot be used: {wrong}")
    if options.file.endswith(".air"):
        return _mended(options.file, answers)
    graded = grade_all(answers, texts[1])
    print("\n".join(map(told, graded)), end="")
    return CLEAN if all(each.found for each in graded) else FINDINGS


def _mended(path: str, answers: "tuple[AnswerKey, ...]") -> int:
    """Whether a design has none of the mistakes any more."""
    from circuit.mistake import Unreadable
    from circuit.pipeline import load
    from circuit.plant.mended import judged_mend, told

    try:
        circuit = load(path)
        found = [judged_mend(each, circuit) for each in answers]
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    print("".join(dict.fromkeys(map(told, found))), end="")
    return CLEAN if all(each.found for each in found) else FINDINGS
