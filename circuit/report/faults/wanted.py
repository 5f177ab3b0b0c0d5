"""What can be asked of the study of faults, and the answer to it in words, data and pictures."""

from collections.abc import Mapping
from typing import NamedTuple

from circuit.faults.effect import Effect
from circuit.faults.outcome import outcomes
from circuit.faults.play import PART, Situation, play, situations
from circuit.faults.record import singles
from circuit.faults.study import Study, study
from circuit.faults.stops import PEDAL
from circuit.faults.telling import tell
from circuit.faults.times import timelines, worth_timing
from circuit.model.circuit import Circuit
from circuit.report.account import FORMATS, Account
from circuit.report.data import document
from circuit.report.faults import paper, runs, times_told
from circuit.report.faults.story import story
from circuit.report.studies.faults import KEY, Asked, account, of_hidden
from circuit.units import ATMOSPHERE, UnitMistake, to_si

LONGEST_HOLD = 3600.0


class Misasked(ValueError):
    """What was asked for is not there, or does not go together; the text says what to write."""


class Wanted(NamedTuple):
    """What is asked for, as the options of the command say it. output, plot, draw: names of files, or ""."""

    only: str = ""
    fault: str = ""
    hold: float | None = None
    output: str = ""
    plot: str = ""
    draw: str = ""
    pairs: bool = False
    times: bool = False
    pedal: str = ""
    running: bool = False
    simulate: bool = False
    situations: bool = False
    format: str = "text"

    @property
    def json(self) -> bool:
        return self.format == "json"

    @property
    def played(self) -> bool:
        return self.situations or self.running or self.simulate

    @property
    def targets(self) -> dict[str, str]:
        return {name: target for name in ("output", "plot", "draw") if (target := getattr(self, name))}

    def names(self, effect: Effect) -> bool:
        """Whether the name of a fault holds the word that was asked for."""
        return not self.only or self.only.lower() in effect.fault.name.lower()


class Given(NamedTuple):
    """text: for the terminal. files: name to content. about: the fault that the files tell of."""

    text: str
    files: Mapping[str, str] = {}
    about: str = ""


def answered(circuit: Circuit, wanted: Wanted) -> Given:
    """Raises Misasked, hands.CannotAsk where the circuit has no answer, draw.CannotDraw where a library is missing."""
    demand = demanded(wanted.pedal)
    found = study(circuit, demand=demand)
    if wanted.fault and not wanted.played:
        return _told(found, wanted)
    if wanted.pairs:
        return _formatted(wanted, of_hidden(found, wanted.only))
    if wanted.times:
        worth = [effect for effect in worth_timing(found) if wanted.names(effect)]
        lines = tuple(timelines(found, worth, running=wanted.running, pedal=bool(wanted.pedal), demand=demand))
        return Given(_json(Asked(circuit, demand, times=lines)) if wanted.json else times_told.times_table(found, lines))
    if wanted.played:
        return _played(found, wanted)
    return _formatted(wanted, account(circuit, wanted.only, demand))


def _formatted(wanted: Wanted, found: Account) -> Given:
    return Given(FORMATS[wanted.format](found, False))


def _json(found: Asked) -> str:
    return document(KEY, found.circuit, found)


def refuse(wanted: Wanted) -> None:
    """Raises Misasked for what goes with no design."""
    alone = [*wanted.targets, *(["hold"] if wanted.hold else [])]
    if alone and not wanted.fault:
        raise Misasked(f"--{alone[0]} needs --fault: it is about one fault")
    if wanted.format == "csv" and (told := next(filter(None, (wanted.fault and "fault", wanted.times and "times")), "")):
        raise Misasked(f"--format csv gives tables, and --{told} tells what happens in words: leave one of the two out")


def demanded(words: str) -> float | None:
    """Absolute Pa that the pedal asks for; None for all it gives. Raises Misasked with what to write."""
    if words.strip().lower() in ("", "full"):
        return None
    try:
        pressure = to_si(words, "pressure")
    except UnitMistake as why:
        raise Misasked(f"--pedal: {why}, or `full`") from why
    if pressure <= ATMOSPHERE:
        raise Misasked("--pedal asks for more than nothing, as `60 psi` or `4 bar`, or `full`")
    return pressure


def _played(found: Study, wanted: Wanted) -> Given:
    """What a simulation says: of all faults in one situation, or in the worst of four; of one fault in each."""
    demand = found.whole.demand
    chosen = situations(demand or PART) if wanted.situations else (Situation(wanted.running, demand),)
    several = found.of(wanted.fault) if wanted.fault else found.effects
    if wanted.fault and len(several) != 1:
        raise Misasked(f"{len(several)} faults are called `{wanted.fault}`; --only WORD lists those with a word")
    played = {situation: play(found, several, situation) for situation in chosen}
    if wanted.fault and wanted.json:
        return Given(_json(runs.record(found, played)))
    if wanted.fault:
        return Given(runs.matrix(found, {situation: row[0] for situation, row in played.items()}))
    if wanted.situations:
        return _formatted(wanted, runs.of_the_worst(found, played, wanted.only))
    return _formatted(wanted, runs.of_one(found, played[chosen[0]], chosen[0], wanted.only))


def _told(found: Study, wanted: Wanted) -> Given:
    """One fault in time."""
    several = found.together(wanted.fault)
    if not several:
        raise Misasked(f"no fault is called `{wanted.fault}`; --only WORD lists those with a word")
    if len(several) > 1:
        named = ", ".join(f"`{effect.fault.name}`" for effect in several[:8])
        raise Misasked(f"{len(several)} faults are called so, write one of them: {named}"
                       + (", ..." if len(several) > 8 else ""))
    hold = PEDAL if wanted.hold is None else wanted.hold
    if not 0 < hold <= LONGEST_HOLD:
        raise Misasked(f"--hold is some seconds, above 0 and up to {LONGEST_HOLD:.0f}")
    for name, target in wanted.targets.items():
        endings = (".html", ".htm", ".md") if name == "output" else (".svg",)
        if not target.lower().endswith(endings):
            raise Misasked(f"--{name} writes {' or '.join(endings)}, not `{target}`")
    told = tell(found, several[0], hold)
    if wanted.json:
        return Given(_json(Asked(told.circuit, found.whole.demand, singles(outcomes(found, several)), story=story(told))))
    return Given("" if wanted.output else paper.text(story(told)), paper.files(told, **wanted.targets), several[0].fault.name)
