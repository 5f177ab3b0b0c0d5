"""The answer to an exercise: what was planted, folded up so that nobody reads it by accident, and opened again.

It is no secret: anybody who wants to can unfold it.
"""

import base64
import hashlib
import json
import re
import zlib
from collections.abc import Iterator
from typing import Any, NamedTuple

from circuit.model.circuit import Circuit
from circuit.plant.meaning import Change
from circuit.plant.planting import Planting, found_by
from circuit.verdict.judge import Verdict

FORMAT = 2
FORM = (
    "one finding a line: the number of a row or the name of a thing, or both, and what is wrong there, in your own words or by "
    "the name of a rule; as in `37 part-backwards`, `pri-check is fitted backwards` or `line 29: no drain`; `#` begins a remark"
)


class NoAnswer(ValueError):
    """A file that is no answer, or one that was changed."""


class AnswerKey(NamedTuple):
    """What was planted and what else is to be said of the spoilt design.

    mistake, title, says: the class, what people do, and what was done here. rules: those that find it. words: what it
    may be called. things, lines: where it is. gone: rows that are no longer there. names: of all things of the design.
    known: findings (rule, thing, line) of the design before. follows: further ones that come with the mistake.
    changes: figures and words of things that are other than before (thing, setting, old, new, up). left_out: kinds of things that
    are gone. level: 1 to 5. good: the text of the good design. way: names in the rows that changed. kinds: of all things.
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
    changes: tuple[tuple[str, str, str, str, bool | None], ...] = ()
    left_out: tuple[str, ...] = ()
    level: int = 1
    good: str = ""
    way: tuple[str, ...] = ()
    kinds: tuple[tuple[str, str], ...] = ()

    def kind_of(self, name: str) -> tuple[str, ...]:
        """The kind of a thing of the design, by its name or a port of it."""
        return tuple(kind for thing, kind in self.kinds if name == thing or name.startswith(f"{thing}."))

    def kinds_of_way(self) -> tuple[str, ...]:
        """The kinds of what is on the way of the mistake."""
        return tuple(kind for name in (*self.things, *self.way) for kind in self.kind_of(name))


def answer_to(planting: Planting, seed: int, before: Verdict, after: Verdict, level: int = 1) -> AnswerKey:
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
        tuple(_changes(before.circuit, after.circuit)), tuple(_left_out(before.circuit, after.circuit)), level,
        before.circuit.source.text, _way(planting, before.circuit),
        tuple((device.name, device.kind.name) for device in planting.circuit.devices if not device.is_line),
    )


def _way(planting: Planting, before: Circuit) -> tuple[str, ...]:
    """Names of things that stand in the rows that were changed or are gone, gone ones too."""
    good = set(before.source.rows)
    rows = [row for row in planting.source.rows if row not in good] + list(planting.gone)
    known = {device.name for circuit in (before, planting.circuit) for device in circuit.devices if not device.is_line}
    words = [word for row in rows for word in re.findall(r"[\w.-]*\w", row)]
    return tuple(dict.fromkeys(name for word in words for name in (word, word.rpartition(".")[0]) if name in known))


def _changes(before: Circuit, after: Circuit) -> Iterator[Change]:
    """What things of both circuits have written otherwise."""
    for device in after.devices:
        old = before.by_name.get(device.name)
        if old is None or device.is_line or old.kind is not device.kind:
            continue
        for name, given in device.given.items():
            was = old.given.get(name)
            if was is not None and was.text != given.text:
                values = old.settings[name], device.settings[name]
                figures = all(isinstance(value, (int, float)) for value in values)
                types = [re.match(r"\d+", text) for text in (was.text, given.text)]
                up = values[1] > values[0] if figures else (
                    int(types[1][0]) > int(types[0][0]) if types[0] and types[1] else None)
                yield Change(device.name, name, was.text, given.text, up)


def _left_out(before: Circuit, after: Circuit) -> Iterator[str]:
    """The kinds of things that stand no longer in the design, or are another kind now."""
    for device in before.devices:
        now = after.by_name.get(device.name)
        if not device.is_line and (now is None or now.kind is not device.kind):
            yield device.kind.name


def _findings(verdict: Verdict) -> tuple[tuple[str, str, int], ...]:
    found = [each for judgement in verdict.judgements if judgement.is_open for each in (judgement, *judgement.follows)]
    return tuple(dict.fromkeys((j.rule.name, j.answer.thing, j.answer.at.outermost.line) for j in found))


def sealed(answer: AnswerKey, *more: AnswerKey) -> str:
    """The answer as a file. more: to further mistakes of the same design."""
    inner = json.dumps([each._asdict() for each in (answer, *more)], ensure_ascii=False).encode()
    folded = base64.b64encode(zlib.compress(inner, 9)).decode()
    head = {
        "airwright": "answer", "format": FORMAT, "exercise": answer.design, "seed": answer.seed,
        "about": "the answer to an exercise, folded up so that nobody reads it by accident; it is no secret",
        "findings": FORM,
        "grade": "airwright exercise --grade THIS_FILE FINDINGS.txt, or the mended design instead of a list",
        "checksum": hashlib.sha256(folded.encode()).hexdigest(),
        "sealed": [folded[place: place + 100] for place in range(0, len(folded), 100)],
    }
    return json.dumps(head, indent=2, ensure_ascii=False) + "\n"


def opened(text: str) -> AnswerKey:
    """The answer of a file, the first of several. Raises NoAnswer."""
    return opened_all(text)[0]


def opened_all(text: str) -> tuple[AnswerKey, ...]:
    """Every answer of a file. Raises NoAnswer."""
    try:
        head = json.loads(text)
        folded = "".join(head["sealed"])
        if head["format"] != FORMAT:
            raise NoAnswer(f"it has format {head['format']}, and {FORMAT} is known here")
        if hashlib.sha256(folded.encode()).hexdigest() != head["checksum"]:
            raise NoAnswer("its checksum does not fit: it was changed after it was written")
        found: list[dict[str, Any]] = json.loads(zlib.decompress(base64.b64decode(folded)))
        return tuple(AnswerKey(**{name: _frozen(value) for name, value in fields.items()}) for fields in found)
    except NoAnswer:
        raise
    except (ValueError, KeyError, TypeError, zlib.error) as trouble:
        raise NoAnswer("it is no answer that airwright exercise wrote") from trouble


def _frozen(value: Any) -> Any:
    return tuple(map(_frozen, value)) if isinstance(value, list) else value
