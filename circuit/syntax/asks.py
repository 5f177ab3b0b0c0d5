"""Slips that are recognised by the words of the trade: a known setting or kind stands where it cannot.

Each looks at a statement and answers with a mistake or None; without a vocabulary it is silent.
"""

import re
from collections.abc import Callable, Iterator

from circuit.mistake import Mistake
from circuit.syntax.view import View, Word

Ask = Callable[[View], Mistake | None]

_WORD = re.compile(r"(?<![\w.<-])[^\W\d_][\w-]*(?![\w.>-])")
_PART = re.compile(r"[^:,]+")
_HEAD = re.compile(r"[^\W\d_][\w-]*\s+(?P<a>[\w.<>-]*\w>?)\s+(?P<b>[\w.<>-]*\w>?)\s*:")
_STATEMENT = re.compile(r"(?<![\w.<>-])(?P<kind>[^\W\d_][\w-]*)[ \t]+[^\s:,]+[ \t]*(?:->[ \t]*[^\s:,]+[ \t]*)?:")
_MARK = re.compile(
    r"(?P<head>[^\W\d_][\w-]*\s+[\w.<>-]*\w>?)\s*(?P<at>[-=~.;,|]+)\s*(?P<word>[^\W\d_][\w-]*)\s")
_AND = re.compile(r"(?<=[\w>][ \t])(?:And|AND|or)(?=[ \t]+[\w<])")
_REMARK = re.compile(r"[^:>\"\d\n]*\Z")


def _settings(seen: View) -> Iterator[tuple[int, list[re.Match[str]]]]:
    """For each stretch between commas behind the colon: where it begins, and its words."""
    colon = seen.text.find(":")
    if colon < 0:
        return
    for part in _PART.finditer(seen.text, max(colon + 1, seen.start)):
        yield part.start(), list(_WORD.finditer(seen.text, part.start(), part.end()))


def comma(seen: View) -> Mistake | None:
    """`20 L rated 10 bar`: a known setting in the middle of another."""
    if not seen.words:
        return None
    for start, words in _settings(seen):
        for place, word in enumerate(words):
            leads = not seen.text[start:word.start()].strip()
            if leads or (seen.error is not None and word.start() > seen.error):
                continue
            follows = seen.text[word.end():word.end() + 200].lstrip(" \t")[:1] not in ("", ",", ":", "\n", ".")
            joined = place > 0 and words[place - 1].group() == "and"
            if follows and not joined and seen.words.is_setting(word.group(), seen.kind):
                return seen.mistake(word.start(), word.end(), f"a comma is missing before `{word.group()}`",
                                    "put a comma in front of it")
    return None


def spaced(seen: View) -> Mistake | None:
    """`cut in 7.2 bar`: the words of a known setting without their hyphens."""
    if not seen.words:
        return None
    for start, words in _settings(seen):
        if not words or seen.text[start:words[0].start()].strip():
            continue
        for count in (4, 3, 2):
            some = words[:count]
            text = seen.text[some[0].start():some[-1].end()]
            name = "-".join(text.split())
            if len(some) == count and len(text.split()) == count and seen.words.is_setting(name, seen.kind):
                return seen.mistake(some[0].start(), some[-1].end(), f"`{text}` is one word", f"write `{name}`")
    return None


def listed(seen: View) -> Mistake | None:
    """`axles front, rear`: a word that is no setting, alone between commas behind a setting with names."""
    if not seen.words:
        return None
    before: list[str] = []
    for start, words in _settings(seen):
        text = [word.group() for word in words]
        if len(words) == 1 and before and not seen.words.is_setting(text[0], seen.kind):
            stop = seen.text.find(",", words[0].end())
            alone = seen.text[start:stop if stop >= 0 else len(seen.text)].strip() == text[0]
            if alone and seen.words.is_setting(before[0], seen.kind):
                return seen.mistake(words[0].start(), words[0].end(), "a list is written with `and`",
                                    f"write `{' '.join(before)} and {text[0]}`")
        whole = _PART.match(seen.text, start)
        before = text if whole and len(text) > 1 and whole.group().split() == text else []
    return None


def arrow(seen: View) -> Mistake | None:
    """`hose wet dry:`: two names where the kind is something with a length."""
    found = _HEAD.match(seen.text) if seen.words else None
    if found is None or not seen.words.is_kind(seen.kind) or not seen.words.is_setting("length", seen.kind):
        return None
    return seen.mistake(found.start("b"), found.end("b"), "from and to are joined by ->",
                        f"write `{Word(found['a'])} -> {Word(found['b'])}`")


def colon(seen: View) -> Mistake | None:
    """`reservoir wet tank volume 20 L`: no colon before the first known setting."""
    row = seen.text.partition("\n")[0]
    if not seen.words or ":" in row:
        return None
    names: list[str] = []
    for place, word in enumerate(_WORD.finditer(row)):
        if place > 1 and seen.words.is_setting(word.group(), seen.kind):
            if all((name == "and") == bool(number % 2) for number, name in enumerate(names)):
                return None  # one name or a list of them: the general message names the word before
            return seen.mistake(word.start(), word.end(), f"a colon is missing before `{word.group()}`",
                                "write the name in one word, a colon and then the settings")
        if place > 8:
            break
        if place:
            names.append(word.group())
    return None


def marked(seen: View) -> Mistake | None:
    """`reservoir wet = volume 20 L`: another mark than a colon before a known setting."""
    found = _MARK.match(seen.text) if seen.words else None
    if found is None or not seen.words.is_setting(found["word"], seen.kind):
        return None
    return seen.mistake(found.start("at"), found.end("at"), "a colon belongs here, between the name and its settings",
                        f"write `{Word(found['head'])}:`")


def unlisted(seen: View) -> Mistake | None:
    """`axles front And rear`, `front or rear`: another word than `and` in a list."""
    found = _AND.search(seen.text)
    if found is None:
        return None
    return seen.mistake(found.start(), found.end(), "a list is joined with `and`, in small letters", "write `and`")


def nameless(seen: View) -> Mistake | None:
    """`reservoir volume 20 L`: a known setting where the name should stand."""
    if not seen.words or ":" in seen.text:
        return None
    found = re.match(r"(?P<kind>[^\W\d_][\w-]*)\s+(?P<at>[^\W\d_][\w-]*)\s+[-+]?\d", seen.text)
    if found is None or not seen.words.is_setting(found["at"], found["kind"]):
        return None
    return seen.mistake(found.start("at"), found.end("at"), f"a name and a colon are missing before `{found['at']}`",
                        f"write them as in `{found['kind']} wet: {found['at']}`")


def own_row(seen: View) -> Mistake | None:
    """`role supply reservoir dry: volume 46 L`: two statements in one row."""
    if not seen.words or ":" not in seen.text:
        return None
    for found in _STATEMENT.finditer(seen.text, seen.text.index(":") + 1):
        if seen.words.is_kind(found["kind"]):
            return seen.mistake(found.start(), found.end("kind"),
                                f"a new {found['kind']} begins in the middle of a row", "begin it in a row of its own")
    return None


def remark(seen: View) -> Mistake | None:
    """`rear brakes follow below`: words, and the first is no kind."""
    if not seen.words or not _REMARK.match(seen.text) or len(seen.text.split(maxsplit=3)) < 3:
        return None
    kind = seen.kind
    if not kind or seen.words.is_kind(kind) or any(
            seen.words.is_setting(word, kind) for word in seen.text.replace(",", " ").split()[2:3]):
        return None
    return seen.mistake(0, len(kind), f"`{Word(kind)}` is no kind of thing", "if this is a remark, begin it with #")


DOUBTS: tuple[Ask, ...] = (spaced, comma, listed, unlisted)
"""What can be wrong with a statement that parses."""
