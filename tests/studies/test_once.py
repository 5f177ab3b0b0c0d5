"""A study asked twice of one circuit is worked out once; of another circuit, or asked otherwise, again."""

from dataclasses import replace

import pytest

from circuit.studies.once import once
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
