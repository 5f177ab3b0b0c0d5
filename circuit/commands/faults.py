"""`airwright faults`: every single fault of a design, what it takes and what it leaves."""

import argparse

from circuit.commands.say import CLEAN, complain, is_free, show_mistakes

GROUP = "ask"
HELP = "study every single fault: what is lost, what is left, the worst first"


def arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", metavar="FILE", help="a design, ending in .air")
    parser.add_argument("--only", default="", metavar="WORD", help="only faults with a word in their name or outcome")
    parser.add_argument("--fault", metavar='"PART: FAILURE"', help="the story of one fault, in sentences")
    parser.add_argument("--pairs", action="store_true", help="double faults: one that no use shows, and a second")
    parser.add_argument("--times", action="store_true", help="simulate bursts and leaks: warnings, springs")
    parser.add_argument("--running", action="store_true", help="with --times: the engine runs")
    parser.add_argument("--draw", metavar="X.svg", help="with --fault: the schematic, coloured by the air that is left")
    parser.add_argument("--force", action="store_true", help="write over a drawing that is there already")
    parser.add_argument("--json", action="store_true", help="for programs: every fault with its figures")


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.mistake import Unreadable
    from circuit.report import faults as report
    from circuit.studies.fault_pairs import pairs
    from circuit.studies.fault_times import timelines, worth_timing
    from circuit.studies.faults import study

    if options.draw and not options.fault:
        return complain("--draw needs --fault: a drawing shows the air that one fault leaves")
    try:
        circuit = pipeline.load(options.file)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    found = study(circuit)
    if options.times and not options.fault:
        worth = [e for e in worth_timing(found) if not options.only or options.only.lower() in e.fault.name.lower()]
        print(report.times_table(found, timelines(found, worth, running=options.running)), end="")
        return CLEAN
    if options.pairs:
        print(report.pair_table(found, pairs(found)), end="")
        return CLEAN
    if not options.fault:
        chosen = [e for e in found.effects if not options.only or options.only.lower() in e.fault.name.lower()]
        print(report.as_json(found, chosen) if options.json else report.table(found, options.only), end="")
        return CLEAN
    several = found.of(options.fault)
    if not several:
        return complain(f"no fault is called `{options.fault}`; --only WORD lists those with a word")
    if len(several) > 1:
        named = ", ".join(f"`{effect.fault.name}`" for effect in several[:8])
        return complain(f"{len(several)} faults are called so, write one of them: {named}"
                        + (", ..." if len(several) > 8 else ""))
    effect = several[0]
    if options.draw and not is_free(options.draw, options.force):
        return complain("nothing was drawn")
    told = report.times_told(found, timelines(found, several, running=options.running)) if options.times else ()
    print(report.as_json(found, several) if options.json else report.story(found, effect, told), end="")
    if options.draw:
        return _draw(found, effect, options.draw)
    return CLEAN


def _draw(found, effect, target: str) -> int:  # type: ignore[no-untyped-def]
    from circuit import draw
    from circuit.draw.pressure import Reading
    from circuit.report.situations import unit_of

    if not target.lower().endswith(".svg"):
        return complain(f"the air that a fault leaves is drawn as .svg, not as `{target}`")
    reading = Reading(found.levels(effect.fault), unit_of(found.circuit), f"after {effect.fault.name}, braking")
    mark = draw.Mark(effect.fault.device, "1", "error")
    try:
        with open(target, "w", encoding="utf-8", newline="\n") as out:
            out.write(draw.svg(found.circuit, (mark,), reading=reading))
    except OSError as trouble:
        return complain(f"{target} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
    return CLEAN
