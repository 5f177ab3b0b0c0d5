"""The Lark parser of grammar/air.lark.

Making its tables takes a fifth of a second, more than checking a design; reading them back, a hundredth.
"""

_OPTIONS = {"parser": "lalr", "lexer": "contextual", "start": ["start", "line"], "maybe_placeholders": True}

TYPE_CHECKING = False
if TYPE_CHECKING:
    from typing import Any

    import lark

_parser: "lark.Lark | None" = None


def parser() -> "lark.Lark":
    """The parser, made or read back once; parse a whole text with `start` or one statement with `line`."""
    global _parser
    if _parser is None:
        import lark

        from circuit.cache import kept
        from circuit.files import folder

        text = (folder("grammar") / "air.lark").read_text(encoding="utf-8")
        made_of = repr((text, _OPTIONS, lark.__version__))
        _parser = lark.Lark.load(kept("grammar.tables", made_of, lambda: _tables(text)))
    return _parser


def _tables(text: str) -> "dict[str, Any]":
    import lark
    from lark.grammar import Rule
    from lark.lexer import TerminalDef

    data, memo = lark.Lark(text, **_OPTIONS).memo_serialize([TerminalDef, Rule])
    return {"data": data, "memo": memo}
