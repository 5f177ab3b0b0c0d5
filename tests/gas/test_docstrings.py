"""The figures in the docstrings of the formulas, most of them from a handbook or a standard, are what the formulas give."""

import pytest

from tests import doctests

MODULES = doctests.modules("gas")


@pytest.mark.parametrize("module", MODULES)
def test_examples_in_docstrings_hold(module: str):
    doctests.run(module)


def test_every_file_of_formulas_has_an_example():
    files = {f"circuit.gas.{path.stem}" for path in (doctests.PACKAGE / "gas").glob("*.py") if path.stem != "__init__"}
    assert set(MODULES) == files
