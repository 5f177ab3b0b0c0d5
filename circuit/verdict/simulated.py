"""What simulations found not met, as findings like those of the drawing: with a place, a severity and what to do."""

from collections.abc import Iterable, Iterator, Mapping

from circuit import rules
from circuit.clauses import Clause
from circuit.judging.evidence import Evidence
from circuit.judging.prediction import Predicted
from circuit.judging.rule import Answer, Judgement, Result, Rule
from circuit.model.circuit import Circuit, Waiver
from circuit.source import Span


def findings(circuit: Circuit, predicted: Iterable[Predicted]) -> tuple[Judgement, ...]:
    """One for each question and place, under every clause that asks; waivers of the design accept them."""
    said: dict[tuple[object, ...], list[Judgement]] = {}
    for each in predicted:
        if each.result is Result.NOT_MET:
            found = _finding(circuit, each)
            said.setdefault((found.rule.name, each.thing, each.says, each.figure), []).append(found)
    return tuple(first._replace(also=tuple(others)) for first, *others in said.values())


def question_of(clause: Clause) -> str:
    """The question of a clause that a simulation answers: the first that no rule of the drawing does."""
    return next((each for each in clause.questions if rules.find(each) is None), clause.questions[0])


def _finding(circuit: Circuit, each: Predicted) -> Judgement:
    name = question_of(each.clause)
    so, mend = WORDS.get(name, ("", SEE))
    thing, at = _place(circuit, each.thing)
    rule = rules.find(name) or Rule(name, name.replace("-", " "), "error", _played)
    severity = "warning" if each.clause.advisory else rule.severity
    answer = Answer(Result.NOT_MET, thing, at, each.says, mend, each.figure)
    return Judgement(rule, each.clause, answer, severity, so, _waiver(circuit, name, thing), leans_on=each.leans_on,
                     by_simulation=True)


def _waiver(circuit: Circuit, name: str, thing: str) -> Waiver | None:
    """What accepts a finding; of the vehicle as a whole, one at any thing."""
    return next((one for one in circuit.waivers if one.rule == name and (
        one.at == thing or thing.startswith(f"{one.at}.") or thing == circuit.vehicle.name)), None)


def _place(circuit: Circuit, thing: str) -> tuple[str, Span]:
    """The part or line that a figure was found at, also by what is fitted on it for a test; else the vehicle."""
    name = thing.rpartition(" on ")[2].partition(",")[0]
    if name in circuit.by_name:
        return name, circuit.by_name[name].span
    return circuit.vehicle.name, circuit.vehicle.span


def _played(evidence: Evidence, limits: Mapping[str, float]) -> Iterator[Answer]:
    """A drawing has no answer to what only a simulation can be asked."""
    return iter(())


SEE = "look at what it is about in the pressures over time: airwright report plays them, airwright faults each failure"
_WAY = "airwright respond tells what each part of the way costs"
_BURST = "airwright faults tells what each failure takes and leaves"
_WIDER = f"shorten the line to it or take a wider one, or put a relay valve nearer: {_WAY}"
_VENT = f"let the air out nearer to it, by a quick-release or relay valve: {_WAY}"
_APART = f"keep what has to remain apart from what fails, or feed it from both: {_BURST}"
_HELD = f"put a check valve or a protection valve between what fails and what is to be kept: {_BURST}"
_SIGNAL = f"bring the signal to the coupling from both circuits: {_BURST}"

WORDS = {
    "application-time": ("the brake comes on late: at 80 km/h every tenth of a second is 2.2 m of road", _WIDER),
    "application-time-at-coupling": (
        "what is towed brakes later than what tows it, and pushes it", _WIDER),
    "release-time": ("the brake drags after the pedal is up: it heats, wears, and is hot when it is needed next", _VENT),
    "release-time-at-coupling": ("the brakes of what is towed drag after those of what tows it have let go", _VENT),
    "control-line-difference": (
        "each vehicle brakes with less than the one before it, and along a train the difference adds up",
        f"shorten or widen the control line that goes through, and take fittings out of it: {_WAY}"),
    "parking-time": ("whoever parks on a slope and lets the pedal up rolls before the springs hold",
                     "let the air of the springs out nearer to them, by a quick-release or relay valve"),
    "parking-with-a-leak": (
        "one failure keeps springs off, and the parked vehicle rolls",
        f"let no air of another system hold the springs off: {_BURST}"),
    "parking-again": ("springs that were let off may not come on again, and the vehicle rolls",
                      "let the springs' air out by a valve that opens whatever the reservoirs hold"),
    "parking-from-stored-air": ("after a leak it can be neither moved out of the way nor parked once more",
                                "give the springs a store of their own, behind a check valve"),
    "braking-with-a-leak": ("one part that bursts takes more of the brakes than may be lost", _APART),
    "braking-by-degrees-with-a-leak": (
        "with one failure the pedal gives all or nothing: wheels lock, or it does not stop",
        f"feed what follows the pedal then from a reservoir that the failure leaves full: {_BURST}"),
    "braking-without-hoses": ("when both hoses are torn off, the pedal of what tows does not stop it",
                              "shut the lines to what is towed off before the air of the towing vehicle is gone"),
    "trailer-signal-with-a-leak": ("with one circuit lost what is towed cannot be braked by degrees", _SIGNAL),
    "trailer-signal-on-each-circuit": ("with one circuit lost what is towed is not braked by the pedal", _SIGNAL),
    "supply-line-with-a-leak": ("one failure of what is towed empties the supply line, and the towing vehicle with it", _HELD),
    "springs-off-with-a-leak": ("one failure puts springs on while it is driven: they drag, heat and lock wheels", _HELD),
    "breaking-away": ("a trailer that has torn off is not held until somebody can chock it",
                      "mend what lets its air go, or put a check valve ahead of what holds it: airwright leak-down"),
    "springs-come-on-pumped": (
        "the springs come on while there is still air to brake with, or so late that there is none",
        "choose a control that comes out by itself within the pressures that are asked for"),
    "air-kept-without-trailer": (
        "a trailer that tears off takes the towing vehicle's air with it",
        "choose a protection that shuts above what is to be kept"),
    "reservoir-kept-without-feed": ("air that is lost upstream takes a service reservoir along", _HELD),
    "braking-as-supply-falls": (
        "a supply line that leaks or tears brakes what is towed too late, or without a need",
        "choose an emergency valve that acts within the pressures that are asked for"),
    "springs-follow-the-reserve": (
        "when the service brakes are used up, no spring takes their place",
        "let the springs off only by the air that the service brakes have in store"),
    "springs-held-while-filling": (
        "the springs let go before there is air to brake with, and it rolls",
        "let the springs' air wait until the service reservoirs are filled, behind an overflow valve"),
    "secondary-braking-after-a-break": ("one part that breaks leaves too little to stop with", _APART),
    "braking-on-each-reserve": ("with one reservoir lost the others do not stop it", _APART),
    "residual-braking": ("with one circuit lost the wheels that remain do not stop it", _APART),
    "feeding-after-a-burst": (
        "with one circuit burst the compressor fills no other, and all are used up",
        f"choose a protection that shuts the burst circuit off above what is to be kept: {_BURST}"),
    "secondary-braking-without-trailer": ("a trailer that has torn off leaves the towing vehicle too little to stop with", _HELD),
    "reserve-after-auxiliaries-burst": ("a burst of what is no brake takes the air of the brakes", _HELD),
    "trailer-braked-with-a-hose-broken": (
        "a torn hose goes unnoticed until the next application brakes nothing behind",
        "choose a trailer control valve that lets the supply line down when the control line is open"),
    "supply-falls-with-control-broken": (
        "with the control line torn the supply line stays full, and what is towed is not braked",
        "choose a trailer control valve that lets the supply line down when the control line is open"),
    "controls-independent": ("one failure takes the service brake and the parking brake at once", _APART),
    "springs-lifted-on-each-reserve": ("with one reservoir lost the springs cannot be let off", _SIGNAL.replace(
        "bring the signal to the coupling", "feed the springs")),
    "springs-released-after-auxiliaries-burst": ("after a burst of what is no brake the vehicle cannot be moved", _HELD),
    "trailer-braked-by-the-springs": (
        "what is parked in front does not hold what is towed",
        "let the trailer control valve give air, or let it out, as the springs come on"),
}
"""For a question to a simulation, what happens when it is missed, and what to do about it."""
