"""How far each value of a circuit may be off: what is assumed by its range, what is written as a range by that, and what is
written as one figure not at all."""

from circuit.declaring.ranges import Range, range_of
from circuit.model.devices import Device
from circuit.model.settings import between
from circuit.units import to_si

WRITTEN = "written in the design"


def plausible(device: Device, name: str) -> Range | None:
    """The range of a setting of a part; None where the design says one figure, or where it is no quantity."""
    declared, given = device.kind.setting(name), device.given.get(name)
    value = device.settings.get(name)
    if device.is_line and value is None and declared is not None and declared.usual is not None:
        return range_of(declared, device.settings)
    if declared is None or given is None or not isinstance(value, float):
        return None
    if given.assumed:
        found = range_of(declared, device.settings)
        moved = 0.0 if found is None else value - found.typical  # as hot drums move a stroke
        return found if found is None or not moved else found._replace(
            low=found.low + moved, typical=value, high=found.high + moved)
    ends = between(given.text)
    if ends is None:
        return None
    low, high = (to_si(text, "length" if declared.dimension == "bore" else declared.dimension) for text in ends)
    return Range(low, value, high, "even", WRITTEN)
