"""Hold a circuit to every rule that its rule sets ask for, and group what follows from one mistake under it."""

from collections import Counter
from collections.abc import Mapping
from typing import NamedTuple

from circuit import rules
from circuit.clauses import ALWAYS, Clause, RuleSet, rule_set
from circuit.judging.changed import with_rows
from circuit.judging.evidence import Evidence
from circuit.judging.leaning import Leaning, leanings
from circuit.judging.leaning import key as leaning_key
from circuit.judging.prediction import Predicted
from circuit.judging.rule import (
    AT_BEST,
    AT_WORST,
    SEVERITIES,
    SIMULATE,
    Answer,
    Judgement,
    Result,
    Rule,
)
from circuit.model.circuit import Circuit
from circuit.units import shown, told_apart
from circuit.verdict import simulated, waivers
from circuit.verdict.grouping import grouped
from circuit.verdict.leading import LAID_WRONG, led
from circuit.verdict.lesson import lesson_of

VAGUE = "its text: it is remembered too vaguely to be judged by"
NOTHING = "what it is about: nothing of the kind is written in the design"
UNREAD = "anything here that answers its question"


class Open(NamedTuple):
    """A clause that no rule decided. result: UNDECIDED, UNDECIDABLE or LIFTED; needs: what is missing, or what lifts it."""

    clause: Clause
    result: Result
    needs: str


class Verdict(NamedTuple):
    """Everything that was judged. sets: the rule sets it was held to. open_clauses: clauses nothing here decides.
    vehicles: for a combination, each vehicle's name and its own verdict. predicted: what a simulation decided, if any.
    severities: by rule, where somebody outside of the design weighs it otherwise.
    """

    evidence: Evidence
    sets: tuple[RuleSet, ...]
    judgements: tuple[Judgement, ...]
    open_clauses: tuple[Open, ...]
    vehicles: "tuple[tuple[str, Verdict], ...]" = ()
    predicted: tuple[Predicted, ...] = ()
    severities: Mapping[str, str] = {}

    @property
    def circuit(self) -> Circuit:
        return self.evidence.circuit

    @property
    def every(self) -> tuple[Judgement, ...]:
        """All judgements: of the drawing, then what simulations found not met."""
        found = (*self.judgements, *simulated.findings(self.circuit, self.predicted))
        if not self.severities:
            return found
        return tuple(one._replace(severity=self.severities.get(one.rule.name, one.severity)) for one in found)

    @property
    def findings(self) -> tuple[Judgement, ...]:
        """What is not met, waived or not: of the drawing in the order of the design, then by simulation."""
        return tuple(j for j in self.every if j.result is Result.NOT_MET)

    @property
    def is_clean(self) -> bool:
        """Whether there is no error and no warning that nobody has accepted, in the vehicles of a combination neither."""
        return not self.fails("warning")

    def fails(self, severity: str) -> bool:
        """Whether there is an open finding of this severity or a worse one, in the vehicles of a combination too."""
        order = list(SEVERITIES)
        bad = order[: order.index(severity) + 1]
        return any(j.is_open and j.severity in bad for j in self.findings) or any(
            own.fails(severity) for _, own in self.vehicles)


def judge(circuit: Circuit, set_names: tuple[str, ...] = ()) -> Verdict:
    """The verdict on a circuit under its own rule sets, or under `set_names` instead, always with good practice."""
    names = tuple(dict.fromkeys((*(set_names or circuit.rule_sets), ALWAYS)))
    sets = tuple(rule_set(name) for name in names)
    every = [(rule, found) for rule in rules.every() if (found := askings(rule, names, circuit))]
    evidence = Evidence(circuit)
    judgements = [j for rule, clauses in every for j in judgements_of(rule, clauses, evidence)]
    if any(j.rule.bound == AT_WORST and j.answer.figure is not None and not j.result.is_kept for j in judgements):
        from circuit.verdict.bounded import played_out  # seldom needed, and longer to load than to run

        judgements = played_out(judgements, circuit, names)
    spoken = {judgement.clause.key for one in judgements for judgement in (one, *one.also)}
    every_one = [(rule, one) for rule, clauses in every for one in unlike(clauses)]
    judgements = grouped(waivers.accepted(judgements, circuit), circuit, every_one)
    judgements = waivers.lead_accepted(led(explained(judgements), evidence, every_one), circuit)
    judgements += waivers.idle(judgements, circuit)
    judgements.sort(key=lambda j: place_of(circuit, j))
    asked = {one.key for _, clauses in every for one in clauses}
    return Verdict(evidence, sets, tuple(judgements), open_clauses(sets, circuit, asked, spoken))


def askings(rule: Rule, names: tuple[str, ...], circuit: Circuit) -> tuple[Clause, ...]:
    """Every clause by which a rule holds for this vehicle under these sets; good practice where no other set asks.

    A clause that is remembered too vaguely asks for nothing.
    """
    found: list[Clause] = []
    for name in names:
        if name == ALWAYS and found:
            continue
        found += [one for one in rule_set(name).asking(rule.name)
                  if circuit.is_asked(one) and not one.is_too_vague]
    return tuple(found)


def unlike(clauses: tuple[Clause, ...]) -> tuple[Clause, ...]:
    """The first clause of each set of limits: the others can only say the same."""
    first: list[Clause] = []
    for one in clauses:
        if all(one.values != other.values for other in first):
            first.append(one)
    return tuple(first)


def judgements_of(rule: Rule, clauses: tuple[Clause, ...], evidence: Evidence) -> list[Judgement]:
    """What a rule says under every clause that asks for it; what it says twice, or of one fault, is one judgement."""
    said: dict[tuple[object, ...], list[Judgement]] = {}
    for limits in unlike(clauses):
        answers = tuple(with_rows(evidence.circuit, one) for one in dict.fromkeys(rule.check(evidence, limits.values)))
        leans = leanings(rule, limits.values, evidence) if any(answer.figure for answer in answers) else {}
        for one in clauses:
            if one.values == limits.values:
                faults: Counter[tuple[object, ...]] = Counter()
                for answer in answers:
                    key: tuple[object, ...] = (answer.result, answer.thing, answer.at)
                    if answer.result is Result.NOT_MET:
                        faults[key] += 1
                        key = (*key, faults[key])
                    else:
                        key = (*key, answer.says, answer.figure, answer.missing)
                    severity = answer.severity or rule.severity
                    severity = "warning" if one.advisory and severity == "error" else severity
                    leaning = leans.get(leaning_key(answer), Leaning())
                    said.setdefault(key, []).append(Judgement(rule, one, _weighed(rule, answer, leaning), severity,
                                                              leans_on=leaning.on, turns=leaning.turns))
    order = list(SEVERITIES)
    result = []
    for alike in said.values():
        worst = min(alike, key=lambda j: order.index(j.severity))
        result.append(worst._replace(also=tuple(j for j in alike if j is not worst)))
    return result


def _weighed(rule: Rule, answer: Answer, leaning: Leaning) -> Answer:
    """The answer as what it can claim: a quick bound decides on its safe side only, and what turns within the range of
    what was assumed is not simply met."""
    if rule.bound and answer.figure is not None:
        if rule.bound == AT_BEST and answer.result is Result.MET:
            return answer._replace(result=Result.UNDECIDED, says=f"{answer.says}, {AT_BEST}", missing=SIMULATE)
    if answer.result is Result.NOT_MET:
        return _told_apart(answer)
    return answer._replace(result=Result.TURNS) if leaning.turns is not None else answer


def _told_apart(answer: Answer) -> Answer:
    """At the edge of a limit the sentence prints digits until what was found and what is asked differ."""
    figure = answer.figure
    if figure is None:
        return answer
    found, limit = shown(figure.found, figure.dimension), shown(figure.limit, figure.dimension)
    if found != limit or answer.says.count(found) < 2:
        return answer
    first, rest = answer.says.split(found, 1)
    finer, asked = told_apart(figure.found, figure.limit, figure.dimension)
    return answer._replace(says=first + finer + rest.replace(limit, asked, 1))


def explained(judgements: list[Judgement]) -> list[Judgement]:
    """What says only that something is wrong, put under the first that says why; what nothing explains stands for itself.

    What somebody accepted explains nothing, nor does what weighs less: it would take the other's weight away.
    Of one and the same place a rule knows better than a duty how much it weighs.
    """
    faults = [j for j in judgements if j.is_open]
    heads = [j for j in faults if not j.answer.explained_by]
    under: dict[int, list[Judgement]] = {}
    gone: set[int] = set()
    todo = [j for j in faults if j.answer.explained_by]
    while todo:
        found = [(one, head) for one in todo for head in heads if _says_why(head, one)]
        for one, head in found:
            if id(one) not in gone:
                under.setdefault(id(head), []).append(one)
                gone.add(id(one))
        todo = [one for one in todo if id(one) not in gone]
        heads = [one for one in todo if not any(_says_why(other, one) for other in todo if other is not one)]
        if not heads or not any(_says_why(head, one) for head in heads for one in todo):
            break
    return [one._replace(follows=(*one.follows, *under.get(id(one), ()))) for one in judgements if id(one) not in gone]


def _says_why(head: Judgement, one: Judgement) -> bool:
    names = {name for each in (head, *head.follows) for name in (each.rule.name, each.answer.known_as)}
    order = list(SEVERITIES)
    weighs = order.index(head.severity) <= order.index(one.severity) or head.answer.thing == one.answer.thing
    return head is not one and weighs and not names.isdisjoint(one.answer.explained_by)


def consequence(judgement: Judgement) -> str:
    """What happens when the fault is there, its own or from the rule's docstring."""
    return judgement.consequence or lesson_of(judgement.rule.name).consequence


def place_of(circuit: Circuit, judgement: Judgement) -> tuple[bool, int, int, int, str]:
    """What leads stands first, all else in the order of the design."""
    span = judgement.answer.at.outermost
    order = [source.name for source in circuit.files]
    first = order.index(span.source.name) if span.source.name in order else 0
    return judgement.rule.name != LAID_WRONG, first, span.line, span.column, judgement.rule.name


def open_clauses(sets: tuple[RuleSet, ...], circuit: Circuit, asked: set[str], spoken: set[str]) -> tuple[Open, ...]:
    """The clauses of a vehicle that no rule was asked for, or whose rules found nothing to speak of."""
    found = []
    vehicle = circuit.vehicle
    for each in sets:
        for one in each.clauses:
            if one.key in spoken or not one.is_about(vehicle.vehicle_class, circuit.tows, vehicle.built):
                continue
            if lifted := one.lifted(vehicle.body, vehicle.built):
                found.append(Open(one, Result.LIFTED, lifted))
                continue
            if each.name == ALWAYS and one.decided == "drawing":
                continue
            needs = VAGUE if one.is_too_vague else one.needs or one.unused or (NOTHING if one.key in asked else UNREAD)
            found.append(Open(one, Result.UNDECIDABLE if one.decided == "physical test" else Result.UNDECIDED, needs))
    return tuple(found)

