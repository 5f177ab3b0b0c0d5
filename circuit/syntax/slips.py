"""What to say about a statement that does not parse.

Each known slip is one pattern and one sentence, in the order in which they are tried: the special before the general.
A pattern counts where it covers the place at which parsing stopped. To teach the checker a slip, add an entry, and a
case to tests/syntax/mistypings.toml.
"""

import re
from dataclasses import dataclass

from circuit.mistake import Mistake
from circuit.source import Source
from circuit.syntax import asks
from circuit.syntax.cut import Piece
from circuit.syntax.grammar import parser
from circuit.syntax.view import TEXT, View, Word, view
from circuit.syntax.vocabulary import Known, Lookup

_PARTS = {
    "W": r"(?<![\w-])[^\W\d_][\w-]*",  # a word, spelled loosely
    "R": r"(?<![\w-])(?:<[\w-]+>|[\w-]*\w)(?:\.(?:<[\w-]+>|[\w-]*\w))*",  # a reference, spelled loosely
    "N": r"(?<![\w.,/-])\d[\d./]*",  # a figure
    "U": r"(?:[^\W\d_]+[\d²³]?)",  # a unit
    "T": TEXT + "+",  # a text between quotes
}


@dataclass(frozen=True, slots=True)
class Slip:
    """pattern: with W, R, N, U and T in braces for the parts above; its group `at`, or all of it, is the place.

    says, expected: the groups of the pattern may stand in braces. anywhere: it counts wherever it is found.
    """

    pattern: str
    says: str
    expected: str
    anywhere: bool = False


_ARROW = "from and to are joined by ->"
_KIND = "a statement begins with the kind of thing it is about"
_COMMA = "put a comma in front of it"
_RANGE = "write `at least 5 bar`, or `at most 7 bar`"
_CURLY = "curly quotes come from a word processor"

SLIPS: tuple[Slip | asks.Ask, ...] = (
    # --- signs that the keyboard does not have, or has and should not be used -----------------------------------------
    Slip(r"\A[^“„]*?(?<=\d)\s?(?P<at>[″”])", "the inch mark is no unit here", "write `in`, as in `3/8 in`"),
    Slip(r"[“”„‟«»″]", _CURLY, 'type the straight mark "', anywhere=True),
    Slip(r"(?<=\d)\s?(?P<at>['’′])(?!\d)", "the foot mark is no unit here", "write `ft`, as in `3 ft`"),
    Slip(r"(?<!\w)['‘’‚`´]", "a text stands between double marks", 'write " on both sides of it'),
    Slip(r"(?P<at>{W}['‘’`´]\w*)", "a name has no apostrophe", "write `{at:joined}`"),
    Slip(r"[→⇒➔➜⟶]|[‐-―−]+\s?>", _ARROW, "type the hyphen and the mark >"),
    Slip(r"{N}\s*(?P<at>[‐-―−])\s*\d", "a dash between figures says nothing here", _RANGE),
    Slip(r"[‐-―−]", "this dash is not the hyphen of the keyboard", "type - instead"),
    Slip(r"[：，；（）｛｝＝＞＃．]", "`{at}` is not the sign of the keyboard", "type `{at:keyboard}` instead"),
    Slip(r"(?<!\d)(?P<whole>\d+)\s?(?P<at>[¼-¾⅐-⅞])", "a fraction is written with a slash",
         "write `{whole} {at:keyboard}`"),
    Slip(r"[¼-¾⅐-⅞]", "a fraction is written with a slash", "write `{at:keyboard}`"),
    Slip(r"(?:{N}\s*)?(?P<at>[¹²³⁰-₟]+)", "a small figure stands only behind a unit", "write it as in `1400 in³`"),
    Slip(r"[\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]", "an unusual blank stands here ({at:code})",
         "type an ordinary space"),
    Slip(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u206f\ud800-\udfff\ufeff\ufffd]",
         "a sign that cannot be shown stands here ({at:code})", "delete it", anywhere=True),
    # --- quotes and remarks -------------------------------------------------------------------------------------------
    Slip(r'(?<=\d)\s?(?P<at>")', "the inch mark opens a text here", "write `in`, as in `3/8 in`", anywhere=True),
    Slip(r'"[^"\n]*?(?P<at>[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff])',
         "a sign that cannot be shown stands here ({at:code})", "delete it"),
    Slip(r'"', "this quote is not closed on its row", 'close it with " in the same row', anywhere=True),
    Slip(r"\A(?://|/\*|--(?!>)|;|%|!|'|REM\b)|(?<=\s)(?://|/\*)", "a remark begins with #", "write `#` here"),
    Slip(r"//|/\*", "a remark begins with #", "write `#` here"),
    Slip(r"\A(?P<at>[-*•·+|]|\d+[.)])\s", _KIND, "remove `{at}`"),
    asks.marked,
    # --- what joins two ports -----------------------------------------------------------------------------------------
    Slip(r"\A{W}\s+(?P<a>{R})\s*"
         r"(?P<at>=+>+|-{2,}>+|->{2,}|-\s+>|~>|>+|<->?|(?<=\s)<?(?:[-=]{1,3}|[~|\\/])(?=\s))\s*(?P<b>{R})",
         _ARROW, "write `{a} -> {b}`"),
    Slip(r"\A{W}\s+(?P<a>{R})\s+(?P<at>[^\w\s:,;.\"&+/<-]{1,3}|-(?!>)[^\w\s:,;.\"]{1,2})\s*(?P<b>{R})",
         _ARROW, "write `{a} -> {b}`"),
    Slip(r"\A{W}\s+(?P<a>{R})\s+(?P<at>to|into|towards)\s+(?P<b>{R})", _ARROW, "write `{a} -> {b}`"),
    Slip(r"\A(?P<at>{W}\.{R})\s*->", _KIND, "write it in front, as in `tube wet -> foot.1`"),
    Slip(r"->[^:\n>]*(?P<at>->)", "a line has two ends", "write a statement for each line"),
    Slip(r"\A{W}\s+{R}\s*->\s*{R}\s+(?P<at>and)\b", "a line has two ends", "write a statement for each line"),
    Slip(r"\A{W}\s+{R}(?:\s+and\s+{R})+\s*(?P<at>->)", "a line has two ends", "write a statement for each line"),
    Slip(r"\A(?P<kind>{W})\s*(?P<at>->)", "the end before -> is missing",
         "write where it comes from, as in `{kind} wet ->`"),
    Slip(r"\A{W}\s+{R}\s*(?:->|[-=>]\s*\Z)\s*(?P<at>)(?::|,|\Z)", "the end behind -> is missing",
         "write where it goes to, as in `-> foot.1`"),
    Slip(r"\A(?P<kind>{W})\s*(?P<at>:)\s*(?P<a>{R})\s*->\s*(?P<b>{R})?", "the colon stands behind both ends",
         "write `{kind} {a} -> {b}:`"),
    Slip(r"\A{W}\s+(?=[^:\n]*\.)(?P<a>{R})\s+(?P<at>)(?P<b>{R})(?=\s*:)", _ARROW, "write `{a} -> {b}`"),
    asks.arrow,
    Slip(r"(?:\A{W}|\band|->)\s+(?P<at>\d[\w-]*)(?=\s*(?::|->|\.|\Z|and\b|,))",
         "a name begins with a letter; `{at}` begins with a digit", "put a word before it, as in `tank-1`"),
    # --- figures ------------------------------------------------------------------------------------------------------
    Slip(r"(?P<at>>=?|≥|=>)\s*[-+\d.]", "a bound is written in words", "write `at least`"),
    Slip(r"(?P<at><=?|≤|=<)\s*[-+\d.]", "a bound is written in words", "write `at most`"),
    Slip(r"[±~≈]", "a setting takes one figure", "write the figure alone"),
    Slip(r"(?<![\w.,/-])(?P<at>\d{4}-\d\d?-\d\d?|\d\d?[./]\d\d?[./]\d{2,4})(?![\w.-])", "a date is no figure",
         'write it in a text: `"{at}"`'),
    Slip(r"(?<![\w.,/-])(?P<a>\d+(?:[.,]\d+)?)(?:\s*[×*X✕]\s*|\s+x\s*|x\s+)(?P<b>\d+(?:[.,]\d+)?)",
         "a size of two figures is written in one piece", "write `{a:point}x{b:point}`"),
    Slip(r"(?<![\w.,/-])[1-9]\d{0,2}(?:,\d{3})+(?![\d,.])", "a comma separates settings",
         "write `{at:plain}`, without a thousands comma"),
    Slip(r"(?<![\w.,/-])[1-9]\d{0,2}(?:\.\d{3})+,\d+", "a comma separates settings", "write `{at:point-last}`"),
    Slip(r"(?<![\w.,/-])(?P<at>\d+,\d+)(?![\d,])", "a comma separates settings",
         "write a decimal point: `{at:point}`"),
    Slip(r"(?<![\w.,/-])[1-9]\d{0,2}(?:['’_ \u00a0]\d{3})+(?!\d)", "a number is written in one piece",
         "write `{at:plain}`"),
    Slip(r"\A[^:\n]*?(?<![\w.])(?P<at>(?P<a>{W})(?:\s+\.\s*|\.\s+)(?P<b>\d+))",
         "a port follows its thing without a blank", "write `{a}.{b}`"),
    Slip(r"(?<=[:,])\s*{W}\s+(?P<at>(?!least|most|to\b)(?P<a>{W})(?:\s+\.\s*|\.\s+)(?P<b>\d+))",
         "a port follows its thing without a blank", "write `{a}.{b}`"),
    Slip(r"(?<![\w.])(?P<sign>[-+]?)(?P<at>\.\d+)", "a figure begins with a digit", "write `{sign}0{at}`"),
    Slip(r"(?<![\w.,/-])(?P<n>\d+)(?P<at>\.)(?![\d.])", "this point has no figure behind it", "write `{n}`"),
    Slip(r"{N}\s*(?P<unit>{U})(?P<at>\.)(?!\w)", "a unit has no full stop", "write `{unit}`"),
    Slip(r"(?<![\w.,/-])(?P<whole>\d+)\s*(?:-|\band\b|\s&)\s*(?P<part>\d+/\d+)",
         "a whole number and its fraction are parted by a blank", "write `{whole} {part}`"),
    Slip(r"(?<![\w.,/-])(?P<a>\d+)(?:\s+/\s*|/\s+)(?P<b>\d+)", "a fraction is written in one piece",
         "write `{a}/{b}`"),
    Slip(r"(?<![\w.,/-])(?P<a>\d+)/{2,}(?P<b>\d+)", "two slashes follow each other", "write `{a}/{b}`"),
    Slip(r"{N}\s*(?P<at>-)\s*\d[\d.]*", "a hyphen between figures says nothing here",
         "write `30/30` for a double chamber, `at least 5 bar` or `at most 7 bar` for a bound"),
    Slip(r"{N}\s*{U}?\s*(?P<at>-|\.\.+|…|\bto\b|\bup to\b)\s*\d", "a setting takes one figure", _RANGE),
    Slip(r"(?<=[:,])\s*[^:,\n]*\s(?P<n>[\d./]+)-(?P<at>{U})", "a unit follows its figure without a hyphen",
         "write `{n} {at}`"),
    Slip(r"{N}\s*(?P<a>{U})(?P<at>[·*•⋅-])(?P<b>{U})", "a product of units is written with a point", "write `{a}.{b}`"),
    Slip(r"\d\s*(?P<at>{U}/\([^)\n]*\)?)", "this unit cannot be read", "write it as in `20 L/(s.bar)`"),
    Slip(r"\d\s*(?P<at>[°º˚]\s*[CFcf]?)", "`{at}` is no unit", "write °C or °F behind the figure"),
    Slip(r"(?<![\w.,/])(?:\d+/[-.]*|[-.]+/\d*|/\d+)(?![\w/])", "this fraction cannot be read",
         "write it as in `3/8 in`"),
    Slip(r"(?<=\s)(?P<at>[-+])\s+\d", "the sign of a figure stands next to it", "remove the blank behind {at}"),
    # --- names --------------------------------------------------------------------------------------------------------
    Slip(r"(?<![\w-])(?P<at>\w[\w-]*_[\w-]*|_[\w-]+)", "names are joined with a hyphen", "write `{at:hyphens}`"),
    Slip(r"(?<![\w.])(?P<a>{W})\s*(?:\[\s*|\(\s*|/)(?P<b>\d+)\s*[\])]?", "a port follows its thing behind a point",
         "write `{a}.{b}`"),
    Slip(r"\A{W}\s+(?P<at>(?P<a>{R}):(?P<b>\d+))\s*->", "a port follows its thing behind a point", "write `{a}.{b}`"),
    Slip(r"->\s*(?P<at>(?P<a>{R}):(?P<b>\d+))", "a port follows its thing behind a point", "write `{a}.{b}`"),
    Slip(r"(?<![\w-])(?:[^\W_][\w-]*--[\w-]*|[\w-]*[^\W_]-(?![\w>-])|-[^\W\d_][\w-]*)",
         "a hyphen joins two words of a name", "write `{at:hyphens}`"),
    Slip(r"<\s+\w[\w-]*\s*>?|<\w[\w-]*(?!\s*>)(?![\w-])",
         "a blank of an assembly stands between < and >", "write it as in `<axle>`"),
    Slip(r"(?<![<\w-])[\w-]*\w>(?=\s*(?:[,:]|\Z))", "a blank of an assembly stands between < and >",
         "write it as in `<axle>`"),
    Slip(r"\A{W}\s+(?P<a>{R})\s*(?P<at>,|&|\+|/|\bor\b|\bAnd\b|\bAND\b)\s*(?P<b>{R})(?=[^:\n]*(?:->[^:\n]*)?:)",
         "several names are joined with `and`", "write `{a} and {b}`"),
    # --- the colon ----------------------------------------------------------------------------------------------------
    Slip(r"\A\d\S*", _KIND, "begin with a word, as in `reservoir wet:`"),
    Slip(r"\A{W}\.{R}", _KIND, "begin with a word, as in `reservoir wet:`"),
    Slip(r"\A(?P<at>{W})\s+[-+]?\d", "`{at}` looks like a setting of the row above",
         "end that row with a comma, or with a colon and this"),
    Slip(r"\A{W}(?P<at>,){W}\s+(?:{R}\s*:|\d)", "a comma stands in the first word", "remove it"),
    asks.own_row,
    asks.remark,
    Slip(r"\A{W}(?:\s+{W}){3,}\s*[.!?]*\Z", "this is no statement", "if it is a remark, begin it with #"),
    asks.nameless,
    asks.colon,
    Slip(r"\A{W}\s+(?P<at>(?P<a>{R})\s+(?P<b>{R}))(?=\s*:)", "a name is one word",
         "write `{a}-{b}` for one thing, `{a} and {b}` for two"),
    Slip(r"\A{W}\s+(?P<at>{R}(?:\s+{R}){2,})(?=\s*:)", "a name is one word", "write `{at:hyphens}`"),
    Slip(r"\A(?P<head>{W}\s+(?:{R}|{T})(?:\s+and\s+{R})*(?:\s*->\s*{R})?)\s*(?P<at>[,;.=|])",
         "a colon belongs here, between the name and its settings", "write `{head}:`"),
    Slip(r"\A(?P<head>{W}\s+(?:(?:{R}\s+and\s+)*|{R}\s*->\s*)(?P<last>{R}))(?P<at>)\s+(?!and\b|->)(?:{R}|{T})",
         "a colon is missing after `{last}`", "write `{head}:`"),
    Slip(r"\A(?P<head>{W}\s+{T})(?P<at>)\s+{R}", "a colon is missing after the text", "write a colon here"),
    Slip(r":\s*(?P<at>:+)", "two colons follow each other", "remove one"),
    Slip(r"\A[^:]*:[^:]*?(?<![\w.-])(?P<word>{R})\s*(?P<at>:)\s*(?P<value>[^,:\n]{0,30})",
         "only one colon a statement, behind the name", "write `{word} {value}`"),
    Slip(r"\A[^:]*:[^:]*(?P<at>:)", "only one colon a statement, behind the name", "remove this one"),
    Slip(r":\s*(?P<at>)\Z", "no settings follow this colon", "write them in the same row, or remove the colon"),
    # --- commas and other marks between settings ----------------------------------------------------------------------
    Slip(r"\A\s*,", "a row does not begin with a comma", "move it to the end of the row above"),
    Slip(r",\s*(?P<at>,)", "two commas follow each other", "remove one"),
    Slip(r":\s*(?P<at>,)", "a comma follows the colon", "remove it"),
    Slip(r"(?P<at>,)\s*\Z", "the comma promises one more setting, but nothing follows", "remove the comma"),
    asks.spaced,
    asks.comma,
    Slip(r"\d\s*%(?P<at>)\s+{W}", "a comma is missing here", "put a comma behind the %"),
    Slip(r"[:,]\s*(?P<at>(?P<word>[^\W\d_]+(?:-[^\W\d_]+)*)-?(?P<n>\d+[./]\d+))",
         "a blank is missing between a setting and its value", "write `{word} {n}`"),
    Slip(r"\A{W}\s+[^\W\d_](?P<at>{T})", "a blank is missing before the text", 'write it as in `use "axles.air"`'),
    Slip(r"[:,]\s*(?P<at>[-+]?\d[\d./]*\s*%)", "the word before `{at}` is missing", "write `to {at}`"),
    Slip(r"[:,]\s*(?P<at>[-+]?\d[\d./x]*(?:[ \t]*{U})?)", "the word before `{at}` is missing",
         "write what it is, as in `volume 20 L`"),
    Slip(r"[:,]\s*(?P<at>{T})", "the word before this text is missing", 'write what it is, as in `title "..."`'),
    Slip(r"{N}\s*{U}?\s+(?P<at>\d[\d./]*(?:\s*{U})?)", "a setting takes one figure",
         "write a comma before the next setting, or one figure with one unit"),
    Slip(r"{N}[ \t]*{U}[ \t]+(?P<at>{W})", "a comma is missing before `{at}`", _COMMA),
    Slip(r"{N}(?:[ \t]*{U})?[ \t]*(?P<at>{T})", "the word before this text is missing",
         'write it, as in `title "..."`'),
    Slip(r"(?P<word>{W})\s*(?P<at>=+)", "a setting and its value stand side by side", "write `{word}` without ="),
    Slip(r"(?P<at>[;.!?]+)\s*\Z", "no mark is needed at the end of a row", "remove it"),
    Slip(r";", "settings are parted by commas", "write a comma here"),
    Slip(r"[&+]", "names are joined with `and`", "write `and`"),
    Slip(r"(?P<a>{W})\s*(?P<at>/)\s*(?P<b>{W})", "a list is written with `and`", "write `{a} and {b}`"),
    Slip(r"\d\s*(?P<at>{U}[%/.-]+)(?!\w)", "this unit cannot be read", "write it as in `8.5 bar`"),
    Slip(r"[:,]\s*{W}\s[^:,\n]*?(?<!\w)(?P<at>[-+._/]*\d[\w./%-]*)", "this figure cannot be read",
         "write it as in `8.5 bar` or `3/8 in`"),
    Slip(r"(?<=\w)\.(?=\s|\Z|[^\W\d_])|(?<![\w.])\.(?=\s|,|\Z|[^\W\d_])", "a point says nothing here", "remove it"),
    Slip(r"[{}]", "a brace says nothing here", "remove it; {{ stands at the end of a row, }} in a row of its own"),
    Slip(r"[()\[\]]", "brackets say nothing here", "remove them; a remark begins with #"),
)


def explain(source: Source, piece: Piece, known: Known | Lookup = None, error: int | None = None) -> Mistake:
    """What is wrong with a statement that does not parse. error: where parsing stopped, when that is known."""
    if error is None:
        error = stops_at(piece)
    words = known if isinstance(known, Lookup) else Lookup(known, source.text)
    seen = view(source, piece, error, words)
    for slip in SLIPS:
        found = slip(seen) if not isinstance(slip, Slip) else _search(slip, seen)
        if found:
            return found
    for slip in SLIPS:
        if isinstance(slip, Slip) and slip.anywhere and (found := _search(slip, seen, True)):
            return found
    return _plain(seen)


def doubt(source: Source, piece: Piece, words: Lookup) -> Mistake | None:
    """What is wrong with a statement that parses, as far as the known settings tell; None when nothing seems to be."""
    seen = view(source, piece, None, words)
    return next((found for ask in asks.DOUBTS if (found := ask(seen))), None)


def stops_at(piece: Piece) -> int:
    """Where in a piece parsing stops."""
    import lark

    try:
        parser().parse(piece.text, start="line")
    except lark.exceptions.UnexpectedInput as trouble:
        return place_of(trouble, piece)
    return len(piece.text)


def place_of(trouble, piece: Piece) -> int:  # type: ignore[no-untyped-def]
    """The place in a piece that an exception of the parser means."""
    token = getattr(trouble, "token", None)
    if token is not None and token.type == "$END":
        return len(piece.text)
    return min(max(0, trouble.pos_in_stream or 0), len(piece.text))


_compiled: dict[str, re.Pattern[str]] = {}


def _pattern(slip: Slip) -> re.Pattern[str]:
    found = _compiled.get(slip.pattern)
    if found is None:
        text = re.sub(r"\{([WRNUT])\}", lambda part: _PARTS[part.group(1)], slip.pattern)
        found = _compiled[slip.pattern] = re.compile(text)
    return found


def _search(slip: Slip, seen: View, anywhere: bool = False) -> Mistake | None:
    error = seen.error if seen.error is not None else len(seen.text)
    for found in _pattern(slip).finditer(seen.text, seen.start):
        if found.start() > error:
            break
        if anywhere or error <= found.end():
            groups = {name: Word(text or "") for name, text in found.groupdict().items()}
            groups.setdefault("at", Word(found.group()))
            start, stop = found.span("at") if "at" in found.re.groupindex else found.span()
            return seen.mistake(start, stop, slip.says.format(**groups), slip.expected.format(**groups).strip())
    return None


_NEXT = re.compile(rf"{_PARTS['T']}|[\w.-]*\w|->|\S|\Z")


def _plain(seen: View) -> Mistake:
    """No slip is known: say what stands there and what could."""
    error = seen.error if seen.error is not None else len(seen.text)
    found = _NEXT.search(seen.text, error)
    start, stop = found.span() if found else (error, error)
    before = seen.text[:start].rstrip()
    if ":" not in before:
        expected = "write what it is, its name and a colon, as in `reservoir wet:`" if not before else \
            "write the name, a colon and the settings, as in `reservoir wet: volume 20 L`"
    elif before[-1:] in ":,":
        expected = "write a setting and its value, as in `volume 20 L`"
    else:
        expected = "write a comma before the next setting, or end the statement here"
    if start == stop:
        return seen.mistake(start, stop, "the statement ends too early", expected)
    word = Word(seen.piece.text[start:stop])
    if not any(letter.isalnum() for letter in word) and word not in ("->", ":", ","):
        return seen.mistake(start, stop, f"`{word}` says nothing here",
                            "remove it, or write the letter that it stands for")
    return seen.mistake(start, stop, f"`{word}` cannot stand here", expected)
