"""Under which conditions a circuit is played: the weather, the height, the engine, hot drums, a worn compressor."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, NamedTuple

from circuit.declaring.kind import Setting
from circuit.declaring.following import following
from circuit.declaring.traits import Trait

CONDITIONS = (
    Setting("ambient", "temperature", "temperature of the air, around it and in it; 20 °C where nothing is written",
            within=("-60 °C", "60 °C")),
    Setting("altitude", "height", "height above the sea; at the sea where nothing is written", within=("0 m", "5500 m")),
    Setting("engine-speed", "fraction", "speed of the compressor, of the one its displacement is stated at",
            within=("20 %", "200 %")),
    Setting("boost", "difference", "pressure at the compressor's inlet where it breathes from the charged side of the engine",
            within=("0.01 bar", "3 bar")),
    Setting("wear", "fraction", "share of its delivery that wear leaves the compressor", within=("20 %", "100 %")),
    Setting("drums", "word", "hot ones have grown, so that the rods travel 0.4 in farther", choices=("cold", "hot")),
)
"""What a design may say of them, and every study's options."""
GROWN = 0.4 * 0.0254
"""m by which a push rod travels farther on hot drums; from memory, 0.3 to 0.5 in."""
FREEZING = 273.15


class Conditions(NamedTuple):
    """ambient: K, None where nothing is said. altitude: m. speed, wear: shares of the stated speed and delivery. boost: Pa at
    the compressors' inlet. hot: whether the drums are."""

    ambient: float | None = None
    altitude: float = 0.0
    speed: float = 1.0
    boost: float = 0.0
    wear: float = 1.0
    hot: bool = False

    @property
    def told(self) -> tuple[str, ...]:
        """What is not usual, in words."""
        found = [f"the air is at {self.ambient - FREEZING:.0f} °C"] if self.ambient is not None else []
        found += [f"{self.altitude:.0f} m above the sea"] if self.altitude else []
        found += [f"the compressor turns at {100 * self.speed:.0f} % of its stated speed"] if self.speed != 1.0 else []
        found += [f"it breathes air of {self.boost / 1e5:.2f} bar from the charged side"] if self.boost else []
        found += [f"wear leaves it {100 * self.wear:.0f} % of its delivery"] if self.wear != 1.0 else []
        found += ["the drums are hot: every rod travels 0.4 in farther"] if self.hot else []
        cold = self.ambient is not None and self.ambient < FREEZING
        return (*found, *(["below freezing any water in drains, valves and lines is ice: what freezes shut is not played here, "
                           "see `faults` for parts that are iced"] if cold else []))


def conditions(values: Mapping[str, Any]) -> Conditions:
    """Of the values of `CONDITIONS`."""
    plain = {"altitude": values["altitude"], "speed": values["engine-speed"], "boost": values["boost"], "wear": values["wear"]}
    return Conditions(values["ambient"], hot=values["drums"] == "hot",
                      **{name: value for name, value in plain.items() if value is not None})


def under(circuit: Any, asked: Conditions) -> Any:
    """A circuit under conditions. Its drums are not cooled again where it says itself that they are hot."""
    before = circuit.vehicle.conditions
    devices = on_hot_drums(circuit.devices) if asked.hot and not before.hot else circuit.devices
    return replace(circuit, vehicle=circuit.vehicle._replace(conditions=asked._replace(hot=asked.hot or before.hot)),
                   devices=devices)


def on_hot_drums(devices: tuple[Any, ...]) -> tuple[Any, ...]:
    """Chambers whose rods travel farther, as far as they can."""
    found = []
    for device in devices:
        stroke, full = device.settings.get("working-stroke"), device.settings.get("stroke")
        if Trait.SERVICE_ACTUATOR in device.kind.traits and stroke and full and "slack-length" in device.settings:
            settings = {**device.settings, "working-stroke": min(stroke + GROWN, 0.98 * full)}
            device = device._replace(settings={**settings, **following(device.kind, settings)})
        found.append(device)
    return tuple(found)
