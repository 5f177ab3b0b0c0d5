"""What stands beside the schematic: a dial for each reservoir, bars and the rod for each chamber, lamps."""

from typing import Any

from circuit.declaring.traits import Trait
from circuit.gas.chamber import GIVES, PUSHES_OUT, TAKES_UP, clearance, spring_knots
from circuit.model.circuit import Circuit
from circuit.report.page.settled import kilopascals
from circuit.studies.force import RETURN_FORCE, RETURN_RATE, forces
from circuit.studies.hands import CannotAsk
from circuit.units import ATMOSPHERE

_ORDER = ("supply", "service", "parking", "auxiliary", "regeneration")


def instruments(circuit: Circuit, spaces: list[int]) -> dict[str, Any]:
    """Dials, bars, lamps and rods; pressures are gauge kPa, places are columns of `spaces`."""
    return {"dials": _dials(circuit, spaces), "bars": _bars(circuit, spaces), "lamps": _lamps(circuit, spaces),
            "wheels": _wheels(circuit)}


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


def _wheels(circuit: Circuit) -> dict[str, dict[str, Any]]:
    """What the rod of each chamber does with its pressures; Pa, N and m. gain: N m of brake torque for each N of push, tyre:
    m; None where nothing says what is pushed."""
    try:
        pushed = {each.name: each for each in forces(circuit).chambers}
    except CannotAsk:
        return {}
    found = {}
    for chamber in circuit.having(Trait.SERVICE_ACTUATOR):
        settings, own = chamber.settings, pushed[chamber.name]
        knee = spring_knots(settings) if chamber.has(Trait.SPRING_ACTUATOR) else ()
        found[chamber.name] = {
            "area": own.area, "returns": RETURN_FORCE + RETURN_RATE * settings["working-stroke"], "moves": PUSHES_OUT,
            "touches": TAKES_UP, "clearance": clearance(settings), "gives": GIVES, "stroke": settings["stroke"],
            "spring": own.spring, "from": knee[0].pressure - ATMOSPHERE if knee else None,
            "off": knee[-1].pressure - ATMOSPHERE if knee else None, "gain": own.gain, "tyre": own.tyre,
        }
    return found


def _lamps(circuit: Circuit, spaces: list[int]) -> list[dict[str, Any]]:
    found = []
    for trait, setting, word in ((Trait.WARNS_LOW, "on-below", "below"), (Trait.LIGHTS_STOP_LAMP, "on-above", "above")):
        for switch in circuit.having(trait):
            if switch.settings[setting] is not None and circuit.store(switch) in spaces:
                found.append({"name": switch.name, "at": spaces.index(circuit.store(switch)),
                              word: round((switch.settings[setting] - ATMOSPHERE) / 1e3, 1)})
    return found
