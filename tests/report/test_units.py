"""Units of what is printed: one system where it is asked for, and both again afterwards."""

import pytest

from circuit import cli
from circuit.console.studied import system_of
from circuit.pipeline import load_source
from circuit.source import Source
from circuit.units import shown
from tests.examples.held import EXAMPLES

BOARD = str(EXAMPLES / "teaching-board" / "design.air")


@pytest.mark.parametrize("wish, has, has_not", [("psi", " psi", " bar"), ("bar", " bar", " psi"), ("both", " psi (", "never")])
def test_a_study_prints_in_one_system(wish: str, has: str, has_not: str, capsys: pytest.CaptureFixture[str]):
    cli.main(["reserve", BOARD, "--units", wish])
    table = capsys.readouterr().out.partition("\n- ")[0]
    assert has in table and has_not not in table
    assert shown(2e5, "pressure").count("(") == 1


def test_the_designs_own_system_is_that_of_its_first_pressure():
    def of(rows: str) -> str:
        return system_of(load_source(Source("x.air", f"vehicle x: class truck\n{rows}\n")), "design")

    assert of("reservoir a: volume 20 L, rated 150 psi, role service") == "imperial"
    assert of("reservoir a: volume 20 L, rated 10 bar, role service") == "metric"
    assert of("axle front: position 1") == "both"
