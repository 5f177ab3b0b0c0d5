"""Advice against trying everything, and on designs that are spoilt by hand."""

from itertools import combinations
from pathlib import Path
from random import Random

import pytest

from circuit import cli
from circuit.model.circuit import Circuit
from circuit.pipeline import load_source
from circuit.source import Source
from circuit.verdict.advice import Advised, _Search, advise
from circuit.verdict.judge import Verdict, judge
from circuit.studies.ordering import line_mass
from circuit.verdict.trade_changes import Change, cost, of_air, of_lines
from tests.designs import EXAMPLES, example_text

NAME = str(EXAMPLES / "truck-6x4" / "design.air")


def built(*changes: tuple[str, str], rows: tuple[str, ...] = ()) -> Circuit:
    text = example_text("truck-6x4")
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    return load_source(Source(NAME, "\n".join((text, *rows, ""))))


@pytest.fixture(scope="module")
def sound() -> Verdict:
    return judge(built())


SMALL_TANK = ("reservoir pri: volume 50 L", "reservoir pri: volume 30 L")


def advised(*changes: tuple[str, str], prices: dict[str, float] | None = None) -> Advised:
    """By the drawing alone, without simulation."""
    return advise(judge(built(*changes)), lambda rows: built(*changes, rows=tuple(rows)), judge, prices or {})


def test_a_volume_that_is_missed_gets_the_lightest_tank_that_does():
    found = advised(SMALL_TANK)
    assert [change.rows for change in found.changes] == [("set wet: volume 30 L",)]
    assert found.exact and not found.left and [each.rule for each in found.healed] == ["reservoirs-too-small"]
    assert not judge(built(SMALL_TANK, rows=found.rows)).findings


def test_prices_of_the_shop_decide_where_there_are_any():
    prices = {f"reservoir {litres} L": 100.0 for litres in (5, 10, 15, 20, 25, 30, 60, 80, 100)} | {
        "reservoir 40 L": 10.0, "reservoir 50 L": 11.0}
    assert [change.rows for change in advised(SMALL_TANK, prices=prices).changes] == [("set wet: volume 40 L",)]


def test_a_setting_is_put_to_its_limit():
    found = advised(("governor gov: cut-in 7.2 bar, cut-out 8.6 bar", "governor gov: cut-in 6.6 bar, cut-out 8.6 bar"))
    assert found.rows and all(row.startswith("set gov: cut-in ") for row in found.rows) and not found.left


def test_where_nothing_helps_nothing_is_advised():
    found = advised(("drain wet-drain: on wet, placed lowest\n", ""))
    assert found.changes == () and [each.rule for each in found.left] == ["reservoir-without-drain"]
    assert found.unsearched == ("reservoir-without-drain at wet",)


def test_nothing_is_missed_nothing_is_advised():
    found = advised()
    assert not found.missed and not found.changes


@pytest.mark.parametrize("seed", range(50))
def test_the_search_is_as_cheap_as_trying_everything(seed: int, sound: Verdict, monkeypatch: pytest.MonkeyPatch):
    """Made-up designs with up to four things of three sizes each, not monotone: a size may do worse than the one before."""
    draw = Random(seed)
    options = [Change(f"thing {thing}", (f"{thing} {size}",), "", 1, draw.uniform(1, 9), 0.0, ())
               for thing in range(draw.randint(2, 4)) for size in range(3)]
    helps = {change.rows[0]: draw.uniform(-0.3, 0.7) for change in options}
    need = draw.uniform(0.3, 1.6)

    def short(chosen: frozenset[int]) -> float:
        return max(0.0, need - sum(helps[options[n].rows[0]] for n in chosen))

    search = _Search(sound, lambda rows: sound.circuit, {}, options, ("no-such-rule",), False)
    monkeypatch.setattr(search.__class__, "short", lambda self, chosen: short(chosen))
    search.tried = 0
    every = [frozenset(some) for size in range(1, 5) for some in combinations(range(len(options)), size)
             if len({options[n].of for n in some}) == size and short(frozenset(some)) == 0.0]
    found = search.found()
    assert bool(found) == bool(every)
    if every:
        best = min(cost((options[n] for n in some), {}) for some in every)
        assert cost(found[0], {}) == best


def test_changes_of_lines_are_rows_that_can_be_followed():
    circuit = built()
    for change in of_lines(circuit, ["foot.21 -> rear-relay.4", "rear-relay.2 -> d1-left.service"]):
        built(rows=change.rows)
    words = [change.says for change in of_lines(circuit, ["foot.21 -> rear-relay.4"])]
    assert any(says.startswith("a relay-valve into tube foot.21 -> rear-relay.4") for says in words)
    assert any("in 1/2 in instead of 3/8 in" in says for says in words)
    assert all(built(rows=change.rows) for change in of_air(circuit))


def test_what_a_tube_weighs_worked_by_hand():
    """12x1.5 in polyamide: pi / 4 * (12^2 - 9^2) mm2 * 1030 kg/m3 = 0.051 kg a metre."""
    assert line_mass("12x1.5", 1.0) == pytest.approx(0.05096, abs=1e-4)


@pytest.mark.slow
def test_the_command_finds_the_trucks_own_sizes_again(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    text = example_text("truck-6x4").replace("foot.22 -> front-release.1: size 3/8 in", "foot.22 -> front-release.1: size 1/4 in")
    (tmp_path / "d.air").write_text(text, encoding="utf-8")
    assert cli.main(["advise", str(tmp_path / "d.air")]) == 0
    said = capsys.readouterr().out
    assert "set foot.22 -> front-release.1: size 3/8 in" in said and "all that is missed is met, as predicted" in said


def test_a_price_list_with_a_slip_is_refused_at_its_row(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    (tmp_path / "p.csv").write_text("item,price\ntube 1/2 in,cheap\n", encoding="utf-8")
    assert cli.main(["advise", NAME, "--prices", str(tmp_path / "p.csv")]) == 2
    assert "p.csv:2:1: this row has no price" in capsys.readouterr().err
