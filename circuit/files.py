"""Where the project's data folders are: inside an installed package, or beside it in a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def folder(name: str) -> Path:
    """The folder `grammar`, `shared` or `examples/course`; raises FileNotFoundError when the installation is broken."""
    for place in (_PACKAGE / "_data" / name, _PACKAGE.parent / name):
        if place.is_dir():
            return place
    raise FileNotFoundError(f"the data folder `{name}` is neither in the package nor beside it: install again")
