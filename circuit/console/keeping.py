"""Results of unchanged designs, kept between runs: by the content of every file that was read, the policy and the program.

It is imported before anything heavy: an unchanged design costs a few hashes and no more.
"""

import hashlib
import os

from circuit import cache
from circuit.console.inputs import STDIN

TYPE_CHECKING = False
if TYPE_CHECKING:
    from circuit.console.checked import Checked, How

BEGIN = "check-"
"""How the files of results are called."""


def base(how: "How", policy: str, known: str) -> str:
    """What all results of a run depend on beside the designs. policy, known: files, or ""."""
    from datetime import date

    day = os.environ.get("SOURCE_DATE_EPOCH") or date.today().isoformat()  # waivers end
    return repr((program(), tuple(how), policy and os.path.abspath(policy), digest(policy), digest(known), day, os.getcwd()))


def recalled(name: str, made_of: str) -> "Checked | None":
    """The result of a design whose files are all as they were, or None."""
    if name == STDIN:
        return None
    found = cache.recalled(_file(name), made_of + name)
    if found is None or any(digest(path) != was for path, was in found["read"].items()):
        return None
    if any(os.path.lexists(path) for path in found["absent"]) or found["links"] != _links(found["read"]):
        return None
    result: Checked = found["result"]
    return result


def keep(name: str, made_of: str, result: "Checked") -> None:
    """Keeps a result; not that of a design that could not be read, whose files are not all known."""
    read = result["inputs"]
    if name == STDIN or not read:
        return
    shared = _library()
    kept = [os.path.relpath(path, shared) for path in read if os.path.abspath(path).startswith(shared + os.sep)]
    absent = [beside for path in read for name_ in kept
              if (beside := os.path.join(os.path.dirname(path), name_)) not in read]
    cache.keep(_file(name), made_of + name, {"read": {path: digest(path) for path in read}, "absent": absent,
                                             "links": _links(read), "result": result})


def _file(name: str) -> str:
    return f"{BEGIN}{hashlib.sha256(os.path.abspath(name).encode('utf-8', 'surrogateescape')).hexdigest()[:40]}"


def _links(paths: "list[str] | dict[str, str]") -> list[str]:
    """Where the files really are: a link that leads elsewhere now is another file."""
    return [os.path.realpath(path) for path in paths]


def digest(path: str) -> str:
    """Of a file's content, "" for none."""
    if not path:
        return ""
    try:
        with open(path, "rb", opener=lambda name, flags: os.open(name, flags | getattr(os, "O_NONBLOCK", 0))) as file:
            return hashlib.sha256(file.read()).hexdigest()
    except OSError:
        return "none"


def program() -> str:
    """The program itself: name, size and moment of every file of the package and of its data."""
    from circuit.files import folder

    marks = hashlib.sha256()
    for place in (os.path.dirname(os.path.abspath(cache.__file__)), str(folder("shared")), str(folder("grammar"))):
        _stamped(place, marks)
    return marks.hexdigest()


def _stamped(place: str, marks: "hashlib._Hash") -> None:
    for each in sorted(os.scandir(place), key=lambda entry: entry.name):
        if each.name != "__pycache__" and each.is_dir():
            _stamped(each.path, marks)
        elif each.name.endswith((".py", ".toml", ".lark", ".air", ".json")):
            stat = each.stat()
            marks.update(f"{each.path} {stat.st_size} {stat.st_mtime_ns}\n".encode("utf-8", "surrogateescape"))


def _library() -> str:
    from circuit.files import folder

    return os.path.join(str(folder("shared")), "assemblies")
