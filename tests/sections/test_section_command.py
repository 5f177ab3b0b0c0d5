"""`airwright section`: sentences, pictures, and what it says to a slip."""

from pathlib import Path
from types import SimpleNamespace

import pytest

from circuit import kinds
from circuit.cli import main
from circuit.report.inside.asked import states_at
from tests.designs import EXAMPLES

TRUCK = str(EXAMPLES / "truck-6x4" / "design.air")


def ran(capsys: pytest.CaptureFixture[str], *words: str) -> tuple[int, str, str]:
    status = main(["section", *words])
    out, err = capsys.readouterr()
    return status, out, err


def test_a_kind_tells_its_states(capsys):
    status, out, _ = ran(capsys, "relay-valve")
    assert status == 0 and out.splitlines()[0] == "Relay valve: feeding: 4 is 1.8 bar ahead of 2, so 1 feeds 2"


def test_a_part_of_a_design_is_told_in_its_situations(capsys):
    status, out, _ = ran(capsys, TRUCK, "rear-relay", "--state", "braking")
    assert status == 0 and out.startswith("rear-relay: braking: 4 ") and "2 is held at" in out, out
    status, out, _ = ran(capsys, TRUCK, "rear-relay")
    assert [line.split(":")[1].strip() for line in out.splitlines()] == ["parked", "driving", "braking", "released"]


def test_a_picture_is_written_once(capsys, tmp_path: Path):
    target = tmp_path / "x.svg"
    assert ran(capsys, "governor", "--state", "at cut-out", "-o", str(target))[0] == 0
    assert "1 has 8.6" in target.read_text() and "<path" in target.read_text()
    assert ran(capsys, "governor", "--state", "at cut-out", "-o", str(target))[0] == 2
    assert ran(capsys, "governor", "--state", "at cut-out", "-o", str(target), "--dark", "--force")[0] == 0
    assert "#16191d" in target.read_text()


@pytest.mark.parametrize("words, says", [
    (("relayvalve",), "did you mean relay-valve?"),
    (("tee",), "these kinds have one: "),
    (("governor", "--state", "upside down"), 'write one of "loaded"'),
    (("governor", "-o", "x.svg"), 'write --state with one of "loaded"'),
    (("governor", "--state", "loaded", "-o", "x.gif"), "written as .svg or .png"),
    ((TRUCK,), "a part of the design is to be named; these have one: "),
    ((TRUCK, "nobody"), "there is no part `nobody`"),
    ((TRUCK, "gov", "--state", "loaded"), "write one of parked, driving, braking, released"),
    ((TRUCK, "gov", "--trial", "full-application"), "--trial and --at go together"),
    ((TRUCK, "gov", "--trial", "none", "--at", "1 s"), "there is no trial `none`"),
])
def test_a_slip_is_answered(capsys, words, says):
    status, _, err = ran(capsys, *words)
    assert status == 2 and says in err, err


def test_a_pedal_under_way_is_drawn_half_way():
    """A press at 0 s and a release at 2 s, each in 0.1 s, and a coil that jumps at 1 s."""
    foot = SimpleNamespace(name="foot", kind=kinds.find("foot-valve"))
    trace = SimpleNamespace(states={("foot", "pedal"): ((0.0, 0.0), (0.1, 1.0), (2.0, 1.0), (2.1, 0.0)),
                                    ("abs", "hold"): ((0.0, 0.0), (1.0, 1.0))})
    assert [round(states_at(trace, foot, at)["pedal"], 3) for at in (0.0, 0.05, 0.1, 1.0, 2.025, 2.1, 3.0)] == [
        0.0, 0.5, 1.0, 1.0, 0.75, 0.0, 0.0]
    coil = SimpleNamespace(name="abs", kind=kinds.find("antilock-relay"))
    assert [states_at(trace, coil, at)["hold"] for at in (0.5, 0.99, 1.0)] == [0.0, 0.0, 1.0]
