"""The study as a whole: every failure is there, the order, like faults are alike, the command."""

import json

import pytest

from circuit.cli import main
from circuit.faults.pairs import pairs
from circuit.faults.single import single
from circuit.faults.study import Rank, badness, likeness, rank
from tests.faults.studied import EXAMPLES, effect_of, study_of

TRUCK = str(EXAMPLES / "truck-6x4" / "design.air")


def test_every_failure_of_every_part_is_studied():
    found = study_of("truck-6x4")
    declared = {(device.name, failure.name) for device in found.circuit.devices for failure in device.kind.failures}
    assert {effect.fault.parts[0] for effect in found.effects if len(effect.fault.parts) == 1} == declared
    assert len(declared) > 150


def test_the_worst_comes_first():
    found = study_of("truck-6x4").effects
    assert [badness(effect) for effect in found] == sorted(badness(effect) for effect in found)
    assert rank(found[0]) < rank(found[-1]) is Rank.NOTHING


def test_faults_that_are_worked_out_once_are_alike_one_by_one():
    found = study_of("truck-6x4")
    groups: dict[object, list] = {}
    for fault in single(found.circuit):
        groups.setdefault(likeness(found.whole, fault), []).append(fault)
    checked = 0
    for like, faults in groups.items():
        if like == "nothing" or len(faults) < 2:
            continue
        one, other = (found.whole.effect(fault)._replace(fault=faults[0]) for fault in (faults[0], faults[-1]))
        assert one == other, f"{faults[0].name} and {faults[-1].name}"
        checked += 1
    assert checked > 5


def test_a_blocked_discharge_line_has_no_safety_valve():
    assert effect_of("truck-6x4", "hose pump.2 -> dryer.1: blocked").rising == "nothing"
    assert "relief" in effect_of("truck-6x4", "gov: stuck loaded").rising
    assert effect_of("truck-6x4", "pri: burst").rising == ""


def test_a_dead_chamber_and_a_broken_spring_count_without_any_change_of_pressure():
    stroke = effect_of("truck-6x4", "d1-left.can: overstroked")
    assert [each.service for each in stroke.axles] == pytest.approx([1, 0.5, 1])
    broken = effect_of("truck-6x4", "d1-left.can: spring broken")
    assert [each.parks for each in broken.axles] == pytest.approx([1, 0.5, 1])


def test_hidden_faults_come_with_the_loss_that_shows_them():
    found = {pair.first.fault.name: pair for pair in pairs(study_of("truck-6x4"))}
    check = found["pri-check: stuck open"]
    assert check.test is not None and check.test[0].fault.device == "wet" and check.test[1].place == "pri"
    assert "modulator: stuck feeding" in found and "pri-warning: dead" in found
    assert "pri: burst" not in found


def test_the_command_prints_the_table_and_data(capsys: pytest.CaptureFixture[str]):
    assert main(["faults", TRUCK]) == 0
    told = capsys.readouterr().out
    assert told.index("SOME BRAKES LOST") < told.index("HIDDEN") and "Predicted by simulation" in told
    assert main(["faults", TRUCK, "--only", "shuttle", "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["found"]["faults"] and all("shuttle" in entry["fault"]["name"] for entry in data["found"]["faults"])
    assert main(["faults", TRUCK, "--times", "--format", "csv"]) == 2 and "--times tells" in capsys.readouterr().err


def test_the_command_refuses_what_it_does_not_know(capsys: pytest.CaptureFixture[str]):
    assert main(["faults", TRUCK, "--fault", "no such thing"]) == 2
    assert "no fault is called" in capsys.readouterr().err
    assert main(["faults", TRUCK, "--fault", "pri"]) == 2
    assert "write one of them" in capsys.readouterr().err
