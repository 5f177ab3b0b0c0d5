"""The answer to an exercise: what was planted, folded up so that nobody reads it by accident, and opened again.

It is no secret: anybody who wants to can unfold it.
"""

import base64
import hashlib
import json
import zlib
from typing import Any, NamedTuple

from circuit.plant.planting import Planting, found_by
from circuit.verdict.judge import Verdict

FORMAT = 1
FORM = (
    "one finding a line: the number of a row or the name of a thing, or both, and a word for the fault or the name of "
    "a rule; as in `37 part-backwards`, `pri-check is fitted backwards` or `line 29: no drain`; `#` begins a remark"
)


class NoAnswer(ValueError):
    """A file that is no answer, or one that was changed."""


class AnswerKey(NamedTuple):
    """What was planted and what else is to be said of the spoilt design.

    mistake, title, says: the class, what people do, and what was done here. rules: those that find it. words: what it
    may be called. things, lines: where it is. gone: rows that are no longer there. names: of all things of the design.
    known: findings (rule, thing, line) of the design before. follows: further ones that come with the mistake.
    """

    design: str
    seed: int
    mistake: str
    title: str
    says: str
    rules: tuple[str, ...]
    words: tuple[str, ...]
    things: tuple[str, ...]
    lines: tuple[int, ...]
    gone: tuple[str, ...]
    names: tuple[str, ...]
    known: tuple[tuple[str, str, int], ...]
    follows: tuple[tuple[str, str, int], ...]


def answer_to(planting: Planting, seed: int, before: Verdict, after: Verdict) -> AnswerKey:
    """The answer to a spoilt design. before, after: the verdicts on the good one and on the spoilt one."""
    operator = planting.operator
    known = _findings(before)
    told = {(rule, thing) for rule, thing, _ in known}
    rules = [j.rule.name for j in after.judgements if j.is_open and found_by(planting, j)]
    new = [each for each in _findings(after) if each[:2] not in told and each[0] not in operator.rules]
    return AnswerKey(
        planting.source.name, seed, operator.name, operator.title, planting.says,
        tuple(dict.fromkeys((*rules, *operator.rules))), tuple(word.strip() for word in operator.words.split(",")),
        planting.things, planting.lines, planting.gone,
        tuple(device.name for device in planting.circuit.devices if not device.is_line), known, tuple(new),
    )


def _findings(verdict: Verdict) -> tuple[tuple[str, str, int], ...]:
    found = [each for judgement in verdict.judgements if judgement.is_open for each in (judgement, *judgement.follows)]
    return tuple(dict.fromkeys((j.rule.name, j.answer.thing, j.answer.at.outermost.line) for j in found))


def sealed(answer: AnswerKey) -> str:
    """The answer as a file."""
    inner = json.dumps(answer._asdict(), ensure_ascii=False).encode()
    folded = base64.b64encode(zlib.compress(inner, 9)).decode()
    head = {
        "airwright": "answer", "format": FORMAT, "exercise": answer.design, "seed": answer.seed,
        "about": "the answer to an exercise, folded up so that nobody reads it by accident; it is no secret",
        "findings": FORM,
        "grade": "airwright exercise --grade THIS_FILE FINDINGS.txt",
        "checksum": hashlib.sha256(folded.encode()).hexdigest(),
        "sealed": [folded[place: place + 100] for place in range(0, len(folded), 100)],
    }
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def opened(text: str) -> AnswerKey:
    """The answer of a file. Raises NoAnswer."""
    try:
        head = json.loads(text)
        folded = "".join(head["sealed"])
        if head["format"] != FORMAT:
            raise NoAnswer(f"it has format {head['format']}, and {FORMAT} is known here")
        if hashlib.sha256(folded.encode()).hexdigest() != head["checksum"]:
            raise NoAnswer("its checksum does not fit: it was changed after it was written")
        fields: dict[str, Any] = json.loads(zlib.decompress(base64.b64decode(folded)))
        return AnswerKey(**{name: _frozen(value) for name, value in fields.items()})
    except NoAnswer:
        raise
    except (ValueError, KeyError, TypeError, zlib.error) as trouble:
        raise NoAnswer("it is no answer that airwright exercise wrote") from trouble


def _frozen(value: Any) -> Any:
    return tuple(map(_frozen, value)) if isinstance(value, list) else value
