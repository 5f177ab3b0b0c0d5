"""What a page tells of each part when it is pointed at: kind, purpose, settings and their origin, ports and spaces."""

from typing import Any

from circuit.declaring.traits import Role
from circuit.draw.text import line_label
from circuit.model.circuit import Circuit
from circuit.model.devices import SPACE_OUTSIDE, Device
from circuit.report.situations import pressure_words, unit_of


def parts(circuit: Circuit) -> dict[str, dict[str, Any]]:
    """Every part and line by name."""
    return {device.name: _part(circuit, device) for device in circuit.devices}


def kinds(circuit: Circuit) -> dict[str, dict[str, Any]]:
    """What all parts of a kind have in common, by its title. failures: name, what is seen, whether it works nothing then."""
    return {kind.title: {"does": kind.purpose, "failures": [[failure.name, failure.says, bool(failure.idle)]
                                                            for failure in kind.failures]}
            for kind in (device.kind for device in circuit.devices)}


def _part(circuit: Circuit, device: Device) -> dict[str, Any]:
    settings = [[name, given.text.strip('"'), given.source if given.assumed else ""]
                for name, given in device.given.items() if device.settings.get(name) is not None]
    ports = []
    for port in device.kind.ports:
        space = circuit.space.get((device.name, port.number))
        if space is None:
            continue
        word = port.words[0] if port.words else port.role.value
        if (device.name, port.number) in circuit.plugged:
            word += ", plugged"
        elif space == SPACE_OUTSIDE:
            word = "exhaust" if port.role is Role.EXHAUST else f"{word}, open to the air"
        ports.append([port.number, word, space])
    about = {"kind": device.kind.title, "settings": settings, "ports": ports}
    if device.ends is not None:
        about["from"], about["to"] = (circuit.port_name(key) for key in device.ends)
        about["label"] = line_label(device)
    return about


__all__ = ["parts", "pressure_words", "unit_of"]
