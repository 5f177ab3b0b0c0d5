"""Correct designs of other shapes than the examples have no finding. The benchmark `single_edits --on shapes` spoils them."""

import pytest

from circuit.pipeline import load_source
from circuit.source import Source
from circuit.verdict.judge import judge
from tests.shapes import shape


@pytest.mark.parametrize("seed", range(12))
def test_a_correct_design_has_no_finding(seed: int) -> None:
    verdict = judge(load_source(Source(f"shape-{seed}.air", shape(seed))))
    assert [(one.rule.name, one.answer.says) for one in verdict.findings] == []


def test_the_shapes_are_many() -> None:
    texts = {shape(seed) for seed in range(60)}
    heads = {text.split("\n")[0] for text in texts}
    assert len(texts) == 60
    assert len(heads) == 6
