"""Which designs `compare` puts side by side: two files, two folders, or what is there with a revision of git."""

import os
from collections.abc import Iterator
from contextlib import ExitStack
from tempfile import TemporaryDirectory
from typing import NamedTuple

from circuit.console.inputs import ENDING, Nothing, designs
from circuit.gate.earlier import copy_out, top


class Side(NamedTuple):
    """One of the two. folder: what designs are named from; files: by their names in it. root: under which they may bring in
    files, or "". shown: how a name in it is called."""

    folder: str
    files: dict[str, str]
    root: str = ""
    shown: str = ""

    def called(self, name: str) -> str:
        return f"{self.shown}:{name}" if self.shown else self.files[name]


class Pair(NamedTuple):
    """old, new: the two files, "" for one that is not there. names: how they are called."""

    old: str
    new: str
    names: tuple[str, str]
    roots: tuple[str, str] = ("", "")


def pairs(old: str, new: str, stack: ExitStack) -> list[Pair]:
    """The designs to be compared, one by one. stack: keeps what was copied out of a revision for as long as it is open.

    Raises Nothing for words that name neither a design nor a revision, and Misruled where git knows no such revision.
    """
    if os.path.isfile(old) and os.path.isfile(new):
        return [Pair(old, new, (old, new))]
    sides = tuple(_side(word, other, stack) for word, other in ((old, new), (new, old)))
    if all(len(side.files) == 1 for side in sides):
        (one,), (other,) = sides[0].files, sides[1].files
        return [_pair(sides[0], one, sides[1], other)]
    moved = _moved(*sides)
    found = [_pair(sides[0], name if name in sides[0].files else moved.get(name, ""), sides[1], name) for name in sides[1].files]
    taken = {*sides[1].files, *moved.values()}
    return found + [_pair(sides[0], name, sides[1], "") for name in sides[0].files if name not in taken]


def _pair(old: Side, one: str, new: Side, other: str) -> Pair:
    names = (old.called(one) if one else "", new.called(other) if other else "")
    return Pair(old.files.get(one, ""), new.files.get(other, ""), names, (old.root, new.root))


def _side(word: str, other: str, stack: ExitStack) -> Side:
    """A file, a folder, or REVISION or REVISION:PATH of the repository that the other one is in."""
    if os.path.isfile(word) or (word.endswith(ENDING) and ":" not in word):
        return Side(os.path.dirname(word), {os.path.basename(word): word})  # one that is not there is told when it is read
    if os.path.isdir(word):
        return Side(word, {os.path.relpath(name, word): name for name in designs([word])})
    revision, _, path = word.partition(":")
    near = other if os.path.exists(other) else "."
    above = top(near if os.path.isdir(near) else os.path.dirname(os.path.abspath(near)))
    tree = stack.enter_context(TemporaryDirectory(prefix="airwright-"))
    copy_out(revision, above, tree)
    wanted = os.path.join(tree, path or os.path.relpath(os.path.realpath(near), os.path.realpath(above)))
    if os.path.isfile(wanted):
        return Side(os.path.dirname(wanted), {os.path.relpath(wanted, tree): wanted}, tree, revision)
    if not os.path.isdir(wanted):
        raise Nothing(f"{word}: there is no {path or os.path.relpath(near, above)} in {revision}")
    return Side(wanted, {os.path.relpath(name, wanted): name for name in designs([wanted])}, tree, revision)


def _moved(old: Side, new: Side) -> dict[str, str]:
    """New names of designs to old ones, where a file was only called otherwise: the same text, and no other of it."""
    def texts(side: Side, beside: Side) -> Iterator[tuple[bytes, str]]:
        for name, path in side.files.items():
            if name not in beside.files:
                with open(path, "rb") as file:
                    yield file.read(), name

    before = dict(texts(old, new))
    return {name: before.pop(text) for text, name in texts(new, old) if text in before}
