"""Weather, height, engine, drums and wear, as settings of a design and as options."""

import pytest

from circuit.cli import main
from circuit.gas.constants import pressure_at
from circuit.model.conditions import Conditions, under
from circuit.studies.charge import charge
from circuit.studies.respond import respond
from tests.studies.examples import example

COLD = 253.15


@pytest.fixture(scope="module")
def board():
    return example("teaching-board")


def build(circuit):
    return charge(circuit).build.typical


def test_each_condition_does_what_it_is_known_for(board):
    usual = build(board)
    assert build(under(board, Conditions(speed=0.5))) == pytest.approx(2 * usual, rel=0.02)
    assert build(under(board, Conditions(wear=0.8))) == pytest.approx(usual / 0.8, rel=0.02)
    assert build(under(board, Conditions(boost=0.5e5))) < usual / 1.4
    # at 3,000 m the air is 0.69 as dense, and dead space costs more at the greater ratio
    high = build(under(board, Conditions(altitude=3000.0)))
    assert 1.0 / (pressure_at(3000.0) / 101325) < high / usual < 2.2


def test_cold_air_and_hot_drums_are_slower(board):
    usual = respond(board).applied[0].time
    cold, hot = (respond(under(board, each)).applied[0].time for each in (Conditions(ambient=COLD), Conditions(hot=True)))
    assert 1.02 < cold.typical / usual.typical < 1.2 and hot.typical > 1.05 * usual.typical
    assert hot.value > usual.value and cold.value > usual.value
    assert not any("temperature" in cause.what for cause in cold.causes)


def test_gauges_are_read_from_the_air_around(board):
    high = respond(under(board, Conditions(altitude=3000.0)))
    assert high.start == respond(board).start and high.traces[0].pressure("dry", 0.0) == pytest.approx(high.start, abs=10.0)
    assert high.complete and all(each.time.value is not None for each in high.applied)
    assert any("3000 m above the sea" in note for note in high.notes)


def test_an_option_says_what_a_design_would(tmp_path, capsys):
    design = tmp_path / "design.air"
    text = example("teaching-board").source.text
    design.write_text(text.replace("class truck", "class truck, ambient -20 °C, drums hot", 1), encoding="utf-8")
    plain = tmp_path / "plain.air"
    plain.write_text(text, encoding="utf-8")
    said = []
    for words in ([str(design)], [str(plain), "--ambient=-20 °C", "--drums", "hot"]):
        main(["respond", *words, "--runs", "20"])
        said.append(capsys.readouterr().out.partition("\n")[2])
    assert said[0] == said[1] and "below freezing" in " ".join(said[0].split())
    assert main(["respond", str(plain), "--altitude", "3000 psi"]) == 2
    assert main(["respond", str(plain), "--altitude", "6000 m"]) == 2
