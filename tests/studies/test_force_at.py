"""Force at any pressure, reckoned as a class does it, and figures of the trade as an outside check."""

import pytest

from circuit.cli import main
from circuit.pipeline import load
from circuit.report.studies.force import account, piston_told
from circuit.units import to_si

BOARD = "examples/teaching-board/design.air"


@pytest.mark.parametrize(("pressure", "carries"), [("25 psi", 314), ("90 psi", 1130)])
def test_one_piston_carries_what_the_trade_says(pressure: str, carries: float):
    """A piston of 4 in; figures of a class, from memory, the second rounded to ten pounds."""
    told = piston_told(to_si("4 in", "length"), [to_si(pressure, "difference")])
    row = next(line for line in told.splitlines() if line.startswith(pressure))
    assert float(row.split("=")[1].split()[0].replace(",", "")) == pytest.approx(carries, abs=1.5)


@pytest.mark.parametrize(("kind", "psi", "lbf"), [(9, 60, 540), (20, 60, 1200), (30, 60, 1800), (30, 90, 2700), (30, 100, 3000),
                                                  (36, 100, 3600)])
def test_type_times_psi_is_pounds(kind: int, psi: int, lbf: int):
    from circuit.report.studies.force import times_area

    assert times_area(psi * 6894.757, kind * 0.0254**2) == f"{psi} psi x {kind} in2 = {lbf:,}"


def test_the_reckoning_adds_up():
    steps = tuple(to_si(text, "pressure") for text in ("25 psi", "90 psi"))
    found = account(load(BOARD), steps)
    assert found.tables[0].key == "reckoning" and len(found.tables[0].rows) == 8
    for row in found.tables[0].rows:
        whole, rest, pressed, push = (float(cell.split("=")[-1].replace(",", "")) for cell in row[1:])
        assert whole - rest - pressed == pytest.approx(push, abs=1.5)
    for each in found.record.chambers:
        for step, force in zip(steps, each.forces):
            assert force == pytest.approx((step - 101325.0) * each.area - sum(each.returning), rel=1e-6)


def test_the_command(capsys: pytest.CaptureFixture[str]):
    assert main(["force", "--piston", "4 in", "--at", "25 psi", "--at", "90 psi"]) == 0
    assert "25 psi x 12.57 in2 = 314 lbf" in capsys.readouterr().out
    assert main(["force", BOARD, "--at", "20 psi"]) == 0
    told = capsys.readouterr().out
    assert "20 psi x 30 in2 = 600" in told and "521" in told


@pytest.mark.parametrize("words", [[], [BOARD, "--piston", "4 in"], ["--piston", "4 in"], ["--piston", "4", "--at", "25 psi"],
                                   [BOARD, "--at", "25"], [BOARD, "--at", "-3 psi"],
                                   ["--piston", "4 in", "--at", "25 psi", "--format", "json"]])
def test_what_cannot_be_asked_is_said(words: list[str], capsys: pytest.CaptureFixture[str]):
    assert main(["force", *words]) == 2
    assert "airwright: " in capsys.readouterr().err
