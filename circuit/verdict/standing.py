"""What can be judged of a design with mistakes: what comes out alike in every reading of it stands, the rest is not decided.

A rule speaks for each place by itself, so one row that is not understood silences only what hangs on it. The causes of several
findings are not looked for before the text is whole.
"""

from collections.abc import Iterable, Iterator

from circuit import rules
from circuit.clauses import ALWAYS, Clause, rule_set
from circuit.judging.evidence import Evidence
from circuit.judging.rule import Answer, Judgement, Result, Rule, undecided
from circuit.mistake import Mistake
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE
from circuit.model.readings import STAND_IN, others
from circuit.model.unknown import Unknown
from circuit.verdict import waivers
from circuit.verdict.grouping import grouped
from circuit.verdict.judge import Verdict, askings, explained, judgements_of, open_clauses, place_of, unlike

HANGS = "what row"
"""How that begins which is missing for what hangs on a mistake."""
Asking = tuple[Rule, tuple[Clause, ...]]
Key = tuple[str, str, Result, float]


def standing(circuit: Circuit, unknown: Unknown, says: str, set_names: tuple[str, ...] = ()) -> Verdict:
    """The verdict on a circuit as far as it is understood. says: the rows that are not, in words."""
    names = tuple(dict.fromkeys((*(set_names or circuit.rule_sets), ALWAYS)))
    every = _asked(circuit, names)
    evidence = Evidence(circuit)
    said, fell = _said(every, evidence)
    sure = _Sure(circuit, unknown)
    heard: list[tuple[Rule, Clause, Answer]] = []
    if not unknown.is_nothing:
        for other in others(circuit, unknown, _empty(evidence)):
            found, fallen = _heard(_asked(other, names), Evidence(other))
            sure.hear(found)
            heard += found
            fell |= fallen
    stand = [one for one in said if sure.stands(one) and one.rule.name not in fell]
    unsaid = [_of_whole(circuit, rule, clauses[0]) for rule, clauses in every if rule.name in fell]
    hanging = (one for one in said if not sure.stands(one) and one.rule.name not in fell)
    left = _undecided([*unsaid, *hanging, *sure.beyond(said, heard)], says)
    asked = [(rule, one) for rule, clauses in every if rule.name not in fell for one in unlike(clauses)]
    judgements = explained(grouped(waivers.accepted(stand, circuit), circuit, asked))
    spoken = {judgement.clause.key for one in (*judgements, *left) for judgement in (one, *one.also)}
    judgements = sorted([*judgements, *left], key=lambda j: place_of(circuit, j))
    sets = tuple(rule_set(name) for name in names)
    keys = {one.key for rule, clauses in every for one in clauses}
    return Verdict(evidence, sets, tuple(judgements), open_clauses(sets, circuit, keys, spoken))


def hangs_on(mistakes: tuple[Mistake, ...]) -> str:
    """The rows of mistakes, as what is missing for a decision."""
    rows = list(dict.fromkeys(f"{one.at.outermost.line}" for one in mistakes))
    some = ", ".join(rows[:5]) + (f" and {len(rows) - 5} more" if len(rows) > 5 else "")
    return f"{HANGS}{'s' * (len(rows) > 1)} {some} mean{'s' * (len(rows) == 1)}"


def _asked(circuit: Circuit, names: tuple[str, ...]) -> list[Asking]:
    return [(rule, found) for rule in rules.every() if (found := askings(rule, names, circuit))]


def _said(every: Iterable[Asking], evidence: Evidence) -> tuple[list[Judgement], set[str]]:
    """What the rules say, and those that a circuit without what it should have is beyond."""
    said: list[Judgement] = []
    fell = set()
    for rule, clauses in every:
        try:
            said += judgements_of(rule, clauses, evidence)
        except Exception:  # a rule may rely on what only a whole design is sure to have; it says nothing then
            fell.add(rule.name)
    return said, fell


def _empty(evidence: Evidence) -> frozenset[int]:
    """Spaces that no air comes to, whatever hands and feet do."""
    states = (evidence.driving, evidence.braking, evidence.parked)
    return frozenset(space for space in evidence.circuit.ports_of
                     if space != SPACE_OUTSIDE and not any(air.is_charged(space) for air in states))


def _heard(every: Iterable[Asking], evidence: Evidence) -> tuple[list[tuple[Rule, Clause, Answer]], set[str]]:
    """As `_said`, the bare answers: what they lean on and who else asks is all one to another reading."""
    heard: list[tuple[Rule, Clause, Answer]] = []
    fell = set()
    for rule, clauses in every:
        try:
            heard += [(rule, clause, answer) for clause in unlike(clauses) for answer in rule.check(evidence, clause.values)]
        except Exception:  # as above
            fell.add(rule.name)
    return heard, fell


class _Sure:
    """What comes out alike in every reading."""

    def __init__(self, circuit: Circuit, unknown: Unknown) -> None:
        self.circuit, self.unknown = circuit, unknown
        self.named = {name for name, _ in unknown.ports}
        self.things = _closed(circuit, unknown.torn)
        self.readings: list[set[Key]] = []

    def hear(self, heard: Iterable[tuple[Rule, Clause, Answer]]) -> None:
        self.readings.append({_key(rule, answer) for rule, _, answer in heard})

    def stands(self, one: Judgement) -> bool:
        """Whether a judgement hangs on no mistake, as far as the readings tell."""
        if one.result is Result.UNDECIDED:
            return True
        names = _names(one.answer.thing)
        if names & self.things:
            return False
        if one.result is Result.NOT_MET:
            if self.unknown.lost and (one.rule.missing or names & self.named or not names & self.circuit.by_name.keys()):
                return False
        return all(_key(one.rule, one.answer) in reading for reading in self.readings)

    def beyond(self, said: Iterable[Judgement], heard: Iterable[tuple[Rule, Clause, Answer]]) -> Iterator[Judgement]:
        """What only another reading speaks of: silence would mean that there is nothing."""
        known = {(one.rule.name, one.answer.thing) for one in said}
        for rule, clause, answer in heard:
            key = rule.name, answer.thing
            if answer.result is Result.NOT_MET and key not in known and not answer.thing.startswith(STAND_IN):
                known.add(key)
                yield Judgement(rule, clause, answer, answer.severity or rule.severity)


def _closed(circuit: Circuit, things: set[str]) -> set[str]:
    """Things, the axles that they stand at, and the circuits meant that have any of these."""
    axles = {str(circuit.by_name[name].settings.get("axle")) for name in things if name in circuit.by_name}
    found = things | axles
    return found | {each.name for each in circuit.intents if found & {*each.axles, *each.reservoirs}}


def _key(rule: Rule, answer: Answer) -> Key:
    """What an answer says, whatever words it has for it."""
    result = Result.MET if answer.result.is_kept else answer.result
    return rule.name, answer.thing, result, float(f"{answer.figure.found:.3g}") if answer.figure else 0.0


def _names(thing: str) -> set[str]:
    """The parts that a place names."""
    return {thing, thing.split(".")[0], *thing.split(" and "), *(each.split(".")[0] for each in thing.split(" and "))}


def _of_whole(circuit: Circuit, rule: Rule, clause: Clause) -> Judgement:
    """A rule that is beyond this circuit, as it stands for all its places."""
    name = circuit.vehicle.name
    return Judgement(rule, clause, undecided(name, circuit.vehicle.span, f"{name}: {rule.title}", ""), rule.severity)


def _undecided(hanging: Iterable[Judgement], says: str) -> list[Judgement]:
    """What hangs on a mistake, once for each rule and place."""
    first: dict[tuple[str, str], Judgement] = {}
    for one in hanging:
        first.setdefault((one.rule.name, one.answer.thing), one)
    return [one._replace(answer=undecided(thing, one.answer.at, f"{thing}: {one.rule.title}", says), also=(), follows=(),
                         leans_on=(), turns=None) for (_, thing), one in first.items()]
