"""A design file from disk, or what is wrong with it."""

import codecs
import os
import stat

from circuit.mistake import Mistake, Unreadable
from circuit.source import Source, Span, harmless
from circuit.syntax.parse import LARGEST, too_large

_SAVE = "save it as plain text in UTF-8"


def read(path: str | os.PathLike[str]) -> Source:
    """The text of a file: a byte-order mark removed, line ends as `\\n`.

    Raises Unreadable for what is no file, may not be read, is too large or is no text in UTF-8; a pipe that somebody else put
    there is not waited for, and of devices only what the shell hands over is read.
    """
    name = os.fspath(path)
    if harmless(name) != name:
        raise _unreadable(harmless(name), f"{_shown(name)} cannot be read: its name holds letters that nobody sees",
                          "give it a name of letters, figures and hyphens")
    handed = name.startswith("/dev/")
    try:
        with open(name, "rb", opener=None if handed else _at_once) as file:
            mode = os.fstat(file.fileno()).st_mode
            if not handed and not stat.S_ISREG(mode):
                raise OSError(0, "it is no regular file")
            content = file.read(LARGEST * 4 + 1)
    except (FileNotFoundError, NotADirectoryError):
        raise _unreadable(name, f"there is no file {_shown(name)}", "check the name and the folder it is in") from None
    except IsADirectoryError:
        raise _unreadable(name, f"{_shown(name)} is a folder", "name a file in it, one that ends in .air") from None
    except PermissionError:
        raise _unreadable(name, f"{_shown(name)} may not be read", "ask its owner for permission to read it") from None
    except (OSError, ValueError) as trouble:
        reason = getattr(trouble, "strerror", None) or str(trouble)
        raise _unreadable(name, f"{_shown(name)} cannot be read: {reason.lower()}", "check the name") from None
    return decode(content, name)


def _at_once(path: str, flags: int) -> int:
    return os.open(path, flags | getattr(os, "O_NONBLOCK", 0))


def decode(content: bytes, name: str) -> Source:
    """The text of a file's bytes; name: what to call it. Raises Unreadable."""
    if len(content) > LARGEST * 4:
        raise Unreadable(tuple(filter(None, (too_large(name, LARGEST + 1),))))
    if content.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        raise _unreadable(name, "this file is saved as UTF-16", _SAVE)
    content = content.removeprefix(codecs.BOM_UTF8)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as trouble:
        good = _with_one_end(content[:trouble.start].decode("utf-8"))
        rest = _with_one_end(content[trouble.start:trouble.start + 200].decode("utf-8", "replace"))
        source = Source(name, good + rest)
        line, column = good.count("\n") + 1, len(good) - good.rfind("\n")
        byte = f"{content[trouble.start]:02X}"
        raise Unreadable((Mistake(Span(source, line, column), f"a letter here is not in UTF-8 (byte {byte})", _SAVE),)
                         ) from None
    text = _with_one_end(text)
    wrong = too_large(name, len(text), text.count("\n") + 1)
    if wrong:
        raise Unreadable((wrong,))
    zero = text.find("\0")
    if zero >= 0:
        line, column = text.count("\n", 0, zero) + 1, zero - text.rfind("\n", 0, zero)
        raise Unreadable((Mistake(Span(Source(name, text), line, column), "this file is no text: it holds empty bytes",
                                  _SAVE),))
    return Source(name, text)


def _with_one_end(text: str) -> str:
    return text.replace("\r\n", "\n")


def _shown(name: str) -> str:
    return harmless(name) or "without a name"


def _unreadable(name: str, says: str, expected: str) -> Unreadable:
    return Unreadable((Mistake(Span(Source(name, ""), 1, 1), says, expected),))
