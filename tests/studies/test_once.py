"""A study asked twice of one circuit is worked out once, and a script played once; of another circuit, or asked
otherwise, again."""

from dataclasses import replace

import pytest

from circuit.pipeline import check
from circuit.report.page import page
from circuit.report.sheets.papers import papers
from circuit.sim import Options, Script, Variant, press
from circuit.sim.engines import Compiled
from circuit.studies.once import once, simulate, simulate_many
from tests.sim.designs import EXAMPLES
from tests.studies.examples import bench


def test_an_answer_is_kept_with_its_circuit_and_its_question():
    asked = []

    @once
    def study(circuit, sets=()):
        asked.append(sets)
        if sets == ("none",):
            raise ValueError
        return object()

    circuit = bench()
    first = study(circuit)
    assert study(circuit) is first and asked == [()]
    assert study(circuit, ("us-federal",)) is not first
    assert study(replace(circuit)) is not first
    for _ in range(2):
        with pytest.raises(ValueError):
            study(circuit, ("none",))
    assert asked == [(), ("us-federal",), (), ("none",), ("none",)]


def test_a_script_is_played_once():
    circuit = bench()
    first = simulate(circuit, Script(pressures={"reservoirs": 8e5}), 1.0)
    assert simulate(circuit, Script(pressures={"reservoirs": 8e5}), 1.0) is first
    for script, until, how in ((Script(pressures={"reservoirs": 7e5}), 1.0, {}), (Script((press("foot", 1.0, 0.0),)), 1.0, {}),
                               (Script(pressures={"reservoirs": 8e5}), 2.0, {}),
                               (Script(pressures={"reservoirs": 8e5}), 1.0, {"options": Options(exponent=1.2)})):
        assert simulate(circuit, script, until, **how) is not first
    assert simulate(replace(circuit), Script(pressures={"reservoirs": 8e5}), 1.0) is not first
    both = [simulate_many(circuit, Script(), [Variant(flow=flow)], 1.0)[0] for flow in (1.0, 0.8, 1.0)]
    assert both[0] is both[2] is not both[1]


@pytest.mark.parametrize("show", [lambda verdict: papers(verdict), lambda verdict: page(verdict)], ids=["papers", "page"])
def test_what_is_shown_is_played_once(monkeypatch, show):
    """Every problem that is put to the integrator by a check with simulations, and then to show it."""
    played, batch = [], []

    def noting(integrate):
        def noted(engine, given):
            jobs = given if isinstance(given, list) else [given]
            if not batch:
                played.append({repr((job.arrays, job.method, job.tolerance, job.start, job.pressures)) for job in jobs})
            batch.append(given)  # a batch asks for each of its own
            try:
                return integrate(engine, given)
            finally:
                batch.pop()
        return noted

    for way in ("integrate", "integrate_many"):
        monkeypatch.setattr(Compiled, way, noting(getattr(Compiled, way)))
    show(check(str(EXAMPLES / "teaching-board" / "design.air"), simulate=True))
    assert len(played) > 10
    for number, some in enumerate(played):
        assert not any(some & before for before in played[:number])
