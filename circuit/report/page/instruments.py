"""What stands beside the schematic: a dial for each reservoir, bars for each chamber, what hands and feet do, lamps."""

from typing import Any

from circuit.declaring.traits import Trait
from circuit.model.circuit import Circuit
from circuit.model.trace import Trace
from circuit.report.page.settled import kilopascals
from circuit.studies.hands import pedals
from circuit.units import ATMOSPHERE

_ORDER = ("supply", "service", "parking", "auxiliary", "regeneration")


def instruments(circuit: Circuit, spaces: list[int]) -> dict[str, Any]:
    """Dials, bars, controls and lamps; pressures are gauge kPa, places are columns of `spaces`."""
    return {"dials": _dials(circuit, spaces), "bars": _bars(circuit, spaces), "controls": _controls(circuit),
            "lamps": _lamps(circuit, spaces), "engine": bool(circuit.having(Trait.COMPRESSES))}


def _dials(circuit: Circuit, spaces: list[int]) -> list[dict[str, Any]]:
    warned = {circuit.store(switch): switch.settings["on-below"] for switch in circuit.having(Trait.WARNS_LOW)}
    found = []
    for tank in sorted(circuit.reservoirs, key=lambda tank: _ORDER.index(tank.settings["role"])):
        space = circuit.store(tank)
        low = warned.get(space)
        found.append({"name": tank.name, "role": tank.settings["role"], "at": spaces.index(space),
                      "warns": None if low is None else kilopascals(low)})
    return found


def _bars(circuit: Circuit, spaces: list[int]) -> list[dict[str, Any]]:
    place = {axle.name: axle.position for axle in circuit.axles}
    found = []
    for chamber in sorted(circuit.having(Trait.SERVICE_ACTUATOR), key=lambda c: place.get(c.settings["axle"], 99)):
        sprung = chamber.has(Trait.SPRING_ACTUATOR)
        found.append({
            "name": chamber.name, "axle": chamber.settings["axle"], "side": chamber.settings["side"],
            "service": spaces.index(circuit.service_space(chamber)),
            "spring": spaces.index(circuit.spring_space(chamber)) if sprung else None,
            "off": kilopascals(chamber.settings["holds-off-at"]) if sprung else None,
        })
    return found


def _controls(circuit: Circuit) -> list[dict[str, Any]]:
    """Pedals and knobs with how they stand in each situation."""
    rows = [(device, variable, "pedal") for device, variable in pedals(circuit)]
    rows += [(device, variable, "knob") for device in circuit.having(Trait.PARK_CONTROL)
             for variable in device.kind.when.get("parked", {})]
    found = []
    for device, variable, what in rows:
        stands = {key: device.kind.when.get(key, {}).get(variable, device.kind.rest.get(variable, 0.0))
                  for key in ("parked", "driving", "braking")}
        which = "" if variable in ("pedal", "pushed") else variable.removesuffix("-pushed")
        found.append({"key": f"{device.name} {variable}", "name": device.name, "what": what, "variable": which,
                      "stands": stands})
    return found


def _lamps(circuit: Circuit, spaces: list[int]) -> list[dict[str, Any]]:
    found = []
    for trait, setting, word in ((Trait.WARNS_LOW, "on-below", "below"), (Trait.LIGHTS_STOP_LAMP, "on-above", "above")):
        for switch in circuit.having(trait):
            if switch.settings[setting] is not None and circuit.store(switch) in spaces:
                found.append({"name": switch.name, "at": spaces.index(circuit.store(switch)),
                              word: round((switch.settings[setting] - ATMOSPHERE) / 1e3, 1)})
    return found


def states(trace: Trace) -> dict[str, list[list[float]]]:
    """How each pedal and knob stands over time: changes as [s, value], under the keys of the controls."""
    return {control["key"]: [[round(time, 3), round(value, 3)] for time, value in history]
            for control in _controls(trace.circuit)
            if (history := trace.states.get(tuple(control["key"].rsplit(" ", 1))))}
