"""The fault study of an example, worked out once for all tests, and its figures in bar above atmosphere."""

from functools import cache
from pathlib import Path

from circuit.faults.effect import Axle, Effect
from circuit.faults.play import Played, play
from circuit.faults.study import Study, study
from circuit.pipeline import load
from circuit.units import ATMOSPHERE

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


@cache
def study_of(name: str) -> Study:
    return study(load(str(EXAMPLES / name / "design.air")))


@cache
def studied_played(name: str) -> list[Played]:
    """Every fault of an example as the simulation plays it, the engine off and the pedal all the way down."""
    found = study_of(name)
    return play(found, found.effects)


def effect_of(name: str, fault: str) -> Effect:
    """The effect of the fault of exactly that name."""
    return next(effect for effect in study_of(name).effects if effect.fault.name == fault)


def bar(pressure: float) -> float:
    return round((pressure - ATMOSPHERE) / 1e5, 2)


def keeps(effect: Effect) -> dict[str, float]:
    """What each reservoir but the dryer's keeps, driving or braking, whichever is less."""
    return {tank.name: bar(min(tank.driving, tank.braking)) for tank in effect.tanks if tank.role != "regeneration"}


def axle(effect: Effect, name: str) -> Axle:
    return next(each for each in effect.axles if each.name == name)
