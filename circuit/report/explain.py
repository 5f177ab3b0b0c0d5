"""What a rule, a kind or a clause is, for somebody who wants to learn it."""

import textwrap
from difflib import SequenceMatcher

from circuit import glossary, kinds, questions, rules
from circuit.clauses import Clause, asking, rule_set, set_names
from circuit.declaring.traits import Group
from circuit.judging.limits import in_words
from circuit.judging.question import Question
from circuit.judging.rule import SEVERITIES, Rule
from circuit.model.forms import ACTIONS, FORMS, MEANT
from circuit.near import did_you_mean
from circuit.report import gate_told, glossed
from circuit.report.kind_page import WIDTH, block, page_of, para, setting_told
from circuit.report.words import sentence
from circuit.tables import table
from circuit.verdict.answering import answered_by, unanswered
from circuit.verdict.lesson import lesson_of, told_of


class Unknown(LookupError):
    """Nothing is called that; the text says what is near."""


def explain(topic: str) -> str:
    """The page of a rule, a question, a kind, a clause (`SET/NUMBER`), a word of the glossary or a list.

    The lists are `words`, `rules`, `questions`, `kinds`, `clauses` and `severities`; "" gives what there is.

    Raises Unknown for anything else.
    """
    if not topic:
        return glossed.contents()
    if topic in ("words", "glossary"):
        return glossed.listed()
    if topic == "rules":
        return _rules()
    if topic == "kinds":
        return _kinds()
    if topic in ("clauses", "standards"):
        return _clauses()
    if topic == "severities":
        return _severities()
    if topic == "questions":
        return _questions()
    if topic in gate_told.TOPICS:
        return gate_told.TOPICS[topic]
    rule = rules.find(topic)
    if rule is not None:
        return _rule(rule)
    kind = kinds.find(topic)
    if kind is not None:
        return page_of(kind)
    if topic in FORMS:  # `rules` is the list above
        return _form(topic)
    found = _find_clause(topic)
    if found is not None:
        return _clause(found)
    question = questions.find(topic)
    if question is not None:
        return _question(question)
    word = glossary.find(topic)
    if word is not None:
        return glossed.told(word)
    known = [*gate_told.TOPICS, *glossary.names(), *(r.name for r in rules.every()), *kinds.names(), *FORMS, *questions.names(),
             *(c.key for n in set_names() for c in rule_set(n).clauses)]
    offer = did_you_mean(topic, known) or "the lists are: airwright explain words, rules, questions, kinds, clauses or severities"
    raise Unknown(f"nothing is called `{topic}`: {offer}")


def _form(word: str) -> str:
    """A statement that is no part: what it carries, and for a trial what its steps carry."""
    lines = [f"{word}  (a statement of the language, no part)", *para(MEANT[word])]
    lines += block("Settings", *(row for setting in FORMS[word] for row in setting_told(setting))) if FORMS[word] else []
    if word == "trial":
        lines += block("Steps")
        for action, settings in ACTIONS.items():
            lines += para(f"{action} NAME: " + "; ".join(f"{s.name}, {s.says}" for s in settings) if settings else action, 2)
    lines += block("How it is written", *para("each construct stands with a sample in grammar/README.md", 2))
    return "\n".join(lines) + "\n"


def _find_clause(topic: str) -> Clause | None:
    for name in set_names():
        for found in rule_set(name).clauses:
            if _plain(topic) in map(_plain, (found.key, found.number, found.cited)):
                return found
    return None


def _plain(words: str) -> str:
    """A clause's name as somebody may type it: in small letters, blanks or hyphens between."""
    return words.lower().replace(" ", "-")


def _rule(rule: Rule) -> str:
    told = lesson_of(rule.name)
    lines = [f"{rule.name}  ({rule.severity})", *para(told.fault)]
    lines += block("Why it is asked", *para(told.why, 2))
    lines += block("What happens", *para(told.consequence, 2))
    bad, good = marked(told.bad, told.good)
    lines += block("A design that has it", *bad)
    lines += block("The same without it", *good)
    lines += ["", f"`{DIFFERS}` marks the rows in which they differ."]
    lines += block("What is not checked", *para(told.not_checked, 2))
    lines += block("Who asks for it")
    for one in asking(rule.name):
        lines += _cited(one)
    return "\n".join(lines) + "\n"


DIFFERS = ">"


def marked(bad: str, good: str) -> tuple[list[str], list[str]]:
    """Rows of two designs, those that the other has not marked.

    >>> marked("a\\nb\\n", "a\\nc\\n")
    (['    a', '  > b'], ['    a', '  > c'])
    """
    rows = (bad.rstrip().split("\n"), good.rstrip().split("\n"))
    shown: tuple[list[str], list[str]] = ([], [])
    for change, a, b, c, d in SequenceMatcher(None, rows[0], rows[1], autojunk=False).get_opcodes():
        for out, own, start, end in ((shown[0], rows[0], a, b), (shown[1], rows[1], c, d)):
            out += [f"  {' ' if change == 'equal' else DIFFERS} {row}".rstrip() for row in own[start:end]]
    return shown


def _question(question: Question) -> str:
    told = told_of(question.name)
    lines = [f"{question.name}  (asked of a simulation)", *para(sentence(question.title)), "", *para(told.question, 2)]
    lines += block("What happens when it is missed", *para(told.consequence, 2))
    lines += block("What to do", *para(sentence(told.mend), 2))
    lines += block("Who asks for it")
    for one in asking(question.name):
        lines += _cited(one)
    return "\n".join(lines) + "\n"


def _questions() -> str:
    lines = ["Questions that clauses ask of a simulation, or of the study of single faults."]
    for name in questions.names():
        if (found := questions.find(name)) is not None:
            lines += textwrap.wrap(f"{name}: {found.title}", WIDTH, initial_indent="  ", subsequent_indent="      ",
                                   break_on_hyphens=False)
    return "\n".join(lines) + "\n"


def _cited(found: Clause) -> list[str]:
    source = found.known if found.basis == found.source else f"{found.known}: {found.source}"
    edition = f", {found.edition}" if found.edition else ""
    return [f"  {found.cited} (set {found.set_name}, for {', '.join(found.vehicles)})",
            *para(found.asks, 4), *para(f"[{source}{edition}]", 4)]


def _rules() -> str:
    width = max(len(rule.name) for rule in rules.every()) + 2
    lines = ["Rules, each named for the fault it finds. `airwright explain NAME` tells one.", ""]
    lines += [f"  {rule.name:<{width}}{rule.title}" for rule in rules.every()]
    return "\n".join(lines) + "\n"


def _kinds() -> str:
    width = max(len(kind.name) for kind in kinds.every()) + 2
    lines = ["Kinds of parts and lines. `airwright explain NAME` tells one."]
    for group in Group:
        members = [kind for kind in kinds.every() if kind.group is group]
        if members:
            lines += ["", group.value.capitalize()]
            lines += [f"  {kind.name:<{width}}{kind.purpose}" for kind in members]
    return "\n".join(lines) + "\n"


def _severities() -> str:
    """What makes a finding an error or a warning, and each rule's with its reason, which is what happens."""
    lines = ["Severities. `airwright check --fail-on error` lets warnings pass, `--fail-on note` nothing; a waiver accepts one "
             "finding."]
    for severity, means in SEVERITIES.items():
        lines += block(severity, *para(means, 2), "")
        for rule in rules.every():
            if rule.severity == severity:
                lines += textwrap.wrap(f"{rule.name}: {lesson_of(rule.name).consequence}", WIDTH, initial_indent="  ",
                                       subsequent_indent="      ", break_on_hyphens=False)
    lines += block("Where it differs", *para("A finding that only an advisory clause asks for is a warning, whatever "
                                               "the rule.", 2))
    return "\n".join(lines) + "\n"


def _clauses() -> str:
    lines = ["Clauses by set. `airwright explain SET/NUMBER` tells one."]
    for name in set_names():
        lines += ["", f"{name}: {rule_set(name).title}"]
        for found in rule_set(name).clauses:
            lines += textwrap.wrap(f"{found.number}: {found.asks}", WIDTH, initial_indent="  ",
                                   subsequent_indent="      ")
    return "\n".join(lines) + "\n"


def _clause(found: Clause) -> str:
    lines = _cited(found)
    asked = answered_by(found)
    decided = {"drawing": "from the drawing", "simulation": "from pressures over time", "declared": "only if declared",
               "physical test": "by no file: it takes a physical test"}[found.decided]
    lines.append(f"  decided {decided}" + (f", by {', '.join(asked)}" if asked else ""))
    for name in unanswered(found):
        lines += para(f"nothing here answers its question, {name}", 2)
    if found.needs:
        lines += para(f"it takes {found.needs}", 2)
    if found.unused:
        lines += para(f"no rule reads it: {found.unused}", 2)
    if found.is_too_vague:
        lines.append("  nothing passes or fails by it: its text is remembered too vaguely")
    if found.advisory:
        lines.append("  it is no law of design for these vehicles: what misses it is a warning")
    if found.towing:
        lines.append("  it holds for vehicles that tow air-braked ones")
    if found.lifted_for:
        lines += para(f"{found.lifted_by} leaves out a vehicle that declares body {' or '.join(found.lifted_for)}", 2)
    if found.since:
        lines.append(f"  it holds for vehicles built from {found.since}, and where no year is declared")
    if found.before:
        lines.append(f"  it holds for vehicles declared as built before {found.before}")
    own = found.set_name
    for topic in table("topics")["topic"]:
        others = [key for key in topic["clauses"] if not key.startswith(f"{own}/")]
        if found.key in topic["clauses"] and others:
            lines += para(f"other sets answer the same question ({topic['title']}): {', '.join(others)}", 2)
    for word, figures in (("how", found.procedure), ("limits", found.limit)):
        if figures:
            lines += para(f"{word}: {', '.join(in_words(figures))}", 2)
    return "\n".join(lines) + "\n"
