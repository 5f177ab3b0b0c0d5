"""What a rule is and what it finds. Knows nothing of any particular rule."""

from collections.abc import Callable, Iterator, Mapping
from enum import Enum
from typing import NamedTuple

from circuit.clauses import Clause
from circuit.judging.assumed import Assumed
from circuit.judging.evidence import Evidence
from circuit.model.circuit import Circuit
from circuit.model.devices import Waiver
from circuit.source import Span

Mend = Callable[[Circuit], Circuit]
"""A circuit with a remedy done."""


class Result(Enum):
    """The outcomes of a check. Silence is none of them."""

    MET = "met"
    TURNS = "met by most of the range"
    NOT_MET = "not met"
    LIFTED = "not asked: lifted by what the design declares"
    UNDECIDED = "cannot be decided from this file"
    UNDECIDABLE = "cannot be decided from any file"

    @property
    def is_kept(self) -> bool:
        """Whether it is met, with what was assumed at least."""
        return self in (Result.MET, Result.TURNS)


class Figure(NamedTuple):
    """A quantity that was compared. found, limit: SI values; dimension: of units; at_least: whether more is better."""

    what: str
    found: float
    limit: float
    dimension: str
    at_least: bool = True

    @property
    def margin(self) -> float:
        """How much there is beyond the limit, negative when it is missed."""
        return (self.found - self.limit) if self.at_least else (self.limit - self.found)


class Answer(NamedTuple):
    """What a rule says of one thing, before it is joined with its clause.

    thing: the part, circuit or axle it is about, the key of a waiver. says: the sentence, lower case, no full stop.
    remedy: an order that can be followed. also: second places with what they are. mends: ways to do the remedy, where a
    circuit can show it; guessed: they are guesses, and a mistake that names itself comes first. missing: for UNDECIDED,
    the input that is not there. remark: beside a MET.
    """

    result: Result
    thing: str
    at: Span
    says: str
    remedy: str = ""
    figure: Figure | None = None
    also: tuple[tuple[Span, str], ...] = ()
    mends: tuple[Mend, ...] = ()
    missing: str = ""
    remark: str = ""
    severity: str = ""
    guessed: bool = False
    explained_by: tuple[str, ...] = ()
    known_as: str = ""


def met(thing: str, at: Span, says: str, figure: Figure | None = None, remark: str = "") -> Answer:
    """What misses its limit by less than it is worked out to meets it, and has nothing to spare: no less than nothing."""
    if figure is not None and figure.margin < 0:
        figure = figure._replace(found=figure.limit)
    return Answer(Result.MET, thing, at, says, figure=figure, remark=remark)


def not_met(thing: str, at: Span, says: str, remedy: str, *, figure: Figure | None = None,
          also: tuple[tuple[Span, str], ...] = (), mend: Mend | None = None, mends: tuple[Mend, ...] = (),
          guesses: tuple[Mend, ...] = (), severity: str = "") -> Answer:
    ways = (mend, *mends) if mend else mends or guesses
    return Answer(Result.NOT_MET, thing, at, says, remedy, figure, also, ways, severity=severity,
                     guessed=bool(guesses))


def undecided(thing: str, at: Span, says: str, missing: str) -> Answer:
    return Answer(Result.UNDECIDED, thing, at, says, missing=missing)


class Rule(NamedTuple):
    """One fault a design can have.

    name: the fault, equal to the file's name with hyphens. title: of the check in a list of what was met. severity: one
    of SEVERITIES. check: yields answers; it is given the evidence, and procedure and limit of a clause that asks. bound:
    AT_BEST or AT_WORST where its figures are quick bounds of what a simulation decides. missing: it finds what is not there, so
    that in a design with mistakes a row that is not understood may be just that.
    """

    name: str
    title: str
    severity: str
    check: Callable[[Evidence, Mapping[str, float]], Iterator[Answer]]
    bound: str = ""
    missing: bool = False


AT_BEST, AT_WORST = "at best", "at worst"
"""What a count says that leaves out what only a simulation knows: that it is no better than so, or no worse. The one can
only show that something is not met, the other only that it is; what is missing is played."""
SIMULATE = "a simulation: airwright check --simulate"


SEVERITIES = {
    "error": "the circuit does not do what it is for, or misses a limit: somebody can lose the brakes, or the vehicle "
             "is refused",
    "warning": "it works as drawn, but wears, ages or confuses until it does not; or what asks for it is no law for "
               "this vehicle",
    "note": "unusual: nothing is broken by it as drawn, but look whether it is meant; no check fails for it unless asked to",
}
"""The severities of findings and what makes a finding one, the worst first."""


class Judgement(NamedTuple):
    """A rule's answer with the clause that asks for it.

    consequence: what happens, where the rule's own lesson does not say. follows: judgements that vanish when this one is
    mended. also: the same said, or found of the same thing, by other clauses. leans_on: the assumed values that its figure
    was worked out from; turns: the one that turns it, if one does. by_simulation: it was played, not drawn.
    """

    rule: Rule
    clause: Clause
    answer: Answer
    severity: str
    consequence: str = ""
    waiver: Waiver | None = None
    follows: "tuple[Judgement, ...]" = ()
    also: "tuple[Judgement, ...]" = ()
    leans_on: "tuple[Assumed, ...]" = ()
    turns: "Assumed | None" = None
    by_simulation: bool = False

    @property
    def result(self) -> Result:
        return self.answer.result

    @property
    def is_open(self) -> bool:
        """Whether it is a finding that nobody has accepted."""
        return self.result is Result.NOT_MET and self.waiver is None

    def each(self) -> "Iterator[Judgement]":
        """Itself and what is put under it, under every clause that asks: under all of these it is one finding, accepted once."""
        for own in (self, *self.follows):
            yield from (own, *(one._replace(waiver=own.waiver) for one in own.also))
