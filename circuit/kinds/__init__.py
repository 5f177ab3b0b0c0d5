"""Device kinds, one file each. A file is found by its name; there is no list to edit."""

from importlib import import_module
from pathlib import Path

from circuit.declaring.contract import broken
from circuit.declaring.kind import Kind

_FOLDER = Path(__file__).resolve().parent
_known: dict[str, Kind] = {}
_complete = False


def _load(module: str) -> Kind:
    kind: Kind = import_module(f"circuit.kinds.{module}").KIND
    if kind.name != module.replace("_", "-"):
        raise ValueError(f"circuit/kinds/{module}.py declares the kind {kind.name}: file and kind name must agree")
    if lacks := list(broken(kind)):
        raise ValueError(f"circuit/kinds/{module}.py: " + "; ".join(lacks))
    for name in (kind.name, *kind.aliases):
        if _known.setdefault(name, kind) is not kind:
            raise ValueError(f"two kinds answer to {name}: {kind.name} and {_known[name].name}")
    return kind


def find(name: str) -> Kind | None:
    """The kind of a name or an alias, or None. Only the file asked for is read where that is enough."""
    if name not in _known and not _complete:
        module = name.replace("-", "_")
        if module != "__init__" and (_FOLDER / f"{module}.py").is_file() and "_" not in name:
            _load(module)
        else:
            every()
    return _known.get(name)


def every() -> tuple[Kind, ...]:
    """All kinds, sorted by name."""
    global _complete
    if not _complete:
        for path in sorted(_FOLDER.glob("*.py")):
            if path.stem != "__init__" and path.stem.replace("_", "-") not in _known:
                _load(path.stem)
        _complete = True
    return tuple(sorted({id(kind): kind for kind in _known.values()}.values(), key=lambda kind: kind.name))


def names() -> tuple[str, ...]:
    """Every word that names a kind, aliases included."""
    every()
    return tuple(sorted(_known))
