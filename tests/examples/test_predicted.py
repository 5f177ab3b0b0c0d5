"""The tables of charge, response and reserve that every example's folder keeps."""

import re

import pytest

from tests.designs import EXAMPLES, example_names
from tests.examples.predicted import alike, path_of, predicted

CHEAP = ("converter-dolly", "semitrailer-single", "teaching-board")
UNLIMITED = "no limit stands beside these figures"


@pytest.mark.parametrize("name", example_names())
def test_each_example_keeps_its_tables_with_their_limits_and_links_them(name: str):
    text = path_of(name).read_text(encoding="utf-8")
    assert "(predicted.txt)" in (EXAMPLES / name / "README.md").read_text(encoding="utf-8")
    assert text.startswith("Frozen") and "predicted, not measured" in text
    parts = text.split("=" * 118)[1:]
    assert [part.strip().split(":")[0] for part in parts] == ["Charging", "Response of the service brakes", "Reserve"]
    for part in parts:
        assert "asked by" in part or UNLIMITED in part
        assert re.search("Quickest and slowest|plausible vehicles|times as long|farther and less far", " ".join(part.split()))
    assert not re.search(r"\b(nan|inf|None|never)\b", text)


@pytest.mark.parametrize("name", [name if name in CHEAP else pytest.param(name, marks=pytest.mark.slow)
                                  for name in example_names()])
def test_the_frozen_tables_are_what_is_predicted_now(name: str):
    assert alike(path_of(name).read_text(encoding="utf-8"), predicted(name)) == []


def test_a_changed_figure_or_word_is_seen():
    assert not alike("reached after 0.404 s, met\n", "reached after 0.405 s, met\n")
    assert alike("reached after 0.404 s, met\n", "reached after 0.424 s, met\n")
    assert alike("reached after 0.404 s, met\n", "reached after 0.404 s, NOT MET\n")
    assert alike("one\n", "one\ntwo\n")
