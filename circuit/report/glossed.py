"""The glossary in words: one word, and the list of all."""

import textwrap

from circuit import glossary, kinds, sections
from circuit.glossary import Word
from circuit.model.forms import FORMS
from circuit.report import gate_told

WIDTH = 100


def told(word: Word) -> str:
    """The page of a word: what it is, what pushes what, its symbol and section, and where to read on."""
    lines = [f"{word.name}  (a word of the trade)" if word.push else f"{word.name}  (a word of the language and of reports)",
             *_wrapped(word.says)]
    if word.also:
        lines.append(f"Also called: {', '.join(word.also)}")
    if word.push:
        lines += ["", "What pushes what", *_wrapped(word.push, 2)]
    kind = kinds.find(word.part) if word.part else None
    if kind is not None:
        lines += ["", "Where to see it", f"  airwright explain {kind.name}"]
        if kind.symbol is not None:
            lines.append(f"  airwright draw {kind.name} -o {kind.name}.svg")
        if kind.name in sections.names():
            lines.append(f"  airwright section {kind.name}")
    if word.command:
        lines += ["", "What works it out", f"  airwright {word.command} FILE" if word.command not in ("kinds", "standards")
                  else f"  airwright {word.command}"]
    if word.see:
        lines += ["", "See also", *(f"  airwright explain {name}" for name in word.see)]
    return "\n".join(lines) + "\n"


def listed() -> str:
    """Every word by group, in the order of a course."""
    lines = ["Words, with what each means. `airwright explain WORD` tells more, by its other names too."]
    for title, words in glossary.groups():
        lines += ["", title]
        for word in words:
            lines += textwrap.wrap(f"{word.name}: {word.says}", WIDTH, initial_indent="  ", subsequent_indent="      ",
                                   break_on_hyphens=False)
    return "\n".join(lines) + "\n"


def contents() -> str:
    """What `explain` without a name prints: the lists there are, and the bare words and kinds."""
    lines = ["`airwright explain NAME` tells one; these are the lists:", ""]
    lines += [f"  {name:<12}{says}" for name, says in LISTS.items()]
    for title, words in glossary.groups():
        lines += ["", title, *_wrapped(", ".join(word.name for word in words), 2)]
    lines += ["", "Statements that are no parts", *_wrapped(", ".join(FORMS), 2)]
    lines += ["", "What a design cannot lower", *_wrapped(", ".join(gate_told.TOPICS), 2)]
    lines += ["", "Kinds of parts and lines", *_wrapped(", ".join(kind.name for kind in kinds.every()), 2)]
    return "\n".join(lines) + "\n"


LISTS = {
    "words": "the words of the trade and of the language, with what each means",
    "kinds": "the kinds of parts and lines, with what each is for",
    "rules": "the faults of a drawing that are looked for",
    "questions": "what is asked of a simulation",
    "clauses": "what the standards ask, by set",
    "severities": "what makes an error, a warning or a note",
}


def _wrapped(text: str, indent: int = 0) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent=" " * indent, subsequent_indent=" " * indent, break_on_hyphens=False)
