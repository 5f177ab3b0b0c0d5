"""The grammars for editors and documents say of every word what the parser says of it, on every example."""

import json
import re
from pathlib import Path

import pytest

from circuit import kinds
from circuit.editor import outlining
from circuit.model.forms import ACTIONS, FORMS
from circuit.report.highlighting import textmate
from circuit.source import Source
from circuit.syntax.statements import Measure, Name, Text
from tests.designs import EXAMPLES
from tests.editor.desks import desk_with

EDITORS = EXAMPLES.parent / "grammar" / "editors"
FILES = sorted([*EXAMPLES.glob("*/*.air"), *(EXAMPLES.parent / "shared").rglob("*.air")])
IDS = [str(path.relative_to(EXAMPLES.parent)) for path in FILES]
SCOPES = {"keyword.control": "keyword", "support.type": "type", "entity.name.type": "type", "variable.parameter": "property",
          "variable.other": "name", "constant.numeric": "number", "string.quoted.double": "string",
          "comment.line.number-sign": "comment", "keyword.operator": "operator"}


def parsed(path: Path) -> dict[tuple[int, int], str]:
    """By line and column, from 1, what the parser takes each word for."""
    from circuit.editor.spots import every

    desk = desk_with(str(path), path.read_text(encoding="utf-8"))
    read = desk.read(str(path))
    assert not read.mistakes
    found = {}
    for statement, _ in every(read.statements):
        word = statement.kind.text
        found[statement.kind.span[1:3]] = "keyword" if word in FORMS or word in ACTIONS else "type"
        for name in (*statement.names, *(statement.ends or ())):
            found[name.span[1:3]] = "name"
        if statement.text:
            found[statement.text.span[1:3]] = "string"
        for setting in statement.settings:
            found[setting.name.span[1:3]] = "property"
            for value in setting.values:
                sort = {Name: "name", Measure: "number", Text: "string"}.get(type(value), "operator")
                found[value.span[1:3]] = sort
    return found


def coloured(text: str) -> dict[tuple[int, int], str]:
    """The same by the TextMate grammar, read as an editor reads it: row by row, the first pattern that matches soonest."""
    grammar = json.loads(textmate())
    known = grammar["repository"]

    def rules(patterns: list[dict]) -> list[dict]:
        return [known[one["include"][1:]] if "include" in one else one for one in patterns]

    found, inside = {}, None
    for number, row in enumerate(text.split("\n"), 1):
        row, at = row + "\n", 0
        while at < len(row):
            end = re.compile(inside["end"], re.M).search(row, at) if inside else None
            tries = [(m.start(), place, one, m) for place, one in enumerate(rules((inside or grammar)["patterns"]))
                     if (m := re.compile(one.get("match") or one["begin"], re.M).search(row, at))]
            best = min(tries, key=lambda each: each[:2], default=None)
            if end and (best is None or end.start() <= best[0]):
                inside, at = None, max(end.end(), at)
                continue
            if best is None:
                break
            _, _, rule, match = best
            captures = rule.get("captures") or rule.get("beginCaptures") or {}
            for group, scope in captures.items():
                if match[int(group)]:
                    found[number, match.start(int(group)) + 1] = SCOPES[scope["name"].removesuffix(".airwright")]
            if "name" in rule and rule["name"].removesuffix(".airwright") in SCOPES:
                found[number, match.start() + 1] = SCOPES[rule["name"].removesuffix(".airwright")]
            inside = rule if "begin" in rule else inside
            at = max(match.end(), at + (match.end() == match.start()))
    return found


@pytest.mark.parametrize("path", FILES, ids=IDS)
def test_the_textmate_grammar_sees_what_the_parser_sees(path: Path):
    text, says = path.read_text(encoding="utf-8"), parsed(path)
    colours = coloured(text)
    wrong = {place: (sort, colours.get(place)) for place, sort in says.items() if colours.get(place) != sort}
    assert says and not wrong, sorted(wrong.items())[:5]


@pytest.mark.parametrize("path", FILES, ids=IDS)
def test_semantic_tokens_and_documents_see_what_the_parser_sees(path: Path):
    text = path.read_text(encoding="utf-8")
    tokens = {(each.line + 1, each.letter + 1): each.sort for each in outlining.words(Source(str(path), text))}
    alike = {"name": ("variable", "enumMember")}
    wrong = {place: (sort, tokens.get(place)) for place, sort in parsed(path).items()
             if tokens.get(place) not in alike.get(sort, (sort,))}
    assert not wrong, sorted(wrong.items())[:5]


def test_the_grammar_on_disk_is_the_one_that_is_made():
    """Made anew by `airwright kinds --format textmate > grammar/editors/airwright.tmLanguage.json`."""
    assert (EDITORS / "airwright.tmLanguage.json").read_text(encoding="utf-8") == textmate()
    for kind in kinds.every():
        assert coloured(f"{kind.name} x")[1, 1] == "type"


def test_the_extension_names_what_there_is():
    package = json.loads((EDITORS / "extension" / "package.json").read_text(encoding="utf-8"))
    assert package["contributes"]["grammars"][0]["scopeName"] == json.loads(textmate())["scopeName"]
    pattern = json.loads((EDITORS / "extension" / "language-configuration.json").read_text(encoding="utf-8"))["wordPattern"]
    assert re.fullmatch(pattern, "d1-left.can") and not re.match(pattern, "3/8")
    assert (EDITORS / "extension" / package["main"]).is_file()


def test_a_document_is_coloured_and_no_letter_is_lost():
    pytest.importorskip("pygments", reason="the extra `editor` is not installed")
    from pygments import highlight
    from pygments.formatters import HtmlFormatter
    from pygments.token import Name as Shade

    from circuit.editor.lexer import AirLexer

    for path in FILES[:6]:
        text = path.read_text(encoding="utf-8")
        pieces = list(AirLexer().get_tokens_unprocessed(text))
        assert "".join(piece for _, _, piece in pieces) == text
        assert all(text[start:start + len(piece)] == piece for start, _, piece in pieces)
    text = "reservoir wet: volume 20 L  # \U0001F69A truck\ntee t\n"
    pieces = list(AirLexer().get_tokens_unprocessed(text))
    assert "".join(piece for _, _, piece in pieces) == text and (0, Shade.Class, "reservoir") in pieces
    assert '<span class="nc">reservoir</span>' in highlight(text, AirLexer(), HtmlFormatter())
