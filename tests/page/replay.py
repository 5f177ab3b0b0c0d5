"""Plays by chance on the page, and the same played again by Python from the trial that the page writes."""

from pathlib import Path

import numpy as np

from circuit.mistake import Unreadable
from circuit.pipeline import load_source
from circuit.source import Source
from circuit.studies.trials import run_trial

PLAY = (Path(__file__).parent / "random_play.js").read_text(encoding="utf-8")


def apart(page, design: Path, seed: int, seconds: float) -> float:
    """The most kPa by which the page's pressures and Python's differ at any moment of a play."""
    found = page.evaluate(PLAY, [seed, seconds])
    assert found["trouble"] == "", found["trouble"]
    try:
        circuit = load_source(Source(str(design), design.read_text(encoding="utf-8") + "\n" + found["trial"]))
    except Unreadable as unreadable:
        raise AssertionError(f"{[(m.at.line, m.says) for m in unreadable.mistakes]} in\n{found['trial']}") from None
    run = run_trial(circuit, circuit.trials[-1])
    assert run.trace is not None, run.why + "\n" + found["trial"]
    ours = np.array(run.trace.rows([time for time, _ in found["shown"]]))
    theirs = np.array([pressures for _, pressures in found["shown"]])
    return float(np.abs(ours - theirs).max()) / 1e3
