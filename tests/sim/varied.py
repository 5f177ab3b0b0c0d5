"""Circuits like the examples that nobody drew: lengths, sizes of tube, volumes and flows by a seed."""

from random import Random

from circuit.sim import Variant
from circuit.sim.variants import with_settings

METRIC = ("6x1", "8x1", "10x1.5", "12x1.5", "16x2")
INCH = ("1/4", "3/8", "1/2", "5/8")


def varied(circuit, seed):
    """The circuit with each line a fifth to five times as long and of any size, volumes a third to three times as large,
    and valves that let 1 to 40 L/(s bar) through."""
    random = Random(seed)
    changed = {}
    for device in circuit.devices:
        settings = device.settings
        if device.is_line and "size" in settings:
            changed[device.name, "length"] = settings["length"] * 5 ** random.uniform(-1, 1)
            changed[device.name, "size"] = random.choice(METRIC if "x" in str(settings["size"]) else INCH)
        if not device.is_line and settings.get("conductance"):
            changed[device.name, "conductance"] = 1e-8 * 40 ** random.random()
        if settings.get("volume"):
            changed[device.name, "volume"] = settings["volume"] * 3 ** random.uniform(-1, 1)
    return with_settings(circuit, Variant(settings=changed))
