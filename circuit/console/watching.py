"""Waits until files change: every second the moments and sizes of the designs, of what they bring in, and of all designs
beside these are looked at."""

import os
import re
import time
from collections.abc import Iterator, Sequence

from circuit.console.inputs import ENDING, STDIN
from circuit.files import folder
from circuit.gate.place import Misruled, find
from circuit.mistake import Unreadable
from circuit.syntax.fence import fence_of
from circuit.syntax.read import read

PAUSE = 1.0
"""s between two looks."""
MOST_FILES = 200
"""Files that are followed to what they bring in."""
_NAMED = re.compile(r'"([^"\n]+\.air)"')


def changes(names: Sequence[str], root: str = "", pause: float = PAUSE) -> Iterator[int]:
    """Yields at once, and then whenever something has changed; ends never."""
    before: object = None
    number = 0
    while True:
        now = seen(names, root)
        if now != before:
            before = now
            yield number
            number += 1
        else:
            time.sleep(pause)


def seen(names: Sequence[str], root: str = "") -> tuple[tuple[str, int, int], ...]:
    """Each design, each file that it brings in, and each beside one that could be a part of it or a policy."""
    found = []
    for place in sorted(_folders(names, root)):
        try:
            entries = sorted(os.scandir(place), key=lambda entry: entry.name)
        except OSError:
            continue
        for each in entries:
            if each.name.endswith((ENDING, ".toml")):
                try:
                    stat = each.stat()
                except OSError:
                    continue
                found.append((each.path, stat.st_mtime_ns, stat.st_size))
    return tuple(found)


def _folders(names: Sequence[str], root: str) -> set[str]:
    """Where the designs are, what they bring in and what that brings in, and the policies above them."""
    folders = set()
    for name in names:
        if name != STDIN:
            design = os.path.abspath(name)
            folders |= {os.path.dirname(each) for each in _with_what_it_brings(design, root)}
            try:
                folders |= {os.path.dirname(policy) for policy in (find(os.path.dirname(design)),) if policy}
            except Misruled:
                pass  # the check tells it
    return folders


def _with_what_it_brings(design: str, root: str) -> set[str]:
    """A design and the files that it may bring in; what its fence keeps out is not opened."""
    fence = fence_of(design, str(folder("shared")), root)
    known, todo = {design}, [design]
    while todo and len(known) <= MOST_FILES:
        name = todo.pop()
        try:
            words = _NAMED.findall(read(name).text)
        except Unreadable:
            continue
        for brought in (os.path.normpath(os.path.join(os.path.dirname(name), word)) for word in words):
            if brought not in known and os.path.isfile(brought) and not fence.refusal(brought)[0]:
                known.add(brought)
                todo.append(brought)
    return known
