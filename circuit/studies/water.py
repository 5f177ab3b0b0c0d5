"""How much water the compressor brings in, and where it falls out: why reservoirs are drained every day."""

from typing import NamedTuple

from circuit.declaring.traits import Trait
from circuit.gas.compressor import delivery
from circuit.gas.constants import GAS_CONSTANT
from circuit.gas.moisture import carried, condensed, saturation
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.studies.charge import charge
from circuit.studies.hands import CannotAsk
from circuit.units import ATMOSPHERE

HOT = 20.0
"""K by which the air is still warmer than its surroundings at the dryer or the first reservoir; our choice: a discharge
line that cools it well. At most 65 to 80 °C is asked for there."""
DUTY = 0.25
"""Share of an hour that the compressor works, where no round of the governor can be played; common practice, no source."""
DRIED = 0.95
"""Share of the vapour that a sound desiccant dryer takes out; about 95 % in a published comparison of dryers."""


class Water(NamedTuple):
    """kg/h with the stated duty. duty_is: where that comes from. enters: vapour taken in. before: liquid ahead of the dryer
    or first reservoir. dried: taken by the dryer, 0 without one. settles: liquid in the reservoirs once they are as cold as
    the air. stays: vapour that goes on to the valves. unserved: what settles when the dryer is worn out, or as `settles`
    without one."""

    circuit: Circuit
    temperature: float
    humidity: float
    pressure: float
    duty: float
    duty_is: str
    free_air: float
    has_dryer: bool
    enters: float
    before: float
    dried: float
    settles: float
    stays: float
    unserved: float
    notes: tuple[str, ...]


def duty_of(circuit: Circuit) -> tuple[float, str]:
    """Share of the time that the compressor works, and where it comes from: the round that `charge` plays, or practice."""
    try:
        round_ = charge(circuit).cycle
    except CannotAsk:
        round_ = None
    return (DUTY, "taken as usual") if round_ is None else (round_.duty, "as airwright charge predicts it")


def water(circuit: Circuit, temperature: float = 303.15, humidity: float = 0.6, duty: float | None = None) -> Water:
    """Condensate an hour. temperature: K of the surroundings. humidity: relative, 0 to 1. duty: 0 to 1, what is predicted
    where it is left out.

    Raises CannotAsk without a compressor.
    """
    makers = [device for device in circuit.having(Trait.COMPRESSES) if device.kind.source is not None]
    if not makers:
        raise CannotAsk("there is no compressor here: the water comes with the towing vehicle's air")
    duty, duty_is = (duty, "as asked") if duty is not None else duty_of(circuit)
    pressure = full_pressure(circuit)
    steam = humidity * saturation(temperature)
    density = (ATMOSPHERE - steam) / (GAS_CONSTANT * temperature)
    dry = 0.0
    for device in makers:
        source, settings = device.kind.source, device.settings
        assert source is not None
        dry += duty * delivery(settings[source.displacement], pressure, ATMOSPHERE, density, settings[source.clearance],
                               settings[source.efficiency])
    taken_in = carried(temperature, ATMOSPHERE, humidity)
    at_inlet = temperature + HOT
    before = condensed(taken_in, at_inlet, pressure)
    vapour = taken_in - before
    dries = bool(circuit.having(Trait.DRIES))
    removed = DRIED * vapour if dries else 0.0
    settles = condensed(vapour - removed, temperature, pressure)
    hour = 3600.0 * dry
    return Water(circuit, temperature, humidity, pressure, duty, duty_is, dry / density, dries, hour * taken_in, hour * before,
                 hour * removed, hour * settles, hour * (vapour - removed - settles),
                 hour * condensed(vapour, temperature, pressure), (
                     f"air at {at_inlet - 273.15:.0f} °C where it reaches the dryer or first reservoir; our choice",
                     f"a sound dryer takes {DRIED:.0%} of the vapour".replace("%", " %") if dries else
                     "no dryer: all that the cold reservoirs cannot carry as vapour lies in them"))
