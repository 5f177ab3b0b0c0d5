"""What a test driver's foot and a test rig do to a circuit, whatever its parts are called."""

from dataclasses import replace

from circuit.declaring.traits import Trait
from circuit.model.air import full_pressure
from circuit.model.circuit import Circuit
from circuit.model.devices import Device
from circuit.sim import Action, Rig, Script, feed, move
from circuit.units import ATMOSPHERE

PSI = 6894.757293168361
FOOT = 0.1
"""s that a foot takes over the whole travel of a pedal in a hard application; common practice."""
RIG_VALVE = 6.3e-8
"""m3/(s Pa) of a test rig's control valve: it fills 50 in3 from nothing to 60 psi in 0.06 s and empties it from 95 to 5
psi in 0.20 s. The curves that 571.121 asks of a rig, about 0.06 and 0.22 s, are from memory."""


class CannotAsk(ValueError):
    """The question has no answer for this circuit; the text says why."""


def pedals(circuit: Circuit) -> tuple[tuple[Device, str], ...]:
    """Every part that the driver's foot works, with the state variable that it moves."""
    return tuple((device, variable) for device in circuit.devices if not device.has(Trait.COUPLES_VEHICLES)
                 for variable in device.kind.when.get("braking", {}))


def fed_heads(circuit: Circuit, line: str) -> tuple[Device, ...]:
    """The coupling heads of a line that a towing vehicle outside the drawing feeds."""
    situation = "driving" if line == "supply" else "braking"
    return tuple(head for head in circuit.having(Trait.COUPLES_VEHICLES) if head.settings["line"] == line
                 and head.kind.feeds(head.settings, situation))


def tail_heads(circuit: Circuit, line: str) -> tuple[Device, ...]:
    """The heads of a line to a vehicle behind that is not in the drawing."""
    return tuple(head for head in circuit.having(Trait.COUPLES_VEHICLES)
                 if head.settings["line"] == line and head.settings["end"] == "rear"
                 and not head.settings["joined"] and not head.settings["capped"] and not head.settings["loose"])


def share_for(device: Device, pressure: float) -> float:
    """How far a pedal is pressed for a demand, absolute Pa; all the way where the part does not say."""
    full = device.settings.get("full-delivery")
    if full is None or full <= ATMOSPHERE:
        return 1.0
    return float(min(1.0, max(0.0, (pressure - ATMOSPHERE) / (full - ATMOSPHERE))))


def asking(circuit: Circuit, demand: float | None) -> Circuit:
    """The circuit with pedals that are pressed only so far while braking. demand: absolute Pa; None is all the way."""
    if demand is None:
        return circuit
    share: dict[str, dict[str, float]] = {}
    for device, variable in pedals(circuit):
        share.setdefault(device.name, {})[variable] = share_for(device, demand)
    return replace(circuit, devices=tuple(
        device._replace(kind=device.kind._replace(when={
            **device.kind.when, "braking": {**device.kind.when["braking"], **share[device.name]}}))
        if device.name in share else device for device in circuit.devices))


def apply(circuit: Circuit, at: float, demand: float | None = None, over: float = FOOT,
          valve: float = RIG_VALVE, rig: float | None = None) -> tuple[Action, ...]:
    """Every pedal down, and every control head fed by a rig. demand: absolute Pa asked of pedals; None is all of it.

    over: s of the foot over its whole travel. rig: absolute Pa behind the rig's valve; as `demand` where it is None.
    Raises CannotAsk where there is neither a pedal nor a control head.
    """
    actions = [move(device.name, variable, 1.0 if demand is None else share_for(device, demand), at, over)
               for device, variable in pedals(circuit)]
    for head in fed_heads(circuit, "control"):
        pressure = rig if rig is not None else demand
        if pressure is None:
            raise ValueError("a rig needs a pressure")
        actions.append(feed(head.name, pressure, at, 0.0, valve))
    if not actions:
        raise CannotAsk("nothing here applies the service brakes: there is no pedal, and no control head that is fed")
    return tuple(actions)


def let_go(circuit: Circuit, at: float, over: float = FOOT, valve: float = RIG_VALVE) -> tuple[Action, ...]:
    """Every pedal up, and every rig's valve open to the air."""
    actions = [move(device.name, variable, 0.0, at, over) for device, variable in pedals(circuit)]
    return (*actions, *(feed(head.name, ATMOSPHERE, at, 0.0, valve) for head in fed_heads(circuit, "control")))


def parking(circuit: Circuit) -> tuple[tuple[Device, str, float, float], ...]:
    """Every knob and lever that parks: its device and variable, and their values parked and released."""
    return tuple((device, variable, parked, device.kind.rest[variable]) for device in circuit.devices
                 if device.kind.traits & {Trait.PARK_CONTROL, Trait.PROTECTS_TOWING}
                 for variable, parked in device.kind.when.get("parked", {}).items())


def park(circuit: Circuit, at: float) -> tuple[Action, ...]:
    """Every park control applied, and every supply line that comes from outside let down to the open air."""
    actions = [move(device.name, variable, parked, at) for device, variable, parked, _ in parking(circuit)]
    return (*actions, *(feed(head.name, ATMOSPHERE, at) for head in fed_heads(circuit, "supply")))


def unpark(circuit: Circuit, at: float) -> tuple[Action, ...]:
    """Every park control released, and every supply line from outside filled again."""
    actions = [move(device.name, variable, released, at) for device, variable, _, released in parking(circuit)]
    return (*actions, *(feed(head.name, full_pressure(circuit), at) for head in fed_heads(circuit, "supply")))


def standing(circuit: Circuit, reservoirs: float, *actions: Action, rigs: tuple[Rig, ...] = ()) -> Script:
    """A script that starts with brakes released, reservoirs at a pressure and supply heads fed with it, absolute Pa."""
    pressures = {"reservoirs": reservoirs, **{head.name: reservoirs for head in fed_heads(circuit, "supply")}}
    return Script(tuple(actions), pressures=pressures, rigs=rigs)
