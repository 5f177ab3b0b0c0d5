"""Where the project's data folders are: inside an installed package, or beside it in a checkout."""

import os
from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def folder(name: str) -> Path:
    """The folder `grammar` or `shared`; raises FileNotFoundError when the installation is broken.

    A checkout comes first: an editable install leaves an outdated copy inside the package.
    """
    for place in (_PACKAGE.parent / name, _PACKAGE / "_data" / name):
        if place.is_dir() and (place / "README.md").is_file():
            return place
    raise FileNotFoundError(f"the data folder `{name}` is neither in the package nor beside it: install again")


def cache_folder() -> Path | None:
    """A private folder for files that only save time, or None where there is none to write in."""
    base = os.environ.get("XDG_CACHE_HOME") or os.path.join(os.path.expanduser("~"), ".cache")
    place = Path(base) / "airwright"
    try:
        place.mkdir(mode=0o700, parents=True, exist_ok=True)
    except OSError:
        return None
    return place if os.access(place, os.W_OK) else None
