"""What changed in meaning in the frozen tables beside the examples: what a reviewer reads instead of their lines.

    python -m tests.examples.meaning              the working tree against the last commit
    python -m tests.examples.meaning main         ... against another revision
    python -m tests.examples.meaning v1 v2        one revision against another

For each example: faults that lose a brake more or less, that changed their class, that are new or gone; clauses that turned
from met to not met or back; figures that moved by more than 1 %, the farthest first. It reads the frozen texts alone, so it
costs nothing and knows nothing that they do not say.
"""

import difflib
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from typing import NamedTuple

from tests.designs import EXAMPLES, example_names
from tests.examples.predicted import NUMBER

ROOT = EXAMPLES.parent
SHOWN = 8
"""Rows of one sort that are printed for an example; the others are counted."""
PERCENT = 1.0
_NAME = r"[\w.-]+"
_LIST = rf"{_NAME}(?:, {_NAME})*(?: and {_NAME})?"
_NONE = re.compile(rf"no service brake on ({_LIST})(?= and {_LIST} brakes? with|;|$)")
_LESS = re.compile(rf"({_LIST}) brakes? with (\d+) %")
_LAME = re.compile(rf"(half|a quarter|three quarters|\d+ %) of the brakes of ({_LIST}) do nothing")
_SITUATION = re.compile(r"^(driving|braking|parked): ")
_PARTS = {"half": 0.5, "a quarter": 0.25, "three quarters": 0.75}
_VERDICT = re.compile(r"(?<![\w-])(NOT MET|not met|met)(?![\w-])((?:, (?:but )?[a-z]+(?: [a-z]+)*)?)")


class Fault(NamedTuple):
    """A single fault as the table tells it. place: of its class, the worst is 0. brakes: how many axles' it loses, in a stop
    or later."""

    title: str
    place: int
    lost: str
    brakes: float


class Row(NamedTuple):
    """A line of the predicted tables. key: its words without figures and verdict."""

    key: str
    verdict: str
    figures: tuple[str, ...]
    text: str


def brakes_lost(says: str) -> float:
    """How many axles' service brakes an outcome takes, parts of one counted as parts.

    >>> brakes_lost("braking: no service brake on front and rear; wet empty"), brakes_lost("front brakes with 25 % of its force")
    (2.0, 0.75)
    """
    total = 0.0
    for found in _NONE.finditer(says):
        total += len(_listed(found[1]))
    for found in _LESS.finditer(_NONE.sub("", says)):
        total += len(_listed(found[1])) * (1 - int(found[2]) / 100)
    for found in _LAME.finditer(says):
        share = _PARTS.get(found[1]) or int(found[1].split()[0]) / 100
        total += share * len(_listed(found[2]))
    return round(total, 4)


def _listed(text: str) -> list[str]:
    return re.split(r", | and ", text)


def faults_of(text: str) -> dict[str, Fault]:
    """Every fault that a table of faults names."""
    found: dict[str, Fault] = {}
    titles: list[str] = []
    row: dict[str, str] = {}
    word = ""
    for line in [*text.split("\n"), ""]:
        if re.fullmatch(r"[A-Z][A-Z ,:]+", line):
            titles.append(line.lower())
        start = re.match(r"  (lost|is|then|left|by) +(.*)", line)
        if start:
            word = "lost" if start[1] == "is" else start[1]
            row[word] = start[2]
        elif row and line.startswith(" " * 8):
            row[word] += " " + line.strip()
        elif row:
            says, _, then = row.get("lost", ""), *row.get("then", "").partition(": ")[1:]
            for name in _named(row.get("by", "")):
                found[name] = Fault(titles[-1], len(titles) - 1, says, max(brakes_lost(says), brakes_lost(then)))
            row = {}
    return found


def _named(by: str) -> Iterator[str]:
    """`pri: burst, leaks; sec: burst` is three faults; a note of how many more there are is none."""
    for part in by.split("; "):
        name, colon, failures = part.partition(": ")
        if colon:
            yield from (f"{name}: {failure}" for failure in failures.split(", "))


def rows_of(text: str) -> list[Row]:
    """The lines of the predicted tables that say something."""
    found = []
    for line in text.split("\n"):
        if line.strip(" -="):
            verdict = _VERDICT.search(line)
            bare = line if verdict is None else line[:verdict.start()] + line[verdict.end():]
            found.append(Row(" ".join(NUMBER.sub("#", bare).split()), verdict[0] if verdict else "",
                             tuple(NUMBER.findall(bare)), " ".join(line.split())))
    return found


def faults_changed(before: dict[str, Fault], now: dict[str, Fault]) -> dict[str, list[str]]:
    """What happened to which faults, by the sort of change; those with the same change in one row."""
    titles = list(dict.fromkeys(f.title for f in sorted([*before.values(), *now.values()], key=lambda f: f.place)))
    found: dict[str, dict[str, list[str]]] = {}
    for name, new in now.items():
        old = before.get(name)
        if old is None:
            sort, says = "named for the first time", _short(new.lost)
        elif new.brakes != old.brakes:
            sort = f"that lose a brake {'more' if new.brakes > old.brakes else 'less'}, or part of one"
            says = difference(old.lost, new.lost)
        elif new.title != old.title:
            sort = f"in a {'worse' if titles.index(new.title) < titles.index(old.title) else 'better'} class"
            says = f"{old.title} -> {new.title}"
        elif NUMBER.sub("#", difference(old.lost, new.lost)):
            sort, says = "told otherwise", difference(old.lost, new.lost)
        else:
            continue
        found.setdefault(f"faults {sort}", {}).setdefault(says, []).append(name)
    for name in (name for name in before if name not in now):
        found.setdefault("faults not named any more", {}).setdefault(_short(before[name].lost), []).append(name)
    return {f"{sort}: {sum(map(len, rows.values()))}": [f"{_some(names)}: {says}" for says, names in rows.items()]
            for sort, rows in found.items()}


def difference(old: str, new: str) -> str:
    """What an outcome says no longer and what it says now, figures aside; empty where that is the same.

    >>> difference("braking: no service brake on front; wet 8.1 bar", "wet 8.2 bar; front brakes with 21 % of its force")
    'no service brake on front -> front brakes with 21 % of its force'
    """
    gone, come = (_SITUATION.sub("", text).split("; ") for text in (old, new))
    bare = [{NUMBER.sub("#", part) for part in parts} for parts in (gone, come)]
    lost = [part for part in gone if NUMBER.sub("#", part) not in bare[1]]
    got = [part for part in come if NUMBER.sub("#", part) not in bare[0]]
    return f"{_short('; '.join(lost) or 'nothing')} -> {_short('; '.join(got) or 'nothing')}" if lost or got else ""


def _some(names: list[str]) -> str:
    return "; ".join(names[:2]) + (f" and {len(names) - 2} more" if len(names) > 2 else "")


def _short(text: str) -> str:
    return text if len(text) <= 90 else text[:87].rstrip() + "..."


def rows_changed(before: str, now: str) -> tuple[list[str], list[tuple[float, str]], int]:
    """Verdicts that turned; figures that moved, each with by how many per cent; lines that have no counterpart."""
    olds, news = rows_of(before), rows_of(now)
    turned: list[str] = []
    moved: list[tuple[float, str]] = []
    alone = 0
    matcher = difflib.SequenceMatcher(None, [row.key for row in olds], [row.key for row in news], autojunk=False)
    for what, i1, i2, j1, j2 in matcher.get_opcodes():
        if what != "equal":
            alone += max(i2 - i1, j2 - j1)
            continue
        for old, new in zip(olds[i1:i2], news[j1:j2]):
            if old.verdict != new.verdict:
                turned.append(f"{new.text}   (was: {old.verdict or 'no verdict'})")
            farthest = max((_percent(a, b) for a, b in zip(old.figures, new.figures)), default=0.0)
            if farthest > PERCENT:
                pairs = [f"{a} -> {b}" for a, b in zip(old.figures, new.figures) if _percent(a, b) > PERCENT]
                moved.append((farthest, f"{_short(new.text)}   ({', '.join(pairs[:3])})"))
    return turned, sorted(moved, reverse=True), alone


def _percent(old: str, new: str) -> float:
    one, other = (float(text.replace(",", "")) for text in (old, new))
    least = 2.0 * 10.0 ** -len(old.partition(".")[2])
    return 0.0 if abs(other - one) <= least else 100.0 * abs(other - one) / max(abs(one), least)


def told(name: str, read: Callable[[str], str], again: Callable[[str], str]) -> dict[str, list[str]]:
    """What changed in the tables of an example, by its sort; nothing where nothing did. read, again: a file before and now."""
    found: dict[str, list[str]] = {}
    tables, predicted = ([side(f"examples/{name}/{file}.txt") for side in (read, again)] for file in ("faults", "predicted"))
    for file, sides in (("faults", tables), ("predicted", predicted)):
        if not all(sides) and any(sides):
            found[f"{file}.txt {'is new' if sides[1] else 'is gone'}: 1"] = []
    if all(tables):
        found.update(faults_changed(*map(faults_of, tables)))
    if all(predicted):
        turned, moved, alone = rows_changed(*predicted)
        found[f"verdicts turned: {len(turned)}"] = turned
        found[f"lines with a figure moved by more than {PERCENT:g} %: {len(moved)}"] = [text for _, text in moved]
        found[f"lines of predicted.txt that came, went or say something else: {alone}"] = []
    return {sort: rows for sort, rows in found.items() if not sort.endswith(": 0")}


def _part(head: str, rows: list[str]) -> list[str]:
    more = [f"      and {len(rows) - SHOWN} rows more"] if len(rows) > SHOWN else []
    return [f"  {head}", *(f"      {row}" for row in rows[:SHOWN]), *more]



def at(revision: str) -> Callable[[str], str]:
    """Reads files as they are in a revision; a file that is not there is empty."""
    def read(path: str) -> str:
        done = subprocess.run(["git", "show", f"{revision}:{path}"], cwd=ROOT, capture_output=True, text=True)
        return done.stdout if done.returncode == 0 else ""
    return read


def working_tree(path: str) -> str:
    """Reads files as they are now."""
    file = ROOT / path
    return file.read_text(encoding="utf-8") if file.is_file() else ""


def summary(read: Callable[[str], str], again: Callable[[str], str], names: tuple[str, ...]) -> str:
    """What changed in all examples: the sums, then each."""
    changed = {name: found for name in names if (found := told(name, read, again))}
    sums: dict[str, int] = {}
    for found in changed.values():
        for sort in found:
            words, _, number = sort.rpartition(": ")
            sums[words] = sums.get(words, 0) + int(number)
    lines = [f"{len(changed) or 'none'} of {len(names)} examples changed in meaning"]
    lines += [f"  {words}: {number}" for words, number in sums.items()]
    for name, found in changed.items():
        lines += ["", name, *(line for sort, rows in found.items() for line in _part(sort, rows))]
    return "\n".join(lines)


def main(revisions: list[str]) -> int:
    if len(revisions) > 2:
        print("give one revision, or two", file=sys.stderr)
        return 2
    for revision in revisions:
        known = subprocess.run(["git", "rev-parse", "--verify", "--quiet", f"{revision}^{{commit}}"], cwd=ROOT,
                               capture_output=True)
        if known.returncode:
            print(f"git knows no revision `{revision}` here", file=sys.stderr)
            return 2
    before, *after = revisions or ["HEAD"]
    print(summary(at(before), at(after[0]) if after else working_tree, example_names()))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
