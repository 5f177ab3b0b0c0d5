"""Another data folder for a test: the clauses as they are, and what a test puts beside them or changes in them."""

import shutil
from collections.abc import Mapping
from pathlib import Path

import pytest

from circuit import clauses, tables
from circuit.files import folder


def further_clauses(place: Path, monkeypatch: pytest.MonkeyPatch, files: Mapping[str, str] = {},
                    changed: Mapping[str, tuple[str, str]] = {}) -> None:
    """Until the test ends, sets are read from a copy. files: by name. changed: a set's row, once in its file, and the new row.

    The test calls `forget` when it is done with it, through a finalizer or at its end.
    """
    shared = place / "shared"
    shutil.copytree(folder("shared"), shared)
    for name, text in files.items():
        (shared / "clauses" / f"{name}.toml").write_text(text, encoding="utf-8")
    for name, (old, new) in changed.items():
        path = shared / "clauses" / f"{name}.toml"
        text = path.read_text(encoding="utf-8")
        assert text.count(old) == 1, old
        path.write_text(text.replace(old, new), encoding="utf-8")
    for module in (clauses, tables):
        monkeypatch.setattr(module, "folder", lambda name: place / name)
    forget()


def forget() -> None:
    """Everything that was read of the sets."""
    for cached in (tables.table, clauses.set_names, clauses.rule_set):
        cached.cache_clear()
