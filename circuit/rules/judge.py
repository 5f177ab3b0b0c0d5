"""Hold a circuit to every rule that its rule sets ask for, and group what follows from one mistake under it."""

import inspect
from importlib import import_module
from typing import NamedTuple

from circuit import rules
from circuit.clauses import ALWAYS, Clause, RuleSet, clause, rule_set
from circuit.model.circuit import Circuit
from circuit.rules.evidence import Evidence
from circuit.rules.grouping import grouped
from circuit.rules.rule import Judgement, Result, Rule, Statement, fault, lesson

WAIVER = "waiver-without-finding"


class Open(NamedTuple):
    """A clause that no rule decided. result: UNDECIDED or UNDECIDABLE; needs: what is missing."""

    clause: Clause
    result: Result
    needs: str


class Verdict(NamedTuple):
    """Everything that was judged. sets: the rule sets it was held to. open_clauses: clauses nothing here decides.
    vehicles: for a combination, each vehicle's name and its own verdict.
    """

    evidence: Evidence
    sets: tuple[RuleSet, ...]
    judgements: tuple[Judgement, ...]
    open_clauses: tuple[Open, ...]
    vehicles: "tuple[tuple[str, Verdict], ...]" = ()

    @property
    def circuit(self) -> Circuit:
        return self.evidence.circuit

    @property
    def findings(self) -> tuple[Judgement, ...]:
        """What is not met, waived or not, in the order of the design."""
        return tuple(j for j in self.judgements if j.result is Result.NOT_MET)

    @property
    def is_clean(self) -> bool:
        """Whether there is no finding that nobody has accepted, in the vehicles of a combination neither."""
        return not any(j.is_open for j in self.judgements) and all(own.is_clean for _, own in self.vehicles)


def judge(circuit: Circuit, set_names: tuple[str, ...] = ()) -> Verdict:
    """The verdict on a circuit under its own rule sets, or under `set_names` instead, always with good practice."""
    names = tuple(dict.fromkeys((*(set_names or circuit.rule_sets), ALWAYS)))
    sets = tuple(rule_set(name) for name in names)
    asked = [(rule, found) for rule in rules.every() if (found := asking(rule, names, circuit)) is not None]
    evidence = Evidence(circuit)
    judgements = [j for rule, asking in asked for j in _judgements(rule, asking, evidence)]
    judgements = grouped(judgements, circuit, asked)
    judgements = _waived(judgements, circuit)
    judgements.sort(key=lambda j: _place(circuit, j))
    cited = {j.clause.key for j in judgements} | {key for rule, _ in asked for key in rule.clauses}
    return Verdict(evidence, sets, tuple(judgements), _open(sets, circuit, cited))


def asking(rule: Rule, names: tuple[str, ...], circuit: Circuit) -> Clause | None:
    """The clause by which a rule holds for this vehicle under these sets."""
    for name in names:
        for key in rule.clauses:
            if key.split("/", 1)[0] == name:
                found = clause(key)
                if circuit.vehicle.vehicle_class in found.vehicles:
                    return found
    return None


def _judgements(rule: Rule, asking: Clause, evidence: Evidence) -> list[Judgement]:
    return [
        Judgement(rule, asking, statement, statement.severity or rule.severity)
        for statement in dict.fromkeys(rule.check(evidence, asking.values))
    ]


def consequence(rule: Rule) -> str:
    """What happens when the fault is there, from the rule's own docstring."""
    module = import_module(f"circuit.rules.{rule.name.replace('-', '_')}")
    return lesson(inspect.cleandoc(module.__doc__ or "")).consequence


def _waived(judgements: list[Judgement], circuit: Circuit) -> list[Judgement]:
    """Mark accepted findings, and add a finding for each waiver that accepts nothing."""
    result = list(judgements)
    for waiver in circuit.waivers:
        matched = False
        for place, judgement in enumerate(result):
            thing = judgement.statement.thing
            if judgement.result is Result.NOT_MET and judgement.rule.name == waiver.rule and (
                thing == waiver.at or thing.startswith(f"{waiver.at}.")
            ):
                result[place] = judgement._replace(waiver=waiver)
                matched = True
        if not matched:
            known = rules.find(waiver.rule)
            says = (f"this waiver accepts nothing: there is no finding {waiver.rule} at {waiver.at}" if known
                    else f"no rule is called `{waiver.rule}`")
            remedy = "remove the waiver" if known else "see the names: airwright explain rules"
            statement = fault(waiver.at, waiver.span, says, remedy)
            rule = rules.find(WAIVER)
            assert rule is not None
            result.append(Judgement(rule, clause(rule.clauses[0]), statement, rule.severity))
    return result


def _place(circuit: Circuit, judgement: Judgement) -> tuple[int, int, int, str]:
    span = judgement.statement.at.outermost
    order = [source.name for source in circuit.files]
    first = order.index(span.source.name) if span.source.name in order else 0
    return first, span.line, span.column, judgement.rule.name


def _open(sets: tuple[RuleSet, ...], circuit: Circuit, cited: set[str]) -> tuple[Open, ...]:
    found = []
    for each in sets:
        for one in each.clauses:
            if one.key in cited or circuit.vehicle.vehicle_class not in one.vehicles:
                continue
            physical = one.decided == "physical test"
            found.append(Open(one, Result.UNDECIDABLE if physical else Result.UNDECIDED, one.needs or "a rule that reads it"))
    return tuple(found)


def statements_of(verdict: Verdict, result: Result) -> tuple[Statement, ...]:
    """The statements with one outcome."""
    return tuple(j.statement for j in verdict.judgements if j.result is result)
