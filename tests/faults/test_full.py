"""What a reservoir was filled to is told as that, in the JSON of a story as at rest."""

import pytest

from circuit.faults.outcome import outcomes
from circuit.faults.record import singles
from circuit.report.data import data
from tests.faults.studied import bar, effect_of, study_of


def test_full_is_what_it_was_filled_to_and_sound_what_is_left_of_it_without_the_fault():
    study = study_of("truck-6x4")
    effect = effect_of("truck-6x4", "pri: burst")
    (found,) = outcomes(study, [effect])
    for tank, at_rest in zip(found.seen.tanks, effect.tanks):
        assert tank.full == pytest.approx(at_rest.full, abs=0.02e5)
        if tank.role == "service":
            assert tank.sound < tank.full - 0.2e5, "the stop has cost air without the fault too"
    (told,) = data(singles([found]))
    shown = {tank["name"]: bar(tank["full"]) for tank in told["stop"]["tanks"]}
    assert shown == pytest.approx({tank.name: bar(tank.full) for tank in effect.tanks}, abs=0.02)
