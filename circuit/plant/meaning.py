"""What a student says is wrong, as meaning: words of the trade to a few sorts of trouble, and the sorts that each class of
mistakes is.

A phrase may mean several sorts (`only 10 L` is low or small); a claim holds when each of its phrases can mean a sort that the
mistake is, and none means something else. What is denied (`not missing`) means nothing that a mistake is.
"""

import re
from typing import NamedTuple

PHRASES: tuple[tuple[str, str], ...] = (
    # what would be read otherwise further down comes first
    (r"\b(?:is|are|was)(?: not|n't) (?:too \w+|missing|leaking|swapped|reversed|blocked|plugged)", "denied"),
    (r"low[- ]pressure|high[- ]pressure|low air|on[- ]above|on[- ]below|opens[- ]at|shuts[- ]at|should(?: be| have)? \d", ""),
    (r"(?:gap|range|difference|band)[^,.;]*(?:small|narrow|little|short)|too (?:close|near)|(?:nearly|almost) the same", "near"),
    (r"tube instead of (?:a )?hose|plastic|melts?|melting|gets? (?:too )?hot|too hot|near heat|metal hose|wrong material",
     "material"),
    (r"water cannot|cannot be drained|can ?not be drained", "missing"),
    (r"can ?not (?:vent|let|exhaust|release)|can't (?:vent|let)", "blocked"),
    (r"not protected|unprotected|not guarded", "missing bypassed wrongplace"),
    (r"not (?:fed|connected|joined)\b|unconnected|joined to nothing", "missing"),
    (r"not (?:at|on) the lowest|not lowest", "notlowest"),
    (r"not equal|unequal|not the same|different|differs?\b|wrong size|\bodd\b", "unequal"),
    (r"not enough|insufficient|too little|too few|\bless\b|\bonly\b|too weak|\bweak\b", "small low"),
    (r"undersized|smaller|too small|\bsmall\b", "small"),
    (r"oversized|larger|bigger|too (?:large|big)|\blarge\b|\bbig\b", "large"),
    (r"out of adjustment|adjust(?:ed|ing|ment)|over[- ]?stroke", "adjust"),
    (r"back to front|backwards?|wrong way|other way round|against the flow|turned round|turned around|upside down|revers\w+|"
     r"swap\w*|exchang\w+|crossed|invert(?:ed|s)\b|mixed up|instead of in\b|instead of out\b", "swapped"),
    (r"not separate|both circuits are joined|circuits are (?:connected|joined)|same reservoir|one reservoir|both (?:circuits )?"
     r"(?:hang|come|are fed)|\btee\b|one circuit", "joined wrongplace"),
    (r"wrong port|control port|port \d of", "wrongplace swapped"),
    (r"bypass\w*|\bround the\b|past the", "bypassed wrongplace"),
    (r"instead of|wrong (?:reservoir|tank|place|side|line|circuit|axle)|connected to|joined to|fed (?:from|by|straight|direct)|"
     r"comes? (?:straight|directly|direct|from)|gets? its air|takes? (?:its|their) (?:pressure|air)|senses|directly|hangs? on|"
     r"not from|is not used|should (?:be|come|sense|go)|\bbehind\b", "wrongplace"),
    (r"plugged|\ba plug\b|blocked|\bclosed\b|left shut|is shut|clogged|stopped up", "blocked"),
    (r"\bis open\b|left open|stands open", "open"),
    (r"missing|left out|forgotten|omitted|absent|\blacks?\b|\bwithout\b|\bno\b(?! longer| more)", "missing"),
    (r"leak\w*|burst|torn|broken|\bstuck\b|worn|seized|frozen|blows\b(?! too)", "broken"),
    (r"too late|\blate\b|too slow\w*|slowly", "late"),
    (r"too early|too soon|\bearly\b", "early"),
    (r"too long|too far|too much travel", "long high"),
    (r"too short|\bshort\b", "short"),
    (r"too thin|\bthin\b|too narrow", "thin"),
    (r"\bdips?\b|\bsags?\b|low point|not falling|water trap", "dips"),
    (r"bent|kink\w*|bend", "bent"),
    (r"mov(?:es|ing)", "moving"),
    (r"cock in|by hand", "byhand"),
    (r"too low|\blow\b|lower\b|below|\bunder\b|beneath|too little", "low"),
    (r"too high|\bhigh\b|higher|above|\bover\b|exceeds?|more than|too much|beyond|upper", "high"),
)
"""Patterns and the sorts that each can mean, parted by blanks; what is read once is read no more."""

_MISSING, _PLACE = frozenset({"missing"}), frozenset({"wrongplace"})
SORTS: dict[str, frozenset[str]] = {
    **dict.fromkeys(("part-reversed", "relay-crossed", "signals-exchanged", "trailer-valve-crossed", "trailer-lines-crossed",
                     "heads-crossed"), frozenset({"swapped"})),
    **dict.fromkeys(("drain-missing", "safety-valve-missing", "warning-missing", "gauge-missing", "stop-lamp-missing",
                     "line-missing", "brake-missing", "wet-reservoir-missing", "unloader-line-missing",
                     "test-point-missing"), _MISSING),
    **dict.fromkeys(("check-missing", "protection-missing", "modulator-missing", "towing-valve-missing", "auxiliary-teed",
                     "trailer-filled-unprotected"), _MISSING | {"bypassed", "wrongplace"}),
    **dict.fromkeys(("governor-behind-check", "modulator-senses-other", "springs-on-tank", "other-axle", "trailer-signal-by-load",
                     "antifreeze-first", "dryer-late"), _PLACE),
    **dict.fromkeys(("shuttle-teed", "reservoirs-joined", "fed-from-one", "springs-on-one", "trailer-one-signal"),
                    _PLACE | {"joined"}),
    "check-bypassed": frozenset({"bypassed", "joined"}), "axles-exchanged": frozenset({"swapped", "wrongplace"}),
    "cut-in-low": frozenset({"low", "late"}), "governor-gap": frozenset({"high", "near"}),
    "cut-out-high": frozenset({"high", "late"}), "rod-long": frozenset({"high", "long", "adjust"}),
    "relief-high": frozenset({"high", "late"}), "relief-low": frozenset({"low", "early"}),
    "warning-late": frozenset({"low", "late"}), "protection-low": frozenset({"low", "late"}),
    "lamp-late": frozenset({"high", "late"}), "towing-set-wrong": frozenset({"figure"}),
    "cock-shut": frozenset({"blocked"}), "discharge-dips": frozenset({"dips"}), "tube-hot": frozenset({"material"}),
    "discharge-plastic": frozenset({"material"}), "tube-moves": frozenset({"material", "moving"}),
    "tube-bent": frozenset({"bent"}), "line-weak": frozenset({"low"}), "drain-high": frozenset({"notlowest", "high"}),
    "reservoir-small": frozenset({"small"}), "chambers-large": frozenset({"large"}),
    "chambers-unequal": frozenset({"unequal", "figure"}), "exhaust-plugged": frozenset({"blocked"}),
    "compressor-small": frozenset({"small", "low", "late"}), "tail-open": frozenset({"open"}),
    "cock-in-line": frozenset({"byhand"}),
}
"""The sorts that each class is; `figure`: higher or lower as the changed figure is."""


class Change(NamedTuple):
    """A figure or word of a thing that is other than in the good design. up: whether it grew; None of a word."""

    thing: str
    setting: str
    old: str
    new: str
    up: bool | None


def sorts_of(mistake: str, changes: tuple[Change, ...]) -> frozenset[str]:
    """The sorts that a mistake is."""
    found = SORTS[mistake]
    if "figure" not in found:
        return found
    grown = {change.up for change in changes}
    return found | ({"high", "large"} if True in grown else set()) | ({"low", "small"} if False in grown else set())


def meant(line: str) -> list[frozenset[str]]:
    """Each phrase of a line that means a sort of trouble, with what it can mean.

    >>> [sorted(each) for each in meant("the check valve is back to front")]
    [['swapped']]
    >>> [sorted(each) for each in meant("only 10 L")], meant("the low pressure switch")
    ([['low', 'small']], [])
    """
    found = []
    left = line.lower()
    for pattern, sorts in PHRASES:
        left, many = re.subn(pattern, " ; ", left)
        if many and sorts:
            found.append(frozenset(sorts.split()))
    return found
