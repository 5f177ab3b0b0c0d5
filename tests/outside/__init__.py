"""What is not ours and judges us: programs and libraries that the tests hold results against.

`.ci/outside` installs the programs, the `test` extra the libraries. Where one is missing its tests are skipped with the
reason; with AIRWRIGHT_STRICT=1, as `.ci/run` sets it, they fail instead, so that no check goes missing unseen.
"""

import importlib
import os
import shutil
from types import ModuleType
from typing import NoReturn

import pytest


def wanting(why: str) -> NoReturn:
    """Skip the test, or fail it where nothing may be skipped."""
    if os.environ.get("AIRWRIGHT_STRICT") == "1":
        pytest.fail(why)
    pytest.skip(why, allow_module_level=True)


def program(name: str) -> str:
    """The path of an installed program."""
    return shutil.which(name) or wanting(f"there is no {name}; .ci/outside installs it")


def library(name: str) -> ModuleType:
    """An imported library of the `test` extra."""
    try:
        return importlib.import_module(name)
    except ImportError:
        wanting(f"{name} is not installed; pip install -e '.[test]' installs it")
