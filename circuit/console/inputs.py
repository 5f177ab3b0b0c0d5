"""Which designs a command is given: files, folders with all designs in them, patterns, and `-` for standard input."""

import os
from collections.abc import Iterable, Iterator

STDIN = "-"
ENDING = ".air"


class Nothing(ValueError):
    """A word that names no design; the text says why and what to write."""


def designs(words: Iterable[str]) -> list[str]:
    """The designs that are named, each once, in the order of the words; of folders and patterns by name.

    Of a folder what begins a design counts: a file of assemblies alone is none. Hidden folders, and links to folders, do not.
    """
    found: dict[str, str] = {}
    for word in words:
        for name in _of(word):
            found.setdefault(os.path.normpath(name) if name != STDIN else name, name)
    return list(found.values())


def _of(word: str) -> Iterator[str]:
    if word == STDIN or os.path.isfile(word) or not (os.path.isdir(word) or any(sign in word for sign in "*?[")):
        yield word
        return
    if os.path.isdir(word):
        names = sorted(name for name in _walked(word) if begins_design(name))
        if not names:
            raise Nothing(f"{word} holds no design: none of its files that end in {ENDING} says what vehicle it is for")
    else:
        import glob

        names = sorted(name for name in glob.glob(word, recursive=True) if os.path.isfile(name))
        if not names:
            raise Nothing(f"{word} fits no file: check the pattern")
    yield from names


def _walked(folder: str) -> Iterator[str]:
    for here, folders, files in os.walk(folder):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        yield from (os.path.normpath(os.path.join(here, name)) for name in files
                    if name.endswith(ENDING) and not name.startswith("."))


def begins_design(path: str) -> bool:
    """Whether a file is a design by itself, and no file of assemblies: one of its rows begins with `vehicle` or `combination`, or
    it can no more be read as a file of assemblies than as a design."""
    try:
        with open(path, "rb", opener=lambda name, flags: os.open(name, flags | getattr(os, "O_NONBLOCK", 0))) as file:
            rows = [row.strip() for row in file.read(4_000_000).split(b"\n")]
    except OSError:
        return True  # it is told why when it is read
    words = {row.split(None, 1)[0].rstrip(b":") for row in rows if row}
    return bool(words & {b"vehicle", b"combination"}) or b"assembly" not in words
