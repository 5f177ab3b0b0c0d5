"""Which files a design may bring in: regular files that end in .air, under its root or in the library, and nothing else.

A design may come from a stranger: what it names is looked at before it is opened, and links are followed first.
"""

import os
import stat
from collections.abc import Iterable
from typing import NamedTuple

ROOTS = ("airwright.toml", ".git", ".hg")
"""What stands at the root of a project."""


class Fence(NamedTuple):
    """root: the folder under which files may be read, without links. library: that of the program."""

    root: str
    library: str

    def refusal(self, path: str) -> tuple[str, str]:
        """Why a file that a design names may not be read, and what to do; empty where it may."""
        real = os.path.realpath(path)
        if not any(_is_under(real, folder) for folder in (self.root, self.library)):
            return ("it leads out of the folder that the design may read",
                    f"put it under {self.root}, or begin an airwright.toml in the folder above both")
        inside = os.path.relpath(real, self.root if _is_under(real, self.root) else self.library)
        if any(part.startswith(".") for part in inside.split(os.sep)):
            return "it is hidden", "name a design, one that ends in .air"
        try:
            mode = os.stat(real).st_mode
        except (OSError, ValueError):
            return "", ""  # what is not there is told when it is read
        if stat.S_ISDIR(mode):
            return "it is a folder", "name a file in it, one that ends in .air"
        if not stat.S_ISREG(mode):
            return "it is no regular file", "name a design, one that ends in .air"
        if not real.endswith(".air"):
            return "its name does not end in .air", "only designs are read: rename it if it is one"
        return "", ""


def fence_of(design: str, library: str, root: str = "") -> Fence:
    """The fence round a design. root: a folder that was given for it; else the nearest folder above with an airwright.toml or
    a repository, else the working folder where the design is in it, else the design's own folder."""
    own = os.path.dirname(os.path.abspath(design))
    return Fence(os.path.realpath(root or project(own) or _working(own)), os.path.realpath(library))


def project(folder: str, marks: Iterable[str] = ROOTS) -> str:
    """The nearest folder from here upwards that has one of these marks, or ""."""
    while True:
        if any(os.path.exists(os.path.join(folder, mark)) for mark in marks):
            return folder
        above = os.path.dirname(folder)
        if above == folder:
            return ""
        folder = above


def _working(own: str) -> str:
    try:
        here = os.getcwd()
    except OSError:
        return own
    return here if _is_under(os.path.realpath(own), os.path.realpath(here)) and here != os.sep else own


def _is_under(path: str, folder: str) -> bool:
    return path == folder or path.startswith(folder.rstrip(os.sep) + os.sep)
