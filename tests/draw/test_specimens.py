"""Every kind that is no line can be drawn by its name, to show its symbol."""

import pytest

from circuit import kinds
from circuit.declaring.traits import Trait
from circuit.draw import svg
from circuit.pipeline import load_source
from circuit.report.specimen import specimen

SHOWN = [kind for kind in kinds.every() if Trait.LINE not in kind.traits]


@pytest.mark.parametrize("kind", SHOWN, ids=lambda kind: kind.name)
def test_a_kind_shows_its_symbol(kind) -> None:  # type: ignore[no-untyped-def]
    source = specimen(kind.name)
    assert source is not None
    circuit = load_source(source)
    assert circuit.by_name["part"].kind is kind
    assert kind.title in svg(circuit).replace("&#x27;", "'")


def test_lines_and_strangers_have_no_specimen() -> None:
    assert specimen("tube") is None
    assert specimen("no-such-kind") is None
    assert len(SHOWN) > 90
