"""A design under a policy: held to more, with fewer waivers, and with a finding for each thing that the policy misses."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import Any

from circuit.clauses import Clause
from circuit.gate.policy import Policy, rule_names
from circuit.judging.rule import Judgement, Rule, not_met
from circuit.model.circuit import Circuit
from circuit.model.devices import Waiver
from circuit.source import Source, Span
from circuit.units import shown
from circuit.verdict.demands import asked, dropped
from circuit.verdict.judge import Verdict

POLICY, LESS = "policy", "not-asked-any-more"
"""What findings are called that come of no clause: they have no waiver."""

CONSEQUENCE = {
    POLICY: "What the reviewers of this project ask of every design is not there, so that this one was not judged as the others.",
    LESS: "A question that nobody asks any more is no remedy: what it would have found stays in the vehicle unseen.",
}


def begun(circuit: Circuit, policy: Policy, known: Iterable[tuple[str, str]] = ()) -> Circuit:
    """The circuit with the waivers that count: of its own those that are allowed, and what policy and baseline accept.

    known: rule and place of what the baseline knows.
    """
    own = () if policy.no_waivers else tuple(one for one in circuit.waivers if not _refused(one, policy))
    have = {(one.rule, one.at) for one in own}
    at = Span(Source(policy.path or "the command", ""), 1, 1)
    ignored = [name for name in rule_names() if name in policy.ignore or (policy.select and name not in policy.select)]
    outside = [Waiver(name, "", "not asked for: left out by the policy or the command", "", at, is_outside=True)
               for name in ignored]
    before = Span(Source(policy.baseline, ""), 1, 1)
    outside += [Waiver(rule, place, "known before: it is in the baseline", "", before, is_outside=True)
                for rule, place in known if (rule, place) not in have]
    return replace(circuit, waivers=(*own, *outside)) if own != circuit.waivers or outside else circuit


def ended(verdict: Verdict, policy: Policy, design: Circuit, before: Mapping[str, Any] | None = None) -> Verdict:
    """The verdict with the policy's severities, and what it misses. design: as it was written. before: what it was asked, as
    the baseline knows it."""
    missed = [*_missed(design, policy)]
    if before is not None:
        missed += less(verdict, before)
    return verdict._replace(judgements=(*verdict.judgements, *missed), severities=policy.severity)


def less(verdict: Verdict, before: Mapping[str, Any]) -> Iterator[Judgement]:
    """A finding for each thing that a design is not asked any more."""
    for one in dropped(before, asked(verdict.circuit, (each.name for each in verdict.sets))):
        yield finding(LESS, verdict.circuit, one.name, verdict.circuit.vehicle.span, one.says,
                      "write it as it was, or have whoever owns the gate accept the change")


def finding(name: str, circuit: Circuit, thing: str, at: Span, says: str, remedy: str) -> Judgement:
    """A finding of the gate itself."""
    clause = Clause(f"{POLICY}/{name}", "", "", "what the project's reviewers ask", (circuit.vehicle.vehicle_class,), "drawing",
                    "the project's own", "", (name,), {}, {})
    return Judgement(Rule(name, name.replace("-", " "), "error", lambda *_: iter(())), clause, not_met(thing, at, says, remedy),
                     "error", CONSEQUENCE[name])


def _refused(waiver: Waiver, policy: Policy) -> str:
    """Why a waiver does not count under a policy, or nothing."""
    if waiver.rule in policy.never:
        return f"{waiver.rule} is never accepted here"
    if policy.by and waiver.by not in policy.by:
        return f"only {' or '.join(policy.by)} may accept a finding here"
    return ""


def _missed(circuit: Circuit, policy: Policy) -> Iterator[Judgement]:
    vehicle = circuit.vehicle
    for waiver in circuit.waivers:
        if why := "waivers are not accepted" if policy.no_waivers else _refused(waiver, policy):
            remedy = f"have it accepted by {' or '.join(policy.by)}" if policy.by and waiver.rule not in policy.never else \
                "mend what was found"
            yield finding(POLICY, circuit, waiver.at, waiver.span, f"this waiver does not count: {why}", remedy)
    if policy.most is not None and len(circuit.waivers) > policy.most:
        yield finding(POLICY, circuit, vehicle.name, circuit.waivers[policy.most].span,
                      f"this design has {len(circuit.waivers)} waivers, and {policy.most} is the most", "mend what was found")
    folders = policy.holding(circuit.source.name)
    for folder in folders:
        if folder.classes and vehicle.vehicle_class not in folder.classes:
            yield finding(POLICY, circuit, vehicle.name, vehicle.span,
                          f"the class is {vehicle.vehicle_class}, and designs in {folder.path} are of class "
                          f"{' or '.join(folder.classes)}", f"write class {folder.classes[0]}, or move the design")
    yield from _trials(circuit, tuple(dict.fromkeys(name for folder in folders for name in folder.trials)), policy)


def _trials(circuit: Circuit, names: tuple[str, ...], policy: Policy) -> Iterator[Judgement]:
    """Trials that must be there and are not, and each expectation that is not met when they are played."""
    there = {trial.name: trial for trial in circuit.trials if trial is not None}
    for name in names:
        if name not in there:
            yield finding(POLICY, circuit, name, circuit.vehicle.span, f"there is no trial {name}, and the policy asks for it",
                          f"write trial {name} with what is done and what is expected")
    played = [trial for trial in there.values() if policy.play or trial.name in names]
    if played:
        from circuit.studies.trials import run_trials

        for tried in run_trials(circuit):
            if tried.trial in played:
                yield from _missed_of(circuit, tried)


def _missed_of(circuit: Circuit, tried: Any) -> Iterator[Judgement]:
    name = tried.trial.name
    if not tried.ran:
        yield finding(POLICY, circuit, name, tried.span or tried.trial.span, f"trial {name} cannot be played: {tried.why}",
                      "mend the trial, or the circuit that it plays")
    if not tried.outcomes:
        yield finding(POLICY, circuit, name, tried.trial.span, f"trial {name} expects nothing", "write what is expected")
    for outcome in tried.outcomes:
        if outcome.met is not True:
            figure = f": {shown(outcome.value, 'pressure')}" if outcome.value is not None else ""
            when = f" after {shown(outcome.time, 'time')}" if outcome.time is not None else ""
            why = outcome.why or f"predicted{figure}{when}"
            says = f"trial {name}: what it expects at {outcome.place} is not met: {why}"
            yield finding(POLICY, circuit, name, outcome.step.span, says, "airwright run shows every expectation with its figure")


def sets_of(circuit: Circuit, policy: Policy, chosen: tuple[str, ...]) -> tuple[str, ...]:
    """The sets that a design is held to: its own or those chosen, and what the policy asks at least."""
    least = (*policy.rules, *(name for folder in policy.holding(circuit.source.name) for name in folder.rules))
    return tuple(dict.fromkeys((*(chosen or circuit.rule_sets), *least)))
