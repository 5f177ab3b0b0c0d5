"""Every kind that is no line can be drawn by its name, to show its symbol."""

import pytest

from circuit import kinds, pipeline
from circuit.declaring.traits import Trait
from circuit.draw import svg

SHOWN = [kind for kind in kinds.every() if Trait.LINE not in kind.traits]


@pytest.mark.parametrize("kind", SHOWN, ids=lambda kind: kind.name)
def test_a_kind_shows_its_symbol(kind) -> None:  # type: ignore[no-untyped-def]
    circuit = pipeline.specimen(kind.name)
    assert circuit is not None and circuit.by_name["part"].kind is kind
    assert kind.title in svg(circuit).replace("&#x27;", "'")


def test_lines_and_strangers_have_no_specimen() -> None:
    assert pipeline.specimen("tube") is None
    assert pipeline.specimen("no-such-kind") is None
    assert len(SHOWN) > 90
