"""How wide text is, and which words stand at a device or a line. Widths are in px at a size in px; 10 px are one U.

The widths are those of Bitstream Vera Sans, the typeface that exported pictures carry; a browser without it falls back
to faces of the same width. What is written at a device is asked of its traits and settings, never of its kind's name.
"""

from circuit.declaring.traits import Trait
from circuit.model.devices import Device

FAMILY = "'Bitstream Vera Sans', 'DejaVu Sans', Verdana, sans-serif"

JOIN = " \u00b7 "
"""Between size and length in one row."""
LETTER = 11.0
"""The size of every word, px: what is a name and what a figure is told by weight and grey, so that the smallest letter is as
large as the sheet allows."""
CAPITAL = 0.729
"""How high a capital is, of the size; measured from the font file."""

# hundredths of the size, for the characters from 32 to 126; measured from the two font files
_PLAIN = (
    32, 40, 46, 84, 64, 95, 78, 27, 39, 39, 50, 84, 32, 36, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34, 84,
    84, 84, 53, 100, 68, 69, 70, 77, 63, 58, 77, 75, 29, 29, 66, 56, 86, 75, 79, 60, 79, 69, 63, 61, 73, 68, 99, 69, 61,
    69, 39, 34, 39, 84, 50, 50, 61, 63, 55, 63, 62, 35, 63, 63, 28, 28, 58, 28, 97, 63, 61, 63, 63, 41, 52, 39, 63, 59,
    82, 59, 59, 52, 64, 34, 64, 84,
)
_BOLD = (
    35, 46, 52, 84, 70, 100, 87, 31, 46, 46, 52, 84, 38, 42, 38, 37, 70, 70, 70, 70, 70, 70, 70, 70, 70, 70, 40, 40, 84,
    84, 84, 58, 100, 77, 76, 73, 83, 68, 68, 82, 84, 37, 37, 77, 64, 100, 84, 85, 73, 85, 77, 72, 68, 81, 77, 110, 77,
    72, 73, 46, 37, 46, 84, 50, 50, 67, 72, 59, 72, 68, 44, 72, 71, 34, 34, 67, 34, 104, 71, 69, 72, 72, 49, 60, 48, 71,
    65, 92, 65, 65, 58, 71, 37, 71, 84,
)


def width(text: str, size: float, bold: bool = False) -> float:
    """How wide a text is, px. A character outside the table counts as a wide one."""
    table = _BOLD if bold else _PLAIN
    return size * sum(table[ord(c) - 32] if 32 <= ord(c) < 127 else 100 if ord(c) > 0x2E7F else 70 for c in text) / 100


def _written(device: Device, setting: str) -> str:
    """A setting as the design wrote it or as it was assumed, or nothing."""
    given = device.given.get(setting)
    return given.text.strip('"') if given is not None and device.settings.get(setting) is not None else ""


_FIGURES: tuple[tuple[Trait, str], ...] = (
    (Trait.STORES_AIR, "{volume} {role}"),
    (Trait.GOVERNS, "{cut-in} to {cut-out}"),
    (Trait.RELIEVES, "{opens-at}"),
    (Trait.PARK_CONTROL, "pops out {pops-out-at}"),
    (Trait.KEEPS_BACK, "shuts {shuts-at}"),
    (Trait.WARNS_LOW, "below {on-below}"),
    (Trait.LIGHTS_STOP_LAMP, "above {on-above}"),
    (Trait.SERVICE_ACTUATOR, "type {type}"),
    (Trait.USES_AIR, "{use}"),
    (Trait.COMPRESSES, "{displacement}"),
    (Trait.COUPLES_VEHICLES, "{line}"),
)
"""What is written under the name of a device with a trait; the settings are those the trait promises."""


def figures(device: Device) -> tuple[str, ...]:
    """The key figures of a device, one short line each."""
    found = []
    for trait, pattern in _FIGURES:
        if device.has(trait):
            words = [_written(device, word[1:-1]) if word[0] == "{" else word for word in pattern.split(" ")]
            if any(word for word, slot in zip(words, pattern.split(" ")) if slot[0] == "{"):
                found.append(" ".join(word for word in words if word))
    return tuple(dict.fromkeys(found))


def line_words(line: Device) -> tuple[str, ...]:
    """A line's size or bore and its length, as written; nothing for a direct fit."""
    size = next((_written(line, s.name) for s in line.kind.settings if s.dimension in ("size", "bore")), "")
    return tuple(word for word in (size, _written(line, "length")) if word)


def line_label(line: Device) -> str:
    """The same in one row."""
    return JOIN.join(line_words(line))


def shortened(text: str, size: float, room: float, bold: bool = False) -> str:
    """A text cut to a width in px, with dots where something is missing."""
    if width(text, size, bold) <= room:
        return text
    while text and width(text + "...", size, bold) > room:
        text = text[:-1]
    return text.rstrip() + "..."


def in_lines(words: str, size: float, room: float) -> list[str]:
    """A sentence in lines no wider than a width in px, but for a word that is."""
    lines: list[str] = []
    for word in words.split():
        if lines and width(f"{lines[-1]} {word}", size) <= room:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines
