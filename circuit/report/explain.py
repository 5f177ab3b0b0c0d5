"""What a rule, a kind or a clause is, for somebody who wants to learn it."""

import inspect
import textwrap
from importlib import import_module

from circuit import glossary, kinds, questions, rules, sections
from circuit.clauses import Clause, asking, rule_set, set_names
from circuit.declaring.common import COMMON
from circuit.declaring.kind import OUTSIDE, Failure, Kind, Setting
from circuit.declaring.proving import often, proof
from circuit.declaring.traits import Group, Role, Trait
from circuit.judging.limits import in_words
from circuit.judging.question import Question
from circuit.judging.rule import SEVERITIES, Rule
from circuit.model.forms import ACTIONS, FORMS, MEANT
from circuit.near import did_you_mean
from circuit.report import gate_told, glossed
from circuit.report.inside.asked import of_kind
from circuit.report.words import SHOP, sentence
from circuit.tables import table
from circuit.verdict.answering import answered_by, unanswered
from circuit.verdict.lesson import lesson_of, told_of

_WIDTH = 100


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
        return _kind(kind)
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
    lines = [f"{word}  (a statement of the language, no part)", *_para(MEANT[word])]
    lines += _block("Settings", *(row for setting in FORMS[word] for row in _setting(setting))) if FORMS[word] else []
    if word == "trial":
        lines += _block("Steps")
        for action, settings in ACTIONS.items():
            lines += _para(f"{action} NAME: " + "; ".join(f"{s.name}, {s.says}" for s in settings) if settings else action, 2)
    lines += _block("How it is written", *_para("each construct stands with a sample in grammar/README.md", 2))
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


def _para(text: str, indent: int = 0) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent=" " * indent, subsequent_indent=" " * indent,
                         break_on_hyphens=False)


def _block(title: str, *lines: str) -> list[str]:
    return ["", title, *lines]


def _rule(rule: Rule) -> str:
    told = lesson_of(rule.name)
    lines = [f"{rule.name}  ({rule.severity})", *_para(told.fault)]
    lines += _block("Why it is asked", *_para(told.why, 2))
    lines += _block("What happens", *_para(told.consequence, 2))
    lines += _block("A design that has it", *("    " + row for row in told.bad.rstrip().split("\n")))
    lines += _block("The same without it", *("    " + row for row in told.good.rstrip().split("\n")))
    lines += _block("What is not checked", *_para(told.not_checked, 2))
    lines += _block("Who asks for it")
    for one in asking(rule.name):
        lines += _cited(one)
    return "\n".join(lines) + "\n"


def _question(question: Question) -> str:
    told = told_of(question.name)
    lines = [f"{question.name}  (asked of a simulation)", *_para(sentence(question.title)), "", *_para(told.question, 2)]
    lines += _block("What happens when it is missed", *_para(told.consequence, 2))
    lines += _block("What to do", *_para(sentence(told.mend), 2))
    lines += _block("Who asks for it")
    for one in asking(question.name):
        lines += _cited(one)
    return "\n".join(lines) + "\n"


def _questions() -> str:
    lines = ["Questions that clauses ask of a simulation, or of the study of single faults."]
    for name in questions.names():
        if (found := questions.find(name)) is not None:
            lines += textwrap.wrap(f"{name}: {found.title}", _WIDTH, initial_indent="  ", subsequent_indent="      ",
                                   break_on_hyphens=False)
    return "\n".join(lines) + "\n"


def _cited(found: Clause) -> list[str]:
    source = found.known if found.basis == found.source else f"{found.known}: {found.source}"
    edition = f", {found.edition}" if found.edition else ""
    return [f"  {found.cited} (set {found.set_name}, for {', '.join(found.vehicles)})",
            *_para(found.asks, 4), *_para(f"[{source}{edition}]", 4)]


def _kind(kind: Kind) -> str:
    lines = [f"{kind.name}  ({kind.group.value})", *_para(f"{kind.title}. {kind.purpose}")]
    if kind.aliases:
        lines.append(f"Also called: {', '.join(kind.aliases)}")
    lines += _block("What the air does", *_para(kind.behaviour, 2))
    if kind.passages:
        lines.append("")
        for passage in kind.passages:
            end = "the open air" if passage.end == OUTSIDE else passage.end
            arrow = "<->" if passage.both_ways else "->"
            keeps = f"; keeps {passage.start} at `{passage.keeps}`" if passage.keeps else ""
            lines += _para(f"{passage.start} {arrow} {end}: {passage.says}{keeps}", 2)
    if (more := glossary.beside(kind.name)) is not None:
        lines += _block("What pushes what", *_para(more.push, 2)) + _block("What one hears", *_para(more.hear, 2))
    lines += _block("Ports", *(f"  {p.number:<4}{_port(p)}" for p in kind.ports))
    if kind.settings:
        lines += _block("Settings")
        for setting in kind.settings:
            lines += _setting(setting)
        lines += [row for order in kind.orders for row in _para(
            f"`{order.low}` stays {'at or ' if order.equal else ''}below `{order.high}`", 2)]
    if kind.positions:
        lines += _block("How a hand sets it", *_para(
            f"{', '.join(kind.positions)}; in a trial `set NAME: state {next(iter(kind.positions))}, at 2 s`", 2))
    if kind.failures:
        lines += _block(f"How it fails, how often ({COMMON}), and how a workshop proves it",
                        *(row for f in kind.failures for row in _failure(kind, f)))
    if kind.name in sections.names():
        lines += _block("Inside, state by state (with typical settings)", *(
            row for found in of_kind(kind.name) for row in _para(f"{found.state}: {found.sentence}", 2)), "",
            f'    airwright section {kind.name} --state "{of_kind(kind.name)[0].state}" -o {kind.name}.svg')
    lines += _block("How it is written", "    " + sample(kind))
    if kind.symbol is not None:
        lines += _block("Its symbol", f"    airwright draw {kind.name} -o {kind.name}.svg")
    asked = [rule.name for rule in rules.every() if any(t.name in _traits_of(rule) for t in kind.traits)]
    if asked:
        lines += _block("Rules that look at it", *_para(", ".join(asked), 2))
    if Trait.SPRING_ACTUATOR in kind.traits or Trait.STORES_AIR in kind.traits:
        lines += _block("Take care", *_para(SHOP, 2))
    return "\n".join(lines) + "\n"


def _failure(kind: Kind, failure: Failure) -> list[str]:
    return _para(f"{failure.name}, {often(failure)}: {failure.says}", 2) + _para(f"proof: {proof(kind, failure)}", 6)


def _traits_of(rule: Rule) -> set[str]:
    source = inspect.getsource(import_module(f"circuit.rules.{rule.name.replace('-', '_')}"))
    return {trait.name for trait in Trait if f"Trait.{trait.name}" in source}


def _port(port) -> str:  # type: ignore[no-untyped-def]
    words = f" ({', '.join(port.words)})" if port.words else ""
    holes = "; any number of holes" if port.holes == 0 else f"; {port.holes} holes" if port.holes > 1 else ""
    holes = f"; holes by `{port.holes_from}`" if port.holes_from else holes
    free = "" if port.required or port.role is Role.EXHAUST else "; may stay unused"
    vent = "; open to the air unless plugged or piped away" if port.role is Role.EXHAUST else ""
    lost = f"; {port.lost}" if port.role is Role.DELIVERY else ""
    return f"{port.role.value}{words}{holes}{free}{vent}{lost}"


def _setting(setting: Setting) -> list[str]:
    what = setting.says + (f": {', '.join(setting.choices)}" if setting.choices else "")
    if setting.required:
        when = "must be written"
    elif setting.typical is not None:
        when = f"{setting.typical.text} when left out ({setting.typical.source})"
    else:
        when = "may be left out"
        if setting.usual is not None:
            when += f"; a study that asks for it takes {setting.usual.text} ({setting.usual.source})"
    return _para(f"{setting.name}: {what}; {when}", 2)


_VALUES = {"volume": "20 L", "pressure": "8.5 bar", "difference": "0.2 bar", "length": "2 m", "flow": "12 cfm",
           "chamber": "20", "size": "1/2 in", "bore": "3/8 in", "count": "4", "text": '"horn"', "name": "rear",
           "reference": "wet", "place": "wet", "names": "wet and dry", "fraction": "50 %"}
_LOWER = {"pressure": "7 bar", "length": "0.5 m"}
"""As the value above, for a setting that stays below another one."""


def sample(kind: Kind, name: str = "NAME") -> str:
    """A statement of the kind with everything it must have."""
    from circuit.declaring.kind import Setting as _S

    def value(setting: _S) -> str:
        if setting.choices:
            return setting.choices[0]
        if setting.name == "type" and Trait.SPRING_ACTUATOR in kind.traits:
            return "30/30"
        if any(order.low == setting.name for order in kind.orders):
            return _LOWER[setting.dimension]
        return _VALUES.get(setting.dimension, "1")

    wanted = [s for s in kind.settings if s.required or s.name == "on"]
    tail = ": " + ", ".join(f"{s.name} {value(s)}" for s in wanted) if wanted else ""
    subject = "wet -> foot.1" if Trait.LINE in kind.traits else name
    return f"{kind.name} {subject}{tail}"


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
        lines += _block(severity, *_para(means, 2), "")
        for rule in rules.every():
            if rule.severity == severity:
                lines += textwrap.wrap(f"{rule.name}: {lesson_of(rule.name).consequence}", _WIDTH, initial_indent="  ",
                                       subsequent_indent="      ", break_on_hyphens=False)
    lines += _block("Where it differs", *_para("A finding that only an advisory clause asks for is a warning, whatever "
                                               "the rule.", 2))
    return "\n".join(lines) + "\n"


def _clauses() -> str:
    lines = ["Clauses by set. `airwright explain SET/NUMBER` tells one."]
    for name in set_names():
        lines += ["", f"{name}: {rule_set(name).title}"]
        for found in rule_set(name).clauses:
            lines += textwrap.wrap(f"{found.number}: {found.asks}", _WIDTH, initial_indent="  ",
                                   subsequent_indent="      ")
    return "\n".join(lines) + "\n"


def _clause(found: Clause) -> str:
    lines = _cited(found)
    asked = answered_by(found)
    decided = {"drawing": "from the drawing", "simulation": "from pressures over time", "declared": "only if declared",
               "physical test": "by no file: it takes a physical test"}[found.decided]
    lines.append(f"  decided {decided}" + (f", by {', '.join(asked)}" if asked else ""))
    for name in unanswered(found):
        lines += _para(f"nothing here answers its question, {name}", 2)
    if found.needs:
        lines += _para(f"it takes {found.needs}", 2)
    if found.unused:
        lines += _para(f"no rule reads it: {found.unused}", 2)
    if found.is_too_vague:
        lines.append("  nothing passes or fails by it: its text is remembered too vaguely")
    if found.advisory:
        lines.append("  it is no law of design for these vehicles: what misses it is a warning")
    if found.towing:
        lines.append("  it holds for vehicles that tow air-braked ones")
    if found.lifted_for:
        lines += _para(f"{found.lifted_by} leaves out a vehicle that declares body {' or '.join(found.lifted_for)}", 2)
    if found.since:
        lines.append(f"  it holds for vehicles built from {found.since}, and where no year is declared")
    if found.before:
        lines.append(f"  it holds for vehicles declared as built before {found.before}")
    own = found.set_name
    for topic in table("topics")["topic"]:
        others = [key for key in topic["clauses"] if not key.startswith(f"{own}/")]
        if found.key in topic["clauses"] and others:
            lines += _para(f"other sets answer the same question ({topic['title']}): {', '.join(others)}", 2)
    for word, figures in (("how", found.procedure), ("limits", found.limit)):
        if figures:
            lines += _para(f"{word}: {', '.join(in_words(figures))}", 2)
    return "\n".join(lines) + "\n"
