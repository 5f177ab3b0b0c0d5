"""`airwright compare`: what changed between two versions of designs."""

import argparse

from circuit.console.say import CLEAN, FINDINGS, UNREADABLE, Telling, complain, paint, show_mistakes
from circuit.console.studied import formats, unknown_set

TYPE_CHECKING = False
if TYPE_CHECKING:
    from circuit.console.pairing import Pair
    from circuit.verdict.compare import Comparison
    from circuit.verdict.judge import Verdict

GROUP = "hold"
HELP = "say what changed from one version of a design to another, and what is met no more"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("old", metavar="OLD",
                        help="the design as it was; a folder, or a revision of git, as in main or main:truck.air")
    parser.add_argument("new", metavar="NEW",
                        help="the design as it is, or a folder; exit 1 when it has a finding more, or is asked less")
    formats(parser, _schema, ("text", "json", "csv", "markdown"))
    parser.add_argument("--rules", action="append", default=[], metavar="SET",
                        help="hold both designs to this set instead of their own; may be given several times")
    parser.add_argument("--simulate", action="store_true", help="play both: predicted times before and after")
    parser.add_argument("--allow-less", action="store_true", help="do not fail for what is not asked any more")
    parser.add_argument("--pictures", metavar="DIR", help="write the schematic of each design that changed, the changes marked")


def _schema() -> str:
    import json

    from circuit.report.changes import schema

    return json.dumps(schema(), indent=2, ensure_ascii=False) + "\n"


def run(options: argparse.Namespace) -> int:
    from contextlib import ExitStack

    from circuit.console.inputs import Nothing
    from circuit.console.pairing import pairs
    from circuit.gate.place import Misruled

    if wrong := unknown_set(options.rules):
        return complain(wrong)
    with ExitStack() as stack:
        try:
            return _compared(pairs(options.old, options.new, stack), options)
        except (Nothing, Misruled) as trouble:
            return complain(str(trouble))


def _compared(pairs: "list[Pair]", options: argparse.Namespace) -> int:
    """Compares each pair, prints all, and says whether any is worse."""
    from circuit.report import changes
    from circuit.verdict.compare import Comparison, compare
    from circuit.verdict.demands import Dropped

    found: list[Comparison] = []
    status, pictures = CLEAN, {}
    for pair in pairs:
        both = zip((pair.old, pair.new), pair.roots, strict=True)
        sides = [_judged(path, root, options) if path else None for path, root in both]
        if any(path and side is None for path, side in zip((pair.old, pair.new), sides, strict=True)):
            status = UNREADABLE
            continue
        old, new = sides
        if new is None:
            gone = Dropped("vehicle", pair.names[0], f"{pair.names[0]} is gone: it is not checked any more", pair.names[0])
            found.append(Comparison(pair.names[0], "", (), (), (gone,)))
        elif old is not None:
            one = compare(old, new)._replace(old=pair.names[0], new=pair.names[1])
            found += [one] if len(pairs) == 1 or one.is_other else []
            if options.pictures and one.is_other:
                pictures[pair.names[1]] = (new, one)
        else:
            found.append(changes.begun(pair.names[1], new))
    drawn = _pictures(pictures, options) if options.pictures else {}
    if found or options.format != "text":
        print(changes.told(found, options.format, paint(), drawn), end="")
    else:
        print(f"{len(pairs)} designs, none of them changed")
    less = any(each.asks_less for each in found) and not options.allow_less
    return max(status, FINDINGS if less or any(each.has_more for each in found) else CLEAN)


def _judged(path: str, root: str, options: argparse.Namespace) -> "Verdict | None":
    """A design of one side, or None where it cannot be read, which is said."""
    from circuit import pipeline
    from circuit.mistake import Unreadable

    try:
        with Telling() as tell:
            return pipeline.judged(pipeline.load(path, root), tuple(options.rules), options.simulate, tell)
    except Unreadable as unreadable:
        show_mistakes(unreadable)
        return None


def _pictures(changed: "dict[str, tuple[Verdict, Comparison]]", options: argparse.Namespace) -> dict[str, str]:
    """Writes the schematics of changed designs; gives each its file."""
    import os

    from circuit import draw
    from circuit.report.marked import changes_of

    os.makedirs(options.pictures, exist_ok=True)
    found = {}
    for name, (verdict, one) in changed.items():
        path = os.path.join(options.pictures, name.replace(os.sep, "-").replace(":", "-").removesuffix(".air") + ".svg")
        draw.write(verdict.circuit, path, changes_of(verdict, one))
        found[name] = path
    return found
