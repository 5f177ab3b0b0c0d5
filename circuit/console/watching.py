"""Waits until files change: every second the moments and sizes of the designs and of all designs beside them are looked at."""

import os
import time
from collections.abc import Iterator, Sequence

from circuit.console.inputs import ENDING, STDIN

PAUSE = 1.0
"""s between two looks."""


def changes(names: Sequence[str], pause: float = PAUSE) -> Iterator[int]:
    """Yields at once, and then whenever something has changed; ends never."""
    before: object = None
    number = 0
    while True:
        now = seen(names)
        if now != before:
            before = now
            yield number
            number += 1
        else:
            time.sleep(pause)


def seen(names: Sequence[str]) -> tuple[tuple[str, int, int], ...]:
    """Each design, and each file beside one that could be a part of it or a policy."""
    folders = {os.path.dirname(name) or "." for name in names if name != STDIN}
    found = []
    for folder in sorted(folders):
        try:
            entries = sorted(os.scandir(folder), key=lambda entry: entry.name)
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
