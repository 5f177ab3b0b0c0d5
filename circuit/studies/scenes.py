"""What is done to watch a circuit brake and park, and what that is called: with a pedal and a knob, or by the lines of a
towing vehicle."""

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.sim import Action, pull, uncouple
from circuit.studies import hands


def park(circuit: Circuit, at: float) -> tuple[Action, ...]:
    """Every park control out; on a towed vehicle the supply line parts."""
    knobs = [device for device in circuit.having(Trait.PARK_CONTROL) if device.kind.when.get("parked")]
    if knobs:
        return tuple(pull(device.name, at) for device in knobs)
    return tuple(uncouple(head.name, at) for head in hands.fed_heads(circuit, "supply"))


def parking_words(circuit: Circuit) -> str:
    """What `park` does, in words."""
    knobs = any(device.kind.when.get("parked") for device in circuit.having(Trait.PARK_CONTROL))
    return "park control pulled" if knobs else "supply line off"


def brake_words(circuit: Circuit) -> tuple[str, str]:
    """What puts the service brakes on and lets them go, in words."""
    return ("pedal down", "pedal up") if hands.pedals(circuit) else ("control line fed", "control line emptied")
