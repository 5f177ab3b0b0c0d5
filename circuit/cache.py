"""Plain data kept between runs, to save the time of making it again. Everything works without, only later.

It is kept with `marshal`, which holds plain data only, so that a file that others could write never runs as a program.
"""

import hashlib
import marshal
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any


def kept(name: str, made_of: str, make: Callable[[], Any]) -> Any:
    """What `make` gives, or what it gave in an earlier run from the same `made_of`.

    name: of the file it is kept in. made_of: everything the result depends on. make: gives plain data: dictionaries,
    lists, tuples, sets, texts and numbers.
    """
    place = _folder()
    if place is None:
        return make()
    path = place / name
    key = _key(made_of)
    found = _read(path, key)
    if found is None:
        found = make()
        _write(path, key, found)
    return found


def recalled(name: str, made_of: str) -> Any:
    """What was kept under a name from the same `made_of`, or None."""
    place = _folder()
    return None if place is None else _read(place / name, _key(made_of))


def keep(name: str, made_of: str, found: Any) -> None:
    """Keeps plain data for later runs, where there is room."""
    place = _folder()
    if place is not None:
        _write(place / name, _key(made_of), found)


def tidy(begin: str) -> None:
    """Takes the oldest files out whose names begin so, where there are more than `MOST`."""
    place = _folder()
    try:
        files = [each for each in os.scandir(place) if each.name.startswith(begin)] if place else []
        for each in sorted(files, key=lambda each: each.stat().st_mtime)[: max(0, len(files) - MOST)]:
            os.unlink(each.path)
    except OSError:
        return


MOST = 4000
"""Files of one sort that are kept."""


def _key(made_of: str) -> bytes:
    return hashlib.sha256(repr((sys.version_info[:3], made_of)).encode("utf-8", "surrogateescape")).digest()


def _folder() -> Path | None:
    """A private folder of this user, or None where there is none to write in. A relative XDG_CACHE_HOME is none (XDG Base
    Directory Specification 0.8)."""
    base = os.environ.get("XDG_CACHE_HOME", "")
    place = Path(base if os.path.isabs(base) else os.path.join(os.path.expanduser("~"), ".cache")) / "airwright"
    try:
        place.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError:
        return None
    return place if os.access(place, os.W_OK) else None


def _read(path: Path, key: bytes) -> Any:
    """The content of a file of this user that is whole and has this key, or None."""
    try:
        with path.open("rb") as file:
            if hasattr(os, "getuid") and os.fstat(file.fileno()).st_uid != os.getuid():
                return None
            content = file.read()
        head, body = content[:64], content[64:]
        if head != key + hashlib.sha256(body).digest():
            return None
        return marshal.loads(body)
    except (OSError, ValueError, EOFError, TypeError):
        return None


def _write(path: Path, key: bytes, found: Any) -> None:
    import tempfile

    try:
        body = marshal.dumps(found)
        handle, name = tempfile.mkstemp(dir=path.parent, prefix=f"{path.name}-")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(key + hashlib.sha256(body).digest() + body)
            os.replace(name, path)  # another run never reads half a file
        except BaseException:
            os.unlink(name)
            raise
    except (OSError, ValueError):
        return
