"""What the JSON of `check` and of `compare` holds, as records: the type checker holds the writers to them, and the schemas that
users are given are made from them."""

from typing import Literal, NotRequired, TypedDict

Severity = Literal["error", "warning", "note"]


class Spot(TypedDict):
    """A place in a file: row, column and letters, from 1. inside: of a thing in an assembly, the statement in it."""

    file: str
    line: int
    column: int
    length: int
    inside: NotRequired["Spot"]


class Noted(TypedDict):
    """A second place, and what it is."""

    at: Spot
    what: str


class ClauseTold(TypedDict):
    """A clause. key: `set/number`. basis: how its text is known."""

    key: str
    cited: str
    asks: str
    edition: str
    basis: str
    source: str


class FigureTold(TypedDict):
    """What was compared. margin: what there is beyond the limit, negative when it is missed. unit: pressures are gauge."""

    what: str
    found: float
    limit: float
    margin: float
    unit: str
    bound: Literal["at least", "at most"]


class AssumedTold(TypedDict):
    """A typical value, taken because the design leaves it out."""

    part: str
    setting: str
    value: str
    source: str


class StatementTold(TypedDict):
    """What was seen of one thing. turns_with: the assumed value by which it would come out otherwise."""

    rule: str
    thing: str
    at: Spot
    says: str
    clause: ClauseTold
    leans_on: list[AssumedTold]
    turns_with: NotRequired[AssumedTold]
    figure: NotRequired[FigureTold]
    remark: NotRequired[str]


class FollowTold(TypedDict):
    """A finding that is gone when the one it stands under is mended."""

    rule: str
    thing: str
    says: str


class WaiverTold(TypedDict):
    """Why a finding is accepted, by whom, where it is written, until which day."""

    because: str
    by: str
    at: Spot
    until: NotRequired[str]


class FindingTold(StatementTold):
    """What is not met. by_simulation: whether pressures over time were played for it; `rule` is then the clause's question."""

    severity: Severity
    consequence: str
    remedy: str
    follows: list[FollowTold]
    waived: bool
    by_simulation: bool
    also: list[Noted]
    also_asked: list[ClauseTold]
    waiver: NotRequired[WaiverTold]


class ClauseOpen(TypedDict):
    """A clause that nothing here decides, and what is missing."""

    clause: ClauseTold
    says: str
    missing: str


class StatementOpen(StatementTold):
    """A statement that cannot be decided, and what is missing."""

    missing: str


class LiftedTold(TypedDict):
    """A clause that is not asked because of what the design declares of its body or year of build."""

    clause: ClauseTold
    says: str
    because: str


class PredictedTold(TypedDict):
    """A clause decided from a simulation, at one place. question: that it answered."""

    clause: ClauseTold
    question: str
    outcome: str
    thing: str
    says: str
    leans_on: list[AssumedTold]
    figure: NotRequired[FigureTold]


class CoveredTold(TypedDict):
    """A clause, by its key, and what came of it."""

    clause: str
    outcome: str
    waived: bool
    rules: list[str]
    says: str
    leans_on: list[AssumedTold]
    figure: NotRequired[FigureTold]


class AnswerTold(TypedDict):
    """What a set answers a question with; without `answer` it asks nothing."""

    set: str
    answer: NotRequired[CoveredTold]


class DifferenceTold(TypedDict):
    """A question that two or more of the chosen sets answer."""

    question: str
    answers: list[AnswerTold]


class TypicalTold(TypedDict):
    """A value that the design leaves out, and what was taken."""

    thing: str
    setting: str
    value: str
    source: str


VehicleTold = TypedDict("VehicleTold", {"name": str, "class": str, "title": str})
"""The vehicle that a design is for."""


class JudgedTold(TypedDict):
    """A design that was judged. name: of a vehicle of a combination. vehicles: of a combination, each by itself."""

    file: str
    readable: Literal[True]
    vehicle: VehicleTold
    sets: list[str]
    clean: bool
    findings: list[FindingTold]
    met: list[StatementTold]
    undecided: list[StatementOpen | ClauseOpen]
    undecidable: list[ClauseOpen]
    coverage: list[CoveredTold]
    differences: list[DifferenceTold]
    assumed: list[TypicalTold]
    lifted: NotRequired[list[LiftedTold]]
    predicted: NotRequired[list[PredictedTold]]
    vehicles: NotRequired[list["JudgedTold"]]
    name: NotRequired[str]


class FoundTold(TypedDict):
    """A design that was judged, with --only-findings."""

    file: str
    readable: Literal[True]
    clean: bool
    findings: list[FindingTold]
    vehicles: NotRequired[list["FoundTold"]]
    name: NotRequired[str]


class MistakeTold(TypedDict):
    """What cannot be understood, and what to write."""

    at: Spot
    says: str
    expected: str
    other: NotRequired[Noted]


class UnreadableTold(TypedDict):
    """A design that cannot be read. stands: what is judged of it all the same, as far as it is understood; what hangs on a
    mistake is undecided in it."""

    file: str
    readable: Literal[False]
    mistakes: list[MistakeTold]
    stands: NotRequired[JudgedTold | FoundTold]


class ChangeTold(TypedDict):
    """One thing that is other than before. before, after: empty where it has no two values. line: in the new design, in the old
    one for what is gone; 0 for none. row_file: that of the row, empty where it is the design itself."""

    what: Literal["added", "removed", "replaced", "renamed", "re-routed", "cut", "lengthened", "shortened", "moved", "set",
                   "declared", "volume", "ratio"]
    thing: str
    says: str
    before: str
    after: str
    line: int
    row_file: str


class OutcomeTold(TypedDict):
    """A check that comes out otherwise; one that is not here came out as before. severity: of a finding that is there now."""

    what: Literal["new", "gone", "worse", "accepted", "unasked", "undecided", "decided", "margin"]
    rule: str
    thing: str
    says: str
    severity: Literal["error", "warning", "note", ""]
    line: int
    clause: str
    row_file: str


class DroppedTold(TypedDict):
    """What is not asked any more, or less sharply, with both values."""

    what: Literal["class", "rules", "clauses", "circuit", "trial", "expectation", "vehicle"]
    name: str
    says: str
    before: str
    after: str


class ComparedTold(TypedDict):
    """Two versions of a design. worse: whether a finding is new or has become an error, or something is not asked any more, here
    or in a vehicle; exit status 1. vehicles: of combinations, each that both have, by itself."""

    old: str
    new: str
    worse: bool
    changes: list[ChangeTold]
    outcomes: list[OutcomeTold]
    dropped: list[DroppedTold]
    vehicles: NotRequired[list["ComparedTold"]]
    name: NotRequired[str]
