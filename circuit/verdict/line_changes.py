"""What became of a line: longer, shorter, or cut in two for a part that was put in."""

from collections.abc import Iterable

from circuit.model.devices import Device, PortKey
from circuit.units import alike, shown


def of_length(old: Device, new: Device) -> tuple[str, str] | None:
    """Whether a line is `lengthened` or `shortened`, and the sentence; None where it is as long as before, or nobody says."""
    before, after = old.settings.get("length"), new.settings.get("length")
    if before is None or after is None or abs(before - after) < 1e-9 or alike(shown(before, "length"), shown(after, "length")):
        return None
    word = "lengthened" if after > before else "shortened"
    return word, (f"{new.title} is {word} by {shown(abs(after - before), 'length')}: {old.given['length'].text} before, "
                  f"{new.given['length'].text} now")


def cut(old: Device, ends: tuple[PortKey, ...], new: Iterable[Device], known: Iterable[str]) -> tuple[str, Device, Device] | None:
    """The part put into a line and the two halves that are left of it, or None.

    ends: the old line's, by the names of the new design. new: lines that no old line matches. known: parts of the old design.
    """
    if len(ends) != 2:
        return None
    one, other = ends
    alike_ = [line for line in new if line.kind.name == old.kind.name and line.ends]
    for first in alike_:
        for second in alike_:
            middle, last = _beyond(first, one), _beyond(second, other)
            if first is not second and middle and last and middle[0] == last[0] and middle[0] not in known:
                return middle[0], first, second
    return None


def _beyond(line: Device, end: PortKey) -> PortKey | None:
    """The other end of a line that begins at one, or None."""
    assert line.ends is not None
    return line.ends[1] if line.ends[0] == end else line.ends[0] if line.ends[1] == end else None
