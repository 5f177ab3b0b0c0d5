"""`airwright faults`: every single fault of a design, what it takes and what it leaves."""

import argparse

from circuit.console.say import CLEAN, complain, is_free, show_mistakes

TYPE_CHECKING = False
if TYPE_CHECKING:
    from circuit.faults.study import Study

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
    parser.add_argument("--json", action="store_true", help="for programs: every fault with its figures")


def run(options: argparse.Namespace) -> int:
    from circuit import pipeline
    from circuit.faults.pairs import pairs
    from circuit.faults.play import Situation
    from circuit.faults.study import study
    from circuit.faults.times import timelines, worth_timing
    from circuit.mistake import Unreadable
    from circuit.report.faults import overview as report

    alone = [f"--{name}" for name in ("output", "plot", "draw", "hold") if getattr(options, name)]
    if alone and not options.fault:
        return complain(f"{alone[0]} needs --fault: it is about one fault")
    try:
        circuit = pipeline.load(options.file)
    except Unreadable as unreadable:
        return show_mistakes(unreadable)
    try:
        demand = _demand(options.pedal)
    except ValueError as why:
        return complain(str(why))
    found = study(circuit, demand=demand)
    if options.fault and not (options.situations or options.running or options.simulate):
        return _one(found, options)
    if options.pairs:
        print(report.pair_table(found, pairs(found)), end="")
        return CLEAN
    if options.times:
        worth = [e for e in worth_timing(found) if not options.only or options.only.lower() in e.fault.name.lower()]
        lines = timelines(found, worth, running=options.running, pedal=bool(options.pedal), demand=demand)
        print(report.times_table(found, lines), end="")
        return CLEAN
    if options.situations or options.running or options.simulate:
        return _played(found, options)
    chosen = [e for e in found.effects if not options.only or options.only.lower() in e.fault.name.lower()]
    print(report.as_json(found, chosen) if options.json else
          report.table(found, options.only, Situation(False, demand)), end="")
    return CLEAN


def _demand(words: str | None) -> float | None:
    """Absolute Pa; None for all the pedal gives. Raises ValueError with what to write."""
    from circuit.units import ATMOSPHERE, UnitMistake, to_si

    if words is None or words.strip().lower() == "full":
        return None
    try:
        pressure = to_si(words, "pressure")
    except UnitMistake as why:
        raise ValueError(f"--pedal: {why}, or `full`") from why
    if pressure <= ATMOSPHERE:
        raise ValueError("--pedal asks for more than nothing, as `60 psi` or `4 bar`, or `full`")
    return pressure


def _played(found: "Study", options: argparse.Namespace) -> int:
    """What a simulation says: of all faults in one situation, or in the worst of four; of one fault in each."""
    from circuit.faults.play import PART, Situation, play, situations
    from circuit.report.faults import runs as runs
    from circuit.studies.hands import CannotAsk

    demand = found.whole.demand
    wanted = situations(demand or PART) if options.situations else (Situation(options.running, demand),)
    several = found.of(options.fault) if options.fault else found.effects
    if options.fault and len(several) != 1:
        return complain(f"{len(several)} faults are called `{options.fault}`; --only WORD lists those with a word")
    try:
        played = {situation: play(found, several, situation) for situation in wanted}
    except CannotAsk as why:
        return complain(str(why))
    if options.json:
        print(runs.as_json(found, played), end="")
    elif options.fault:
        print(runs.matrix(found, {situation: row[0] for situation, row in played.items()}), end="")
    elif options.situations:
        print(runs.worst_table(found, played, options.only), end="")
    else:
        print(runs.run_table(found, played[wanted[0]], wanted[0], options.only), end="")
    return CLEAN


def _one(found: "Study", options: argparse.Namespace) -> int:
    from circuit.draw import CannotDraw
    from circuit.faults.telling import PEDAL, tell
    from circuit.report.faults import overview as report
    from circuit.report.faults import paper
    from circuit.report.faults.story import story
    from circuit.studies.hands import CannotAsk

    several = found.together(options.fault)
    if not several:
        return complain(f"no fault is called `{options.fault}`; --only WORD lists those with a word")
    if len(several) > 1:
        named = ", ".join(f"`{effect.fault.name}`" for effect in several[:8])
        return complain(f"{len(several)} faults are called so, write one of them: {named}"
                        + (", ..." if len(several) > 8 else ""))
    hold = PEDAL if options.hold is None else options.hold
    if not 0 < hold <= 3600:
        return complain("--hold is some seconds, above 0 and up to 3600")
    targets = {name: getattr(options, name) for name in ("output", "plot", "draw") if getattr(options, name)}
    for name, target in targets.items():
        wanted = (".html", ".htm", ".md") if name == "output" else (".svg",)
        if not target.lower().endswith(wanted):
            return complain(f"--{name} writes {' or '.join(wanted)}, not `{target}`")
    try:
        told = tell(found, several[0], hold)
    except CannotAsk as why:
        return complain(str(why))
    if options.json:
        print(report.as_json(found, several, {"story": paper.plain(story(told))}), end="")
        return CLEAN
    files = paper.files(told, **targets)
    if not all(is_free(name, options.force) for name in files):
        return complain("nothing was written")
    if not options.output:
        print(paper.text(story(told)), end="")
    for name, content in files.items():
        try:
            with open(name, "w", encoding="utf-8", newline="\n") as out:
                out.write(content)
        except CannotDraw as trouble:
            return complain(str(trouble))
        except OSError as trouble:
            return complain(f"{name} cannot be written: {(trouble.strerror or str(trouble)).lower()}")
        print(f"{name}: {several[0].fault.name}, {len(content.encode()) // 1024 + 1} KB")
    return CLEAN
